"""Who may see and send what: keys, sessions, forms, headers, limits and names."""

import re
import stat
import time
from pathlib import Path
from unittest.mock import Mock

import pytest
from starlette.routing import Route
from starlette.testclient import TestClient

from curriculum.server import addresses, coaches, limits
from curriculum.server.app import ROUTES
from curriculum.server.guard import HEADERS, MOST_BYTES
from curriculum.server.keys import form_token, holds, tidy
from curriculum.server.limits import Allowance, Limiter
from tests.server_cases import CHILD, FIRST, NOW, Served, at_once, held, post, token

OPEN = {"/f/{token}.ics", "/f/{token}", "/robots.txt", "/static/{mark}/{name}", "/worker.js"} | {
    "/sign-in",
    "/session",
}
"""What may be asked for without a key."""

PARTS = {
    "practice": FIRST,
    "client": "phone-0001",
    "skill": "v-cut",
    "table": "goal",
    "name": "season.pdf",
    "token": "x",
    "mark": "x",
}


def every(method: str) -> list[str]:
    """Return an address for each route that a method reaches and a key protects."""
    return [
        route.path.format(**PARTS)
        for route in ROUTES
        if isinstance(route, Route) and method in (route.methods or ()) and route.path not in OPEN
    ]


@pytest.fixture
def served(tmp_path: Path) -> Served:
    """Serve the season."""
    return Served(tmp_path)


def test_no_page_without_a_key(served: Served) -> None:
    """Every page sends strangers to the sign-in, every form refuses them; scripts get a 401."""
    stranger = served.browser()
    asked = {path: stranger.get(path) for path in every("GET")}
    data = {path: stranger.get(path, headers={"Accept": "application/json"}) for path in asked}
    sent = {path: stranger.post(path, data={"status": "held"}) for path in every("POST")}

    assert {answer.status_code for answer in asked.values()} == {303}
    assert {answer.headers["location"][:9] for answer in asked.values()} == {"/sign-in?"}
    assert {answer.status_code for answer in data.values()} == {401}
    assert {answer.status_code for answer in sent.values()} == {401}
    assert len(asked) > 12
    assert len(sent) > 8


def test_no_form_without_its_token(served: Served) -> None:
    """A coach's browser that another site makes send a form is refused by every form."""
    coach, other = served.coach(), served.coach("Fergus")
    stolen = token(other)
    forged = ("", "nonsense", "0123.4567", stolen)
    answers = {
        (path, sent): coach.post(path, data={"token": sent}).status_code
        for path in every("POST")
        for sent in forged
    }

    assert set(answers.values()) == {403}


def test_a_form_from_another_site_is_refused_even_with_a_token(served: Served) -> None:
    """The Origin header that browsers add must be ours."""
    coach = served.coach()
    fields = {"token": token(coach), "label": "x"}
    foreign = coach.post("/calendars/new", data=fields, headers={"Origin": "https://evil.example"})
    ours = coach.post("/calendars/new", data=fields, headers={"Origin": "http://testserver"})

    assert (foreign.status_code, ours.status_code) == (403, 200)


def test_tokens_differ_and_belong_to_one_cookie() -> None:
    """Each page has another token, so that compressed pages tell nothing about it."""
    first, second = form_token("cookie"), form_token("cookie")

    assert first != second
    assert [holds(each, "cookie") for each in (first, second)] == [True, True]
    assert not holds(first, "another")


def test_signing_in(served: Served) -> None:
    """A wrong key opens nothing; the right one does, typed with capitals and without dashes."""
    browser = served.browser()
    other = served.key[:-1] + ("3" if served.key.endswith("2") else "2")
    wrong = post(browser, "/sign-in", {"key": other}, page="/sign-in")
    typed = served.key.replace("-", " ").upper()
    right = post(browser, "/sign-in", {"key": typed, "next": "/edit"}, page="/sign-in")

    assert tidy(typed) == served.key
    assert (wrong.status_code, "opens nothing" in wrong.text) == (403, True)
    assert (right.status_code, right.headers["location"]) == (303, "/edit")
    assert browser.get("/").status_code == 200


