"""Calendar addresses: the calendars themselves, the page that helps to subscribe, and the list."""

import datetime as dt
import io
import urllib.parse
from collections.abc import Mapping
from email.utils import format_datetime, parsedate_to_datetime
from typing import Any

import segno
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response

from curriculum.outputs.ical.entries import Audience
from curriculum.server import addresses
from curriculum.server.addresses import Feed
from curriculum.server.feeds import Feeds, Sent, view_of
from curriculum.server.limits import Limiter
from curriculum.server.packing import takes_gzip
from curriculum.server.pages.season import outdated
from curriculum.server.site import Site
from curriculum.server.visits import RefusedError, Visit

RETRY = 600
"""Seconds after which a calendar program may ask again when there is nothing to send."""
LONGEST_LABEL = 60
FILE_NAMES: Mapping[Audience, str] = {"coach": "coach.ics", "families": "families.ics"}


async def calendar(request: Request) -> Response:
    """Serve a calendar to whoever has its address.

    It looks at no Accept header, cookie or program's name: calendar programs send what they like.
    """
    site: Site = request.app.state.place
    feeds: Feeds = request.app.state.feeds
    unknown: Limiter = request.app.state.unknown
    feed = addresses.feed(site.state, request.path_params["token"])
    if feed is None:
        wait = unknown.wait(request.client.host if request.client else "")
        return _no(429 if wait else 404, "no calendar has this address", wait)
    if feed.ended is not None:
        return _no(410, "this calendar was taken back; ask the coach for a new address")
    view = view_of(request.query_params.get("alarm", ""), request.query_params.get("cancelled", ""))
    sent = feeds.ready(feed.audience, view)
    if sent is None:
        sent = await run_in_threadpool(feeds.current, feed.audience, view)
    if sent is None:
        return _no(503, "there is nothing to send yet; ask again later", RETRY)
    return _calendar(request, sent, FILE_NAMES[feed.audience])


def _calendar(request: Request, sent: Sent, name: str) -> Response:
    headers = {
        "ETag": sent.tag,
        "Last-Modified": format_datetime(sent.modified, usegmt=True),
        "Cache-Control": "private, max-age=900, must-revalidate",
        "Vary": "Accept-Encoding",
        "X-Robots-Tag": "noindex",
    }
    if _is_known(request, sent):
        return Response(status_code=304, headers=headers)
    headers["Content-Disposition"] = f"inline; filename=\"{name}\"; filename*=UTF-8''{name}"
    body = sent.body
    if takes_gzip(request.headers.get("accept-encoding", "")):
        headers["Content-Encoding"] = "gzip"
        body = sent.packed
    return Response(body, 200, headers, "text/calendar; charset=utf-8")


def _is_known(request: Request, sent: Sent) -> bool:
    """Whether the client has these bytes (RFC 9110, section 13.1: a tag counts before a date)."""
    tags = request.headers.get("if-none-match")
    if tags is not None:
        bare = {tag.strip().removeprefix("W/") for tag in tags.split(",")}
        return "*" in bare or sent.tag.removeprefix("W/") in bare
    try:
        since = parsedate_to_datetime(request.headers.get("if-modified-since", ""))
    except ValueError:
        return False
    if since.tzinfo is None:
        since = since.replace(tzinfo=dt.UTC)
    return sent.modified <= since


def _no(status: int, says: str, wait: int = 0) -> Response:
    headers = {"Cache-Control": "no-store", "X-Robots-Tag": "noindex"}
    if wait:
        headers["Retry-After"] = f"{wait}"
    return PlainTextResponse(f"{says}\n", status, headers)


def subscribe(visit: Visit) -> Response:
    """Show how to subscribe, to whoever has the address."""
    token = visit.path("token")
    unknown: Limiter = visit.request.app.state.unknown
    feed = addresses.feed(visit.site.state, token)
    if feed is None:
        client = visit.request.client
        wait = unknown.wait(client.host if client else "")
        raise RefusedError(429 if wait else 404, "No calendar has this address.")
    if feed.ended is not None:
        raise RefusedError(410, "This calendar was taken back. Ask the coach for a new address.")
    return visit.page("subscribe.html", **_how(visit, feed, token), new=False)


def listing(visit: Visit) -> Response:
    """List the addresses that were given out; also when the season's files are faulty."""
    space = visit.site.opening().workspace
    return visit.page(
        "calendars.html",
        feeds=addresses.feeds(visit.site.state),
        outdated=outdated(space) if space else "",
    )


def give_out(visit: Visit) -> Response:
    """Give out a new address; it is shown this once."""
    audience: Audience = "coach" if visit.said("audience") == "coach" else "families"
    label = visit.said("label")[:LONGEST_LABEL] or ("Coach" if audience == "coach" else "Families")
    return _given(visit, label, audience)


def rotate(visit: Visit) -> Response:
    """Take an address back and give out a new one in its place."""
    feed = _ended(visit)
    return _given(visit, feed.label, feed.audience)


def take_back(visit: Visit) -> Response:
    """Take an address back, for good."""
    _ended(visit)
    return visit.go("/calendars")


def _ended(visit: Visit) -> Feed:
    number = visit.said("feed")
    known = number.isdecimal() and len(number) < 10
    feed = addresses.end_feed(visit.site.state, int(number), visit.site.now()) if known else None
    if feed is None:
        raise RefusedError(409, "This address was taken back already.")
    return feed


def _given(visit: Visit, label: str, audience: Audience) -> Response:
    token = addresses.add_feed(visit.site.state, label, audience, visit.site.now())
    feed = next(
        each
        for each in reversed(addresses.feeds(visit.site.state))
        if each.label == label and each.ended is None
    )
    return visit.page("subscribe.html", **_how(visit, feed, token), new=True)


def _how(visit: Visit, feed: Feed, token: str) -> dict[str, Any]:
    """Return all addresses of a calendar, and the picture of the page that helps."""
    page = f"{visit.origin()}/f/{token}"
    address = f"{page}.ics"
    webcal = "webcal:" + address.partition(":")[2]
    picture = io.BytesIO()
    segno.make(page, error="m").save(
        picture,
        kind="svg",
        omitsize=True,
        border=4,
        xmldecl=False,
        svgclass="qr",
        lineclass=None,
        dark="#000",
        light="#fff",
        title="The address of this page as a picture",
    )
    team = visit.site.opening().workspace
    return {
        "feed": feed,
        "team": team.season.team.name if team else "",
        "page_address": page,
        "address": address,
        "webcal": webcal,
        "quoted": urllib.parse.quote(webcal, safe=""),
        "picture": picture.getvalue().decode(),
        "secure": page.startswith("https:"),
    }
