"""The applications: which address leads to which page, of one season or of a club's."""

import threading
from collections.abc import Sequence

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import BaseRoute, Mount, Route
from starlette.types import Receive, Scope, Send

from curriculum.server.clubsite import ClubSite
from curriculum.server.endpoints import keyed, open_to_all
from curriculum.server.feeds import Feeds
from curriculum.server.guard import Guard, headers_of
from curriculum.server.limits import Limiters
from curriculum.server.pages import (
    calendars,
    club,
    edit,
    entrance,
    insight,
    plan,
    practice,
    prints,
    season,
    skills,
)
from curriculum.server.replanning import Planner
from curriculum.server.site import Place, Site

GET, POST = ["GET"], ["POST"]

DOORS = [
    Route("/static/{mark}/{name}", entrance.asset, methods=GET),
    Route("/worker.js", entrance.worker, methods=GET),
    Route("/robots.txt", entrance.robots, methods=GET),
    Route("/sign-in", open_to_all(entrance.entrance), methods=GET),
    Route("/sign-in", open_to_all(entrance.sign_in), methods=POST),
    Route("/session", open_to_all(entrance.session), methods=GET),
    Route("/sign-out", keyed(entrance.sign_out), methods=POST),
]
"""What a season and a club have in common."""

ROUTES = [
    Route("/f/{token}.ics", calendars.calendar, methods=GET),
    Route("/f/{token}", open_to_all(calendars.subscribe), methods=GET),
    *DOORS,
    Route("/", keyed(season.season), methods=GET),
    Route("/practice/{practice}", keyed(practice.practice), methods=GET),
    Route("/practice/{practice}/record", keyed(practice.record), methods=GET),
    Route("/practice/{practice}/record", keyed(practice.save), methods=POST),
    Route("/practice/{practice}/recorded", keyed(practice.recorded), methods=GET),
    Route("/practice/{practice}/conflict/{client}", keyed(practice.conflict), methods=GET),
    Route("/practice/{practice}/sheet.pdf", keyed(prints.sheet), methods=GET),
    Route("/skills", keyed(skills.skills), methods=GET),
    Route("/skills/{skill}", keyed(skills.skill), methods=GET),
    Route("/progress", keyed(insight.progressing), methods=GET),
    Route("/load", keyed(insight.loading), methods=GET),
    Route("/plan", keyed(plan.plan), methods=GET),
    Route("/plan/propose", keyed(plan.propose), methods=POST),
    Route("/plan/accept", keyed(plan.take), methods=POST),
    Route("/plan/drop", keyed(plan.drop), methods=POST),
    Route("/edit", keyed(edit.overview), methods=GET),
    Route("/edit/season", keyed(edit.frame), methods=POST),
    Route("/edit/{table}", keyed(edit.change), methods=POST),
    Route("/prints", keyed(prints.listing), methods=GET),
    Route("/prints/record.csv", keyed(prints.record_table), methods=GET),
    Route("/prints/record.json", keyed(prints.record_data), methods=GET),
    Route("/prints/{name}", keyed(prints.whole), methods=GET),
    Route("/calendars", keyed(calendars.listing), methods=GET),
    Route("/calendars/new", keyed(calendars.give_out), methods=POST),
    Route("/calendars/rotate", keyed(calendars.rotate), methods=POST),
    Route("/calendars/end", keyed(calendars.take_back), methods=POST),
]


CLUB_ROUTES = [
    *DOORS,
    Route("/", keyed(club.teams), methods=GET),
    Route("/week", keyed(club.week), methods=GET),
    Route("/risks", keyed(club.risks), methods=GET),
]


def application(site: Site, inside: Limiters | None = None) -> Starlette:
    """Return the application that serves a season.

    inside: what the club's application around it counts with; that one guards it too.
    """
    app = _application(site, ROUTES, inside or Limiters(), guarded=inside is None)
    app.state.feeds = Feeds(site)
    app.state.planner = Planner(site)
    return app


def club_application(house: ClubSite) -> Starlette:
    """Return the application that serves a club: its own pages, and below them its seasons."""
    limiters = Limiters()
    seasons = Mount("/team/{team}", Seasons(house, limiters))
    return _application(house, [*CLUB_ROUTES, seasons], limiters, guarded=True)


class Seasons:
    """Hands a request over to the season of the team that its address names.

    The name is looked up among the club's teams; only the folder of one of them is ever opened.
    """

    def __init__(self, house: ClubSite, limiters: Limiters) -> None:
        self.house = house
        self.limiters = limiters
        self._begun: dict[str, Starlette] = {}
        self._beginning = threading.Lock()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Serve one request."""
        name = scope["path_params"]["team"]
        if not self.house.has(name):
            await _no_page(Request(scope), HTTPException(404))(scope, receive, send)
            return
        app = self._begun.get(name)
        if app is None:
            app = await run_in_threadpool(self.season, name)
        await app(scope, receive, send)

    def season(self, team: str) -> Starlette:
        """Return the application of a team's season, the same one every time."""
        with self._beginning:
            if team not in self._begun:
                self._begun[team] = application(self.house.site(team), self.limiters)
            return self._begun[team]


def _application(
    place: Place, routes: Sequence[BaseRoute], limiters: Limiters, *, guarded: bool
) -> Starlette:
    secure = (place.public or "").startswith("https:")

    def broken(_: Request, __: Exception) -> Response:
        # This answer is given outside the guard, which would else have set them.
        words = "Something broke here. The log says what; try again.\n"
        return PlainTextResponse(words, 500, headers_of(secure=secure))

    app = Starlette(
        routes=routes,
        middleware=[Middleware(Guard, secure=secure)] if guarded else [],
        exception_handlers={HTTPException: _no_page, Exception: broken},
    )
    app.state.place = place
    app.state.unknown = limiters.unknown
    app.state.sign_in = limiters.sign_in
    app.state.sign_in_all = limiters.sign_in_all
    return app


def _no_page(_: Request, fault: Exception) -> Response:
    status = fault.status_code if isinstance(fault, HTTPException) else 404
    words = {404: "There is no such page.", 405: "This page is not asked for like this."}
    return PlainTextResponse(f"{words.get(status, 'This cannot be done.')}\n", status)