@pytest.mark.parametrize(
    "wanted",
    ["//evil.example", "https://evil.example", "/\\evil.example", "javascript:x", "/a\r\nb"],
)
def test_signing_in_leads_to_this_server_only(served: Served, wanted: str) -> None:
    """An address in the link to the sign-in cannot send a coach elsewhere."""
    browser = served.browser()
    answer = post(browser, "/sign-in", {"key": served.key, "next": wanted}, page="/sign-in")

    assert answer.headers["location"] == "/"


def test_cookies_are_out_of_reach(served: Served, tmp_path: Path) -> None:
    """Cookies are HttpOnly and SameSite=Lax, and Secure where the server is reached by https."""
    (tmp_path / "far").mkdir()
    far = Served(tmp_path / "far", public="https://team.example.org")
    here = served.browser().get("/sign-in").headers["set-cookie"]
    there = far.browser().get("/sign-in").headers["set-cookie"]

    assert re.sub(r"=[\w-]{32};", "=…;", here) == (
        "curriculum_visit=…; HttpOnly; Path=/; SameSite=lax"
    )
    assert re.sub(r"=[\w-]{32};", "=…;", there) == (
        "curriculum_visit=…; HttpOnly; Path=/; SameSite=lax; Secure"
    )
    assert far.browser().get("/sign-in").headers["strict-transport-security"]


def test_signing_out_and_taking_a_key_back_end_sessions(served: Served) -> None:
    """After signing out the old cookie opens nothing, and so after a key was taken back."""
    first, second = served.coach(), served.coach("Fergus")
    old = first.cookies["curriculum_session"]
    assert post(first, "/sign-out").status_code == 303
    first.cookies.set("curriculum_session", old)
    assert coaches.end_keys(served.site.state, "Fergus") == 1

    assert [each.get("/").status_code for each in (first, second)] == [303, 303]


def test_sessions_outlive_a_restart_and_end_by_themselves(served: Served) -> None:
    """A phone stays signed in over a restart, and no longer than it is left unused."""
    coach = served.coach()
    session = coach.cookies["curriculum_session"]
    served.restarted()
    browser = served.browser()
    browser.cookies.set("curriculum_session", session)
    assert browser.get("/session").json()["coach"] == "Morag"
    served.clock.now += coaches.SESSION * 2

    assert browser.get("/session").json() == {"coach": None}


def test_a_session_that_is_used_lasts_longer_than_its_first_days(served: Served) -> None:
    """Each use makes it last anew, and the browser keeps its cookie as long."""
    coach = served.coach()
    for _ in range(2):
        served.clock.now += coaches.SESSION * 0.9
        assert coach.get("/session").json()["coach"] == "Morag"
    jar = {cookie.name: cookie.expires or 0 for cookie in coach.cookies.jar}

    assert jar["curriculum_session"] - time.time() > coaches.SESSION.total_seconds() * 2


