"""Every route under random addresses, headers and forms: no answer is a fault of the server.

A club is served, so that its own pages and those of a season below it are tried at once.
"""

import tempfile
import urllib.parse
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from starlette.routing import Route
from starlette.testclient import TestClient

from curriculum.server import addresses, guard, limits
from curriculum.server.app import CLUB_ROUTES, ROUTES
from curriculum.server.limits import Allowance
from tests.server_cases import FIRST, NOW, SECOND_ONE, ServedClub, hidden, token

PLENTY = Allowance(10**9, 10**9)
STRANGE = (
    *("", "0", "-1", "²", "9" * 40, "../..", "%00", "\x00", "\U0001f600", "2027-01-15"),
    *("2027-13-01", "x@live", "v-cut@guided", "17:30", "é" * 200, "{{7*7}}", "<script>"),
)
ODD = st.one_of(st.text(max_size=30), st.sampled_from(STRANGE))
GOOD = {
    "practice": [FIRST, SECOND_ONE],
    "client": ["phone-0001", "phone-0002"],
    "skill": ["v-cut", "give-and-go"],
    "table": ["goal", "game", "closure", "move", "no_practice", "practice_on"],
    "name": ["style.css", "page.js", "nothing.pdf"],
    "mark": ["0123"],
    "token": ["known", "unknown"],
}
FIELDS = {
    "client": ["phone-0001", "phone-0002", "phone-0003"],
    "version": ["0", "1", "2"],
    "status": ["held", "lost", "shortened"],
    "reason": ["ice"],
    "minutes_held": ["40", "75"],
    "held:v-cut@unopposed": ["held", "partly", "not held"],
    "went:v-cut@unopposed": ["solid", "shaky", "not yet", ""],
    "held:x": ["held"],
    "also": ["backdoor-cut@unopposed"],
    "absent": ["Aoife"],
    "note": ["fine"],
    "place": ["0", "1", "7"],
    "do": ["add", "save", "remove"],
    "skill": ["v-cut"],
    "stage": ["guided", "live"],
    "by": ["gulls", "2027-02-05"],
    "need": ["must", "could"],
    "weight": ["3"],
    "date": ["2027-01-21"],
    "of": ["2027-01-20", "0001-01-01", "9999-12-31"],
    "from": ["2027-01-25"],
    "until": ["2027-01-26"],
    "start": ["2027-01-11", "17:30"],
    "end": ["2027-02-14"],
    "venue": ["north-gym"],
    "feed": ["1", "2"],
    "audience": ["coach", "families"],
    "label": ["Families"],
    "proposal": ["x"],
    "revision": ["0", "1"],
    "key": ["abc"],
    "next": ["/plan", "//x"],
    "q": ["cut"],
    "alarm": ["90"],
    "cancelled": ["text"],
    "paper": ["letter"],
}
HEADERS = {
    "Accept": ["application/json", "text/html", "*/*"],
    "Accept-Encoding": ["gzip", "gzip;q=", "gzip;q=x", ",,;;"],
    "If-None-Match": ["*", "W/", '"', ",,,"],
    "If-Modified-Since": ["yesterday", "Thu, 14 Jan 2027 09:00:00 -0000", "Thu, 99 Jan 99999 9:00"],
    "Origin": ["null", "http://testserver", "http://[", "x"],
    "Content-Type": ["application/json", "multipart/form-data; boundary=x", "x"],
    "Cookie": ["curriculum_session=x", ";;=", "curriculum_visit="],
}
FORBIDDEN = ("sheet.pdf", "/prints/{name}")
"""Typesetting takes seconds; it is tried once elsewhere."""


BELOW = "/team/terns"


class Target:
    """One server for all examples, with a coach and a stranger at hand."""

    def __init__(self) -> None:
        served = ServedClub(Path(tempfile.mkdtemp(prefix="fuzzed-")))
        self.site = served.house.site("terns")
        self.feed = addresses.add_feed(self.site.state, "Families", "families", NOW)
        self.coach, self.stranger = served.coach(), served.browser()
        self.season = served.season("terns")
        self.counting = (served.app, self.season)
        self.file = served.folder / "terns" / "season.toml"
        self.original = self.file.read_text()

    def mark(self) -> str:
        """Return the season file's mark, as the page has it."""
        return hidden(self.coach.get(f"{BELOW}/edit").text, "mark")


