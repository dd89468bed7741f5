"""Calendars over HTTP: headers, conditional requests, addresses taken back, and failures.

HTTP semantics are those of RFC 9110; what calendar programs send is told beside each check.
"""

import datetime as dt
import gzip
import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from curriculum import ledger
from curriculum.handouts.calendars import calendar_file
from curriculum.handouts.told import mark_as_told
from curriculum.ledger import read_ledger
from curriculum.outputs.ical.feed import calendar_bytes
from curriculum.outputs.ical.lint import lint
from curriculum.server import addresses, feeds
from curriculum.workspace import LEDGER_FILE
from tests.server_cases import CHILD, NOW, SEASON, Served, held, opened, plan_in, post


@pytest.fixture
def served(tmp_path: Path) -> Served:
    """Serve the season."""
    return Served(tmp_path)


@pytest.fixture
def phone(served: Served) -> TestClient:
    """Return a calendar program: it has no cookie and no key."""
    return served.browser()


def address(served: Served, audience: str = "families") -> str:
    """Give out an address and return its path."""
    who = "coach" if audience == "coach" else "families"
    return f"/f/{addresses.add_feed(served.site.state, who, who, NOW)}.ics"  # type: ignore[arg-type]


def test_a_calendar_is_sent_with_these_headers(served: Served, phone: TestClient) -> None:
    """Every header of a whole answer, to a program that sends no Accept header at all."""
    del phone.headers["accept"], phone.headers["accept-encoding"]
    answer = phone.get(address(served))
    headers = dict(answer.headers)
    tag, modified = headers.pop("etag"), headers.pop("last-modified")
    safety = {name: headers.pop(name) for name in list(headers) if name in SAFETY}

    assert answer.status_code == 200
    assert headers == {
        "content-type": "text/calendar; charset=utf-8",
        "content-length": f"{len(answer.content)}",
        "content-disposition": "inline; filename=\"families.ics\"; filename*=UTF-8''families.ics",
        "cache-control": "private, max-age=900, must-revalidate",
        "vary": "Accept-Encoding",
        "x-robots-tag": "noindex",
    }
    assert re.fullmatch(r'W/"[0-9a-f]{32}"', tag)
    assert modified == "Thu, 14 Jan 2027 09:00:00 GMT"
    assert safety["referrer-policy"] == "no-referrer"
    assert lint(answer.content) == ()


SAFETY = (
    "content-security-policy",
    "x-content-type-options",
    "x-frame-options",
    "referrer-policy",
    "cross-origin-opener-policy",
    "cross-origin-resource-policy",
    "permissions-policy",
)


def test_the_bytes_stay_while_nothing_changes(served: Served, phone: TestClient) -> None:
    """Bytes, tag and date are the same a week later and after a restart."""
    path = address(served)
    first = phone.get(path)
    served.clock.now += dt.timedelta(days=7)
    served.restarted()
    second = served.browser().get(path)

    same = [
        (each.content, each.headers["etag"], each.headers["last-modified"])
        for each in (first, second)
    ]
    assert same[0] == same[1]


@pytest.mark.parametrize(
    ("sent", "status"),
    [
        ({"If-None-Match": "{tag}"}, 304),
        ({"If-None-Match": "*"}, 304),
        ({"If-None-Match": '"other", {tag}'}, 304),
        ({"If-None-Match": "{strong}"}, 304),
        ({"If-None-Match": '"other"'}, 200),
        ({"If-None-Match": '"other"', "If-Modified-Since": "{modified}"}, 200),
        ({"If-Modified-Since": "{modified}"}, 304),
        ({"If-Modified-Since": "Fri, 15 Jan 2027 09:00:00 GMT"}, 304),
        ({"If-Modified-Since": "Wed, 13 Jan 2027 09:00:00 GMT"}, 200),
        ({"If-Modified-Since": "yesterday"}, 200),
        ({"Accept": "text/html"}, 200),
        ({"Cookie": "curriculum_session=nonsense"}, 200),
        ({"Origin": "https://other.example"}, 200),
    ],
)
def test_what_a_program_knows_is_not_sent_again(
    served: Served, phone: TestClient, sent: dict[str, str], status: int
) -> None:
    """Conditional requests (RFC 9110, section 13.1); nothing else decides on the answer."""
    path = address(served)
    first = phone.get(path)
    known = {
        "tag": first.headers["etag"],
        "strong": first.headers["etag"].removeprefix("W/"),
        "modified": first.headers["last-modified"],
    }
    answer = phone.get(path, headers={name: text.format(**known) for name, text in sent.items()})

    assert answer.status_code == status
    assert answer.headers["etag"] == first.headers["etag"]
    assert answer.content == (b"" if status == 304 else first.content)


def test_asking_for_the_head_alone_tells_the_same(served: Served, phone: TestClient) -> None:
    """HEAD has the headers of GET, its length included, and no body (RFC 9110, section 9.3.2)."""
    path = address(served)
    whole, head = phone.get(path), phone.head(path)

    assert dict(head.headers) == dict(whole.headers)
    assert (head.status_code, head.content) == (200, b"")


