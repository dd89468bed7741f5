"""The application: which address leads to which page, for one season."""

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route

from curriculum.server.feeds import Feeds
from curriculum.server.guard import Guard
from curriculum.server.limits import SIGN_IN, SIGN_IN_ALL, UNKNOWN, Limiter
from curriculum.server.pages import (
    calendars,
    edit,
    entrance,
    plan,
    practice,
    prints,
    season,
    skills,
)
from curriculum.server.replanning import Planner
from curriculum.server.site import Site
from curriculum.server.visits import keyed, open_to_all

GET, POST = ["GET"], ["POST"]

ROUTES = [
    Route("/f/{token}.ics", calendars.calendar, methods=GET),
    Route("/f/{token}", open_to_all(calendars.subscribe), methods=GET),
    Route("/robots.txt", calendars.robots, methods=GET),
    Route("/static/{mark}/{name}", entrance.asset, methods=GET),
    Route("/worker.js", entrance.worker, methods=GET),
    Route("/sign-in", open_to_all(entrance.entrance), methods=GET),
    Route("/sign-in", open_to_all(entrance.sign_in), methods=POST),
    Route("/session", open_to_all(entrance.session), methods=GET),
    Route("/sign-out", keyed(entrance.sign_out), methods=POST),
    Route("/", keyed(season.season), methods=GET),
    Route("/practice/{practice}", keyed(practice.practice), methods=GET),
    Route("/practice/{practice}/record", keyed(practice.record), methods=GET),
    Route("/practice/{practice}/record", keyed(practice.save), methods=POST),
    Route("/practice/{practice}/recorded", keyed(practice.recorded), methods=GET),
    Route("/practice/{practice}/conflict/{client}", keyed(practice.conflict), methods=GET),
    Route("/practice/{practice}/sheet.pdf", keyed(prints.sheet), methods=GET),
    Route("/skills", keyed(skills.skills), methods=GET),
    Route("/skills/{skill}", keyed(skills.skill), methods=GET),
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


def application(site: Site) -> Starlette:
    """Return the application that serves a season."""
    secure = (site.public or "").startswith("https:")
    app = Starlette(
        routes=ROUTES,
        middleware=[Middleware(Guard, secure=secure)],
        exception_handlers={HTTPException: _no_page, Exception: _broken},
    )
    app.state.site = site
    app.state.feeds = Feeds(site)
    app.state.planner = Planner(site)
    app.state.unknown = Limiter(UNKNOWN)
    app.state.sign_in = Limiter(SIGN_IN)
    app.state.sign_in_all = Limiter(SIGN_IN_ALL)
    return app


def _no_page(_: Request, fault: Exception) -> Response:
    status = fault.status_code if isinstance(fault, HTTPException) else 404
    words = {404: "There is no such page.", 405: "This page is not asked for like this."}
    return PlainTextResponse(f"{words.get(status, 'This cannot be done.')}\n", status)


def _broken(_: Request, __: Exception) -> Response:
    return PlainTextResponse("Something broke here. The log says what; try again.\n", 500)