@cache
def target() -> Target:
    """Start the server once, with limits out of the way."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(guard, "PAGES", PLENTY)
        patch.setattr(guard, "FEEDS", PLENTY)
        made = Target()
        made.coach.get("/robots.txt")
    for app in made.counting:
        for name in ("unknown", "sign_in", "sign_in_all"):
            setattr(app.state, name, limits.Limiter(PLENTY))
    return made


def chosen(known: dict[str, list[str]], name: str) -> st.SearchStrategy[str]:
    """Draw a value that is often one that is understood."""
    return st.one_of(st.sampled_from(known[name]), st.sampled_from(known[name]), ODD)


@st.composite
def requests(draw: st.DrawFn) -> tuple[bool, str, str, dict[str, str], dict[str, str], bool]:
    """Draw who asks, how, for what, with which fields and headers, and whether with a token."""
    below = draw(st.sampled_from((BELOW, BELOW, BELOW, "", "/team/herons")))
    routes = CLUB_ROUTES if not below else ROUTES
    route = draw(st.sampled_from([each for each in routes if isinstance(each, Route)]))
    method = draw(st.sampled_from(["GET", "POST", "HEAD", "PUT", "DELETE"]))
    if draw(st.integers(0, 3)):
        method = min(route.methods or ["GET"])
    path = route.path
    for name, known in GOOD.items():
        text = draw(chosen(GOOD, name)) if f"{{{name}}}" in path else ""
        path = path.replace(f"{{{name}}}", urllib.parse.quote(text, safe="", errors="ignore"))
        assert known
    names = draw(st.lists(st.sampled_from(sorted(FIELDS)), unique=True, max_size=12))
    fields = {name: draw(chosen(FIELDS, name)) for name in names}
    heads = draw(st.lists(st.sampled_from(sorted(HEADERS)), unique=True, max_size=2))
    headers = {name: draw(st.sampled_from(HEADERS[name])) for name in heads}
    if path.endswith(FORBIDDEN[0]) or (route.path == FORBIDDEN[1] and "pdf" in path):
        path = "/prints"
    path = f"{below}{path}"
    coach = draw(st.integers(0, 4)) > 0
    return coach, method, path, fields, headers, draw(st.integers(0, 5)) > 0


@settings(
    max_examples=250,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(requests())
def test_no_request_breaks_the_server(
    asked: tuple[bool, str, str, dict[str, str], dict[str, str], bool],
) -> None:
    """Whatever is asked, by whomever: no exception, no 5xx but a sorry 503, and the files hold."""
    coach, method, path, fields, headers, honest = asked
    aim = target()
    browser: TestClient = aim.coach if coach else aim.stranger
    path = path.replace("/f/known", f"/f/{aim.feed}")
    if path.endswith("/sign-out"):
        coach, browser = False, aim.stranger
    sent: dict[str, Any] = {"headers": headers}
    if method == "POST":
        own = token(browser, f"{BELOW}/edit" if coach else "/sign-in") if honest else "x"
        body = {"token": own, "mark": aim.mark() if coach else "x", **fields}
        sent["content"] = urllib.parse.urlencode(body, errors="ignore")
        sent["headers"] = {"Content-Type": "application/x-www-form-urlencoded", **headers}
    else:
        path += "?" + urllib.parse.urlencode(fields, errors="ignore") if fields else ""
    answer = browser.request(method, path, **sent)
    aim.season.state.planner.wait()

    assert answer.status_code < 500
    assert aim.site.opening().workspace is not None
    if method == "POST" and "/edit/" in path:
        aim.file.write_text(aim.original)


@settings(max_examples=150, deadline=None)
@given(body=st.binary(max_size=400), kind=st.sampled_from(HEADERS["Content-Type"]))
def test_bodies_that_are_no_form(body: bytes, kind: str) -> None:
    """Bytes that are no form are refused like a form without a token."""
    aim = target()
    answer = aim.coach.post(f"{BELOW}/edit/season", content=body, headers={"Content-Type": kind})

    assert answer.status_code == 403