@pytest.mark.parametrize(
    ("header", "packed"),
    [
        ("gzip", True),
        ("br, gzip;q=0.8, *;q=0.1", True),
        ("gzip;q=0", False),
        ("gzip;q=0.0, br", False),
        ("identity", False),
        ("", False),
    ],
)
def test_it_is_packed_for_those_who_take_it(
    served: Served, phone: TestClient, header: str, packed: bool
) -> None:
    """Packed and unpacked share the weak tag, and unpack to the same bytes."""
    path = address(served)
    plain = phone.get(path, headers={"Accept-Encoding": "identity"})
    with phone.stream("GET", path, headers={"Accept-Encoding": header}) as answer:
        raw = b"".join(answer.iter_raw())

    assert answer.headers.get("content-encoding") == ("gzip" if packed else None)
    assert answer.headers["etag"] == plain.headers["etag"]
    assert (gzip.decompress(raw) if packed else raw) == plain.content


def test_unknown_and_taken_back_addresses(served: Served, phone: TestClient) -> None:
    """404 keeps what programs have; 410 tells them to stop for good; neither is a calendar."""
    coach, path = served.coach(), address(served)
    assert phone.get(path).status_code == 200
    post(coach, "/calendars/end", {"feed": "1"})
    gone, unknown = phone.get(path), phone.get("/f/never-given-out.ics")

    assert (gone.status_code, unknown.status_code) == (410, 404)
    assert {answer.headers["content-type"] for answer in (gone, unknown)} == {
        "text/plain; charset=utf-8"
    }
    assert phone.get(path.removesuffix(".ics")).status_code == 410


def test_a_new_address_ends_the_old_one(served: Served, phone: TestClient) -> None:
    """After rotation the old address is gone, and the new one gives the same calendar."""
    coach, path = served.coach(), address(served)
    before = phone.get(path)
    page = post(coach, "/calendars/rotate", {"feed": "1"}).text
    found = re.search(r'value="http://testserver(/f/[\w-]+\.ics)"', page)
    assert found

    assert phone.get(path).status_code == 410
    assert phone.get(found[1]).content == before.content


def test_addresses_are_kept_as_hashes_and_stay_out_of_the_log(
    served: Served, phone: TestClient, caplog: pytest.LogCaptureFixture
) -> None:
    """Neither the server's file nor its log holds an address, a key or a session."""
    caplog.set_level("DEBUG", "curriculum")
    coach, path = served.coach(), address(served)
    phone.get(path)
    phone.get("/f/never-given-out.ics")
    secret = path.removeprefix("/f/").removesuffix(".ics")
    kept = b"".join(each.read_bytes() for each in served.folder.glob("server.db*"))
    session = coach.cookies["curriculum_session"]

    assert [word in kept for word in (secret.encode(), served.key.encode(), session.encode())] == [
        False
    ] * 3
    assert [word in caplog.text for word in (secret, served.key, session, "never-given")] == [
        False
    ] * 4
    assert "GET /f/{token}.ics 200" in caplog.text


def test_a_move_counts_up_and_a_lost_practice_is_cancelled(
    served: Served, phone: TestClient
) -> None:
    """After a re-plan is accepted, the same address tells of the move and of the cancellation."""
    coach, path = served.coach(), address(served)
    first = phone.get(path)
    mark = re.search(r'name="mark" value="(\w+)"', coach.get("/edit").text)
    assert mark
    move = {"mark": mark[1], "do": "add", "of": "2027-01-20", "date": "2027-01-21"}
    assert post(coach, "/edit/move", move).status_code == 303
    lost = {"client": "phone-lost", "version": "0", "status": "lost", "reason": "no heating"}
    assert post(coach, "/practice/2027-01-15-north-gym-1730/record", lost).status_code == 303
    served.clock.now += dt.timedelta(minutes=5)
    post(coach, "/plan/propose")
    served.app.state.planner.wait()
    page = coach.get("/plan").text
    names = {
        name: re.search(rf'name="{name}" value="([^"]*)"', page)
        for name in ("proposal", "revision")
    }
    fields = {name: found[1] for name, found in names.items() if found}
    assert post(coach, "/plan/accept", fields).status_code == 303
    second = phone.get(path, headers={"If-None-Match": first.headers["etag"]})
    told = {event.split("UID:")[1][:36]: event for event in second.text.split("BEGIN:VEVENT")[1:]}
    changed = [event for event in told.values() if "SEQUENCE:1" in event]

    assert second.status_code == 200
    assert sorted(
        (
            re.findall(r"DTSTART;TZID=Europe/Dublin:(\w+)", event)[0],
            "STATUS:CANCELLED" in event,
        )
        for event in changed
    ) == [("20270115T173000", True), ("20270121T173000", False)]
    assert len(told) == first.text.count("BEGIN:VEVENT")
    assert second.headers["last-modified"] == "Thu, 14 Jan 2027 09:05:00 GMT"


