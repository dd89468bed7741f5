"""Run the server: uvicorn, with a log that holds no secret."""

import logging

import uvicorn

from curriculum.server.app import application, club_application
from curriculum.server.clubsite import ClubSite
from curriculum.server.site import Site

MOST_AT_ONCE = 600
"""Requests that are served at the same time; more are told to come back."""


def run(place: Site | ClubSite, host: str, port: int) -> None:
    """Serve a season, or a club with all its seasons, until it is stopped."""
    logging.basicConfig(level=logging.INFO, format="%(asctime)s %(message)s")
    # Its own log would write down addresses, and addresses of calendars are secrets.
    uvicorn.run(
        application(place) if isinstance(place, Site) else club_application(place),
        host=host,
        port=port,
        access_log=False,
        log_level="warning",
        server_header=False,
        date_header=True,
        proxy_headers=place.public is not None,
        limit_concurrency=MOST_AT_ONCE,
        timeout_keep_alive=15,
        timeout_graceful_shutdown=5,
    )