def test_an_answer_to_a_fault_is_as_guarded_as_any(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What breaks is said in a sentence, with the headers of every other answer."""
    served = Served(tmp_path, public="https://team.example.org")
    coach, browser = served.coach(), served.browser(loud=False)
    monkeypatch.setattr(served.site, "opening", Mock(side_effect=RuntimeError("unforeseen")))
    browser.cookies.update(coach.cookies)
    answer, other = browser.get("/"), browser.get("/robots.txt")
    guards = {*HEADERS, "Strict-Transport-Security"}

    assert (answer.status_code, answer.text) == (
        500,
        "Something broke here. The log says what; try again.\n",
    )
    assert {name: answer.headers.get(name) for name in guards} == {
        name: other.headers[name] for name in guards
    }


def test_pages_allow_no_inline_script_or_style(served: Served) -> None:
    """The policy forbids them, and no page has any, nor an address of another server to load."""
    coach = served.coach()
    pages = [coach.get(path) for path in every("GET") if not path.endswith((".pdf", ".json"))]
    policies = {page.headers["content-security-policy"] for page in pages}
    inline = re.compile(r"<style|\sstyle=|\son\w+=|<script(?![^>]*\ssrc=\")|src=\"https?:|url\(")

    assert len(policies) == 1
    assert "unsafe" not in policies.pop()
    assert [found for page in pages for found in inline.findall(page.text)] == []


def test_no_page_weighs_too_much(served: Served) -> None:
    """Every page with all that it loads, unpacked, is under 150 kB."""
    coach = served.coach()
    pages = {path: coach.get(path) for path in every("GET") if not path.endswith(".pdf")}
    weights = {}
    for path, page in pages.items():
        loaded = set(re.findall(r'(?:src|href)="(/static/[^"]+)"', page.text))
        weights[path] = len(page.content) + sum(len(coach.get(each).content) for each in loaded)

    assert {path: weight for path, weight in weights.items() if weight >= 150_000} == {}


@pytest.mark.parametrize(
    "path",
    [
        "/static/x/..%2F..%2Fserver.db",
        "/static/x/season.toml",
        "/prints/..%2Fserver.db",
        "/prints/record.db",
        "/practice/..%2F..%2Fetc%2Fpasswd",
        "/practice/..%2Fplayers.toml/sheet.pdf",
        "/skills/..%2Fplayers.toml",
        "/edit/players",
        "/f/..%2Fserver.db",
    ],
)
def test_no_address_reaches_a_file(served: Served, path: str) -> None:
    """What stands in an address is looked up among known names and never opened."""
    answer = served.coach().get(path)

    assert answer.status_code in (404, 405)
    assert CHILD not in answer.text


def test_a_child_is_named_to_coaches_only(served: Served) -> None:
    """With a name in the files and in the record, no page without a key shows it."""
    coach, stranger = served.coach(), served.browser()
    post(coach, f"/practice/{FIRST}/record", held(absent=CHILD, note=f"{CHILD} fell"))
    feed = addresses.add_feed(served.site.state, "Families", "families", NOW)
    open_pages = [f"/f/{feed}", f"/f/{feed}.ics", "/sign-in", "/session", "/worker.js"]
    (served.folder / "players.toml").write_text(f'players = ["{CHILD}", 7]')

    assert CHILD in coach.get(f"/practice/{FIRST}/record").text
    assert [CHILD in stranger.get(path).text for path in open_pages] == [False] * len(open_pages)


def test_the_servers_file_is_private(served: Served) -> None:
    """Only its owner can read it, and version control passes it over."""
    mode = (served.folder / "server.db").stat().st_mode

    assert stat.S_IMODE(mode) == 0o600
    assert "server.db*" in (served.folder / ".gitignore").read_text().splitlines()


def test_large_bodies_are_refused(served: Served) -> None:
    """By what they say of themselves, and by what they are when they say nothing."""
    coach = served.coach()
    large = b"x" * (MOST_BYTES + 1)
    told = coach.post("/calendars/new", content=large)
    untold = coach.post("/calendars/new", content=iter([large[:1000], large[1000:]]))
    odd = coach.post("/calendars/new", content=b"", headers={"Content-Length": "-5"})

    assert [each.status_code for each in (told, untold, odd)] == [413, 413, 413]


def test_many_tries_to_sign_in_have_to_wait(
    served: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After a handful of tries even the right key waits."""
    at_once(monkeypatch)
    browser = served.browser()
    fields = {"token": token(browser, "/sign-in"), "key": "wrong"}
    codes = [browser.post("/sign-in", data=fields).status_code for _ in range(10)]

    assert codes == [403] * limits.SIGN_IN.burst + [429] * (10 - limits.SIGN_IN.burst)


def test_a_bucket_empties_and_fills(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each address has its own, and the time to wait is told."""
    now = [100.0]
    monkeypatch.setattr("curriculum.server.limits.monotonic", lambda: now[0])
    limiter = Limiter(Allowance(burst=2, rate=0.5))
    first = [limiter.wait("a") for _ in range(3)] + [limiter.wait("b")]
    now[0] += 2

    assert first == [0, 0, 2 + 1, 0]
    assert [limiter.wait("a") for _ in range(2)] == [0, 3]


def test_requests_come_to_an_end(served: Served, monkeypatch: pytest.MonkeyPatch) -> None:
    """An address that asks without pause is told to wait."""
    at_once(monkeypatch)
    browser = served.browser()
    codes = {browser.get("/robots.txt").status_code for _ in range(limits.PAGES.burst + 60)}

    assert codes == {200, 429}


def test_a_strange_page_is_plain(served: Served) -> None:
    """What is not there, or asked for wrongly, is said in a sentence."""
    browser: TestClient = served.browser()
    answers = [browser.get("/nowhere"), browser.delete("/"), browser.post("/robots.txt")]

    assert [each.status_code for each in answers] == [404, 405, 405]