def test_the_families_calendar_knows_no_name_and_no_lesson(
    served: Served, phone: TestClient
) -> None:
    """What is recorded of a child reaches no calendar, and families see no blocks."""
    coach = served.coach()
    fields = held(absent=CHILD, note=f"{CHILD} has a sore knee")
    post(coach, "/practice/2027-01-13-north-gym-1730/record", fields)
    families, own = (phone.get(address(served, each)).text for each in ("families", "coach"))

    assert [CHILD in each for each in (families, own)] == [False, False]
    assert ["Give and go" in each for each in (families, own)] == [False, True]


@pytest.mark.parametrize(
    ("query", "ringing"), [("", 0), ("?alarm=90", 11), ("?alarm=nonsense", 0), ("?alarm=99999", 0)]
)
def test_alarms_ring_for_those_who_ask(
    served: Served, phone: TestClient, query: str, ringing: int
) -> None:
    """A subscriber asks for alarms in the address; what is not understood is passed over."""
    answer = phone.get(f"{address(served)}{query}")

    assert (answer.status_code, answer.text.count("BEGIN:VALARM")) == (200, ringing)


def test_a_fault_while_rendering_leaves_the_last_good_copy(
    served: Served, phone: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    """When making it fails, the old bytes are sent, also after a restart; never a broken body."""
    path = address(served)
    good = phone.get(path)
    (served.folder / "plan.json").touch()

    def broken(*_: object) -> None:
        raise RuntimeError("in the middle")

    monkeypatch.setattr(feeds, "calendar_bytes", broken)
    during = phone.get(path)
    served.restarted()
    after = served.browser().get(path)

    assert [(each.status_code, each.content) for each in (during, after)] == [
        (200, good.content)
    ] * 2


@pytest.mark.parametrize("body", [b"", b"<html>oops</html>", b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\n"])
def test_what_fails_the_lint_is_never_sent(
    served: Served, phone: TestClient, monkeypatch: pytest.MonkeyPatch, body: bytes
) -> None:
    """Without a good copy it is 503 with a time to come back: programs then keep what they have."""
    plain = calendar_bytes
    monkeypatch.setattr(feeds, "calendar_bytes", lambda *all_: (body, plain(*all_)[1]))
    answer = phone.get(address(served))

    assert (answer.status_code, answer.headers["retry-after"]) == (503, "600")
    assert b"VCALENDAR" not in answer.content


def test_a_faulty_season_file_changes_no_calendar(served: Served, phone: TestClient) -> None:
    """While the coach's file is broken, families see what they saw; mended, it goes on."""
    path = address(served)
    good = phone.get(path)
    (served.folder / "season.toml").write_text("[season\n")
    during = phone.get(path)
    (served.folder / "season.toml").write_text(SEASON.lstrip())
    after = phone.get(path)

    assert [each.content for each in (during, after)] == [good.content] * 2


def test_no_plan_means_come_back_later(served: Served, phone: TestClient) -> None:
    """Before there is a plan, an address that was given out early answers 503."""
    (served.folder / "plan.json").unlink()

    assert phone.get(address(served)).status_code == 503


def test_a_ledger_that_cannot_be_written_sends_nothing_new(
    served: Served, phone: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A number that could be forgotten is not told: the calendar is sent only once it is kept."""

    def full(*_: object) -> None:
        raise OSError("no space left")

    monkeypatch.setattr(ledger, "write_ledger", full)

    assert phone.get(address(served)).status_code == 503


def told_in(served: Served) -> dict[str, int]:
    """Return how many entries each feed has shown, by the ledger."""
    ledger, problems = read_ledger(served.folder / LEDGER_FILE, "kestrel-quay-test-2027", NOW, 1)
    assert problems == ()
    return {name: len(entries) for name, entries in ledger.feeds.items()}


def test_a_command_that_publishes_meanwhile_loses_nothing(
    served: Served, phone: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The command line publishes while the server makes a calendar: the ledger knows of both."""
    path = address(served)
    before = served.site.opening()
    space = opened(served.folder)
    calendar_file(space, plan_in(served.folder), "coach", NOW)
    monkeypatch.setattr(served.site, "opening", lambda: before)

    assert phone.get(path).status_code == 200
    assert told_in(served) == {"coach": 11, "families": 11}


def test_two_commands_at_once_lose_nothing(served: Served) -> None:
    """Each has opened the folder before the other published: the ledger knows of both."""
    first, second = opened(served.folder), opened(served.folder)
    plan = plan_in(served.folder)
    calendar_file(first, plan, "coach", NOW)
    calendar_file(second, plan, "families", NOW)
    mark_as_told(second)

    assert told_in(served) == {"coach": 11, "families": 11}


def test_robots_may_fetch_calendars_alone(phone: TestClient) -> None:
    """Calendar services that obey robots.txt may fetch calendars, and nothing else."""
    assert phone.get("/robots.txt").text == "User-agent: *\nAllow: /f/\nDisallow: /\n"
