"""Signing in and out, and the small answers that scripts ask for."""

import json

from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response

from curriculum.server import coaches
from curriculum.server.assets import address_of, assets, edition
from curriculum.server.endpoints import SESSION_COOKIE, set_cookie
from curriculum.server.keys import form_token, tidy
from curriculum.server.limits import Limiter
from curriculum.server.packing import takes_gzip
from curriculum.server.site import Site
from curriculum.server.visits import RefusedError, Visit, base_path

YEAR = 365 * 24 * 3600
COOKIE_DAYS = 400
"""How long a browser keeps the cookie: longer than any season.

The server says when a session ends, for it lasts from its last use on.
"""
ANYWHERE = "anywhere"


def entrance(visit: Visit) -> Response:
    """Ask for a coach's key."""
    if visit.coach is not None:
        return visit.go(_after(visit.request.query_params.get("next", "")))
    return visit.page(
        "sign_in.html", after=_after(visit.request.query_params.get("next", "")), wrong=False
    )


def sign_in(visit: Visit) -> Response:
    """Open a session for whoever has a key."""
    app, client = visit.request.app, visit.request.client
    mine: Limiter = app.state.sign_in
    all_: Limiter = app.state.sign_in_all
    wait = mine.wait(client.host if client else "") or all_.wait(ANYWHERE)
    if wait:
        raise RefusedError(429, f"Too many tries. Wait {wait} seconds, then try again.")
    after = _after(visit.said("next"))
    token = coaches.sign_in(visit.place.keys, tidy(visit.said("key")), visit.place.now())
    if token is None:
        return visit.page("sign_in.html", 403, after=after, wrong=True)
    answer = visit.go(after)
    set_cookie(answer, SESSION_COOKIE, token, visit.request, COOKIE_DAYS)
    return answer


def sign_out(visit: Visit) -> Response:
    """End the session."""
    coaches.sign_out(visit.place.keys, visit.cookie)
    answer = visit.go("/sign-in")
    answer.delete_cookie(SESSION_COOKIE, path=f"{visit.root}/")
    return answer


def session(visit: Visit) -> Response:
    """Tell a script whether it may send what it has kept, and with which token."""
    if visit.coach is None:
        return visit.data({"coach": None})
    return visit.data({"coach": visit.coach.name, "token": form_token(visit.cookie)})


def _after(wanted: str) -> str:
    """Return where to go after signing in: a page of this server, else the season."""
    ours = wanted.startswith("/") and not wanted.startswith("//")
    return wanted if ours and wanted.isprintable() and "\\" not in wanted else "/"


def asset(request: Request) -> Response:
    """Serve a file that pages load; its address changes with its content."""
    found = assets().get(request.path_params["name"])
    if found is None or found.mark != request.path_params["mark"]:
        return PlainTextResponse("There is no such file.\n", 404)
    headers = {"Cache-Control": f"public, max-age={YEAR}, immutable", "Vary": "Accept-Encoding"}
    if takes_gzip(request.headers.get("accept-encoding", "")):
        return Response(found.packed, 200, {**headers, "Content-Encoding": "gzip"}, found.kind)
    return Response(found.body, 200, headers, found.kind)


def worker(request: Request) -> Response:
    """Serve the script that keeps opened practices for a gym without network."""
    base = base_path(request)
    shell = [address_of(name, base) for name in sorted(assets()) if name != "worker.js"]
    head = (
        f"const EDITION = {json.dumps(edition())};\n"
        f"const BASE = {json.dumps(base)};\nconst SHELL = {json.dumps(shell)};\n"
    )
    return Response(
        head.encode() + assets()["worker.js"].body,
        200,
        {"Cache-Control": "no-cache", "Service-Worker-Allowed": f"{base}/"},
        "text/javascript; charset=utf-8",
    )


def robots(request: Request) -> Response:
    """Let calendar services fetch the calendars, and nobody else anything.

    A star stands for any signs (RFC 9309, section 2.2.3).
    """
    base = base_path(request)
    served = "" if isinstance(request.app.state.place, Site) else "/team/*"
    return PlainTextResponse(f"User-agent: *\nAllow: {base}{served}/f/\nDisallow: /\n")
