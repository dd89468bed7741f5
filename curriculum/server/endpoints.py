"""Between an address and its page: forms are read, coaches known, forged requests refused."""

import urllib.parse
from collections.abc import Callable
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from curriculum.problems import FaultyInputError
from curriculum.server import coaches
from curriculum.server.keys import holds, new_token
from curriculum.server.site import Place
from curriculum.server.visits import RefusedError, Visit, problems_page, refusal, root_path

SESSION_COOKIE = "curriculum_session"
VISIT_COOKIE = "curriculum_visit"
"""The cookie of those who are not signed in, to which the form for signing in is bound."""

MOST_FIELDS = 400

View = Callable[[Visit], Response]
Endpoint = Callable[[Request], Any]


def open_to_all(view: View) -> Endpoint:
    """Serve a page to everybody."""
    return _endpoint(view, keyed=False)


def keyed(view: View) -> Endpoint:
    """Serve a page to coaches who are signed in."""
    return _endpoint(view, keyed=True)


def _endpoint(view: View, *, keyed: bool) -> Endpoint:
    async def endpoint(request: Request) -> Response:
        form = await _form(request) if request.method == "POST" else ()
        return await run_in_threadpool(_serve, view, request, form, keyed=keyed)

    return endpoint


def _serve(
    view: View, request: Request, form: tuple[tuple[str, str], ...], *, keyed: bool
) -> Response:
    place: Place = request.app.state.place
    session = request.cookies.get(SESSION_COOKIE, "")
    coach = coaches.coach(place.keys, session, place.now()) if session else None
    cookie = session if coach else request.cookies.get(VISIT_COOKIE, "")
    fresh = not cookie
    visit = Visit(request, place, coach, cookie or new_token(), form)
    try:
        if keyed and coach is None:
            return _not_signed_in(visit)
        if request.method == "POST":
            _must_be_ours(visit, known=not fresh)
        answer = view(visit)
    except RefusedError as refused:
        answer = refusal(visit, refused.status, refused.says)
    except FaultyInputError as fault:
        answer = problems_page(visit, fault.problems)
    if fresh:
        set_cookie(answer, VISIT_COOKIE, visit.cookie, request, None)
    return answer


def set_cookie(answer: Response, name: str, value: str, request: Request, days: int | None) -> None:
    """Set a cookie that no script sees and no other site's form sends."""
    answer.set_cookie(
        name,
        value,
        max_age=days * 86400 if days else None,
        path=f"{root_path(request)}/",
        secure=is_secure(request),
        httponly=True,
        samesite="lax",
    )


def is_secure(request: Request) -> bool:
    """Whether others reach this server through https."""
    public = request.app.state.place.public or ""
    return request.url.scheme == "https" or public.startswith("https:")


def _not_signed_in(visit: Visit) -> Response:
    if visit.wants_data:
        return visit.data({"says": "Sign in first."}, 401)
    if visit.request.method != "GET":
        return refusal(visit, 401, "Sign in first, then send it again.")
    after = urllib.parse.quote(visit.request.url.path.removeprefix(visit.base), safe="/")
    return visit.go(f"/sign-in?next={after}")


def _must_be_ours(visit: Visit, *, known: bool) -> None:
    """Refuse what another site's page made the browser send."""
    headers = visit.request.headers
    origin = headers.get("origin")
    if origin not in (None, "null") and not _same_host(visit, origin or ""):
        raise RefusedError(403, "This was sent by a page of another site.")
    sent = visit.said("token") or headers.get("x-form-token", "")
    if not known or not holds(sent, visit.cookie):
        raise RefusedError(403, "This page was open too long. Go back, load it anew, send again.")


def _same_host(visit: Visit, origin: str) -> bool:
    hosts = {visit.request.headers.get("host", "")}
    if visit.place.public:
        hosts.add(urllib.parse.urlsplit(visit.place.public).netloc)
    try:
        return urllib.parse.urlsplit(origin).netloc in hosts
    except ValueError:
        return False


async def _form(request: Request) -> tuple[tuple[str, str], ...]:
    body = await request.body()
    try:
        fields = urllib.parse.parse_qsl(
            body.decode(), keep_blank_values=True, max_num_fields=MOST_FIELDS, errors="strict"
        )
    except ValueError:
        return ()
    return tuple((name, text.replace("\r\n", "\n").replace("\x00", "")) for name, text in fields)
