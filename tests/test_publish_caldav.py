"""Publishing to a real CalDAV server: every state of a calendar, and every kind of interference."""

import datetime as dt
import re
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

import pytest

from curriculum.ledger import Ledger
from curriculum.models.plan import Plan
from curriculum.outputs.ical.feed import calendar_objects
from curriculum.publish.address import Login, login_of, server_address
from curriculum.publish.caldav_server import CalDavServer
from curriculum.publish.run import ChangedError, Outcome, ServerError, publish
from tests.ical_season import LATER, LIBRARY, NOW, lost, plan, practice, season
from tests.radicale_server import PASSWORD, USER, Radicale, needs_radicale, radicale
from tests.test_ical_feed import EMPTY, UID_13, UID_15

pytestmark = [
    needs_radicale,
    pytest.mark.filterwarnings("ignore::DeprecationWarning"),
    pytest.mark.filterwarnings("ignore::ResourceWarning"),
]

FOREIGN = (
    b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//someone//EN\r\nBEGIN:VEVENT\r\nUID:dentist\r\n"
    b"DTSTAMP:20270101T000000Z\r\nDTSTART:20270113T120000Z\r\nSUMMARY:Dentist\r\n"
    b"END:VEVENT\r\nEND:VCALENDAR\r\n"
)


@pytest.fixture(scope="module")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Radicale]:
    """Run one server for all tests; each uses a calendar of its own."""
    with radicale(tmp_path_factory.mktemp("radicale")) as server:
        yield server


@pytest.fixture
def server(shared: Radicale, request: pytest.FixtureRequest) -> Radicale:
    """Return the server with an empty calendar, named for the test."""
    name = re.sub(r"\W+", "-", request.node.name)[:60]
    return Radicale(shared.port, f"/{USER}/{name}/")


class Coach:
    """A coach who publishes again and again; `kept` is what stands in the season folder."""

    def __init__(self, server: Radicale) -> None:
        self.server = server
        self.kept: Ledger = EMPTY

    def publish(
        self,
        planned: Plan,
        now: dt.datetime = NOW,
        through: Callable[[CalDavServer], CalDavServer] = lambda plain: plain,
        *,
        overwrite: bool = False,
    ) -> Outcome:
        """Publish a plan, and keep the ledger as the command does."""
        address = server_address(self.server.address)
        connection = CalDavServer(
            address, login_of(self.server.address, {"CURRICULUM_CALDAV_PASSWORD": PASSWORD})
        )
        connection.open()
        objects, self.kept = calendar_objects(planned, season(game=()), LIBRARY, self.kept, now)
        try:
            self.kept, outcome = publish(
                objects,
                self.kept,
                address,
                "coach",
                through(connection),
                self.keep,
                overwrite=overwrite,
            )
        finally:
            connection.close()
        return outcome

    def keep(self, change: Callable[[Ledger], Ledger]) -> Ledger:
        """Keep the ledger as a change leaves it."""
        self.kept = change(self.kept)
        return self.kept


def fields(data: bytes, *names: str) -> list[str | None]:
    """Return the values of some properties of a single event."""
    text = data.decode().replace("\r\n ", "").replace("\r\n", "\n")
    event = text[text.index("BEGIN:VEVENT") :]
    found = [re.search(rf"^{name}[^:\n]*:(.*)$", event, re.MULTILINE) for name in names]
    return [match and match[1] for match in found]


NO_GAMES = {"games": ()}


def planned(*practices: object, **changes: object) -> Plan:
    """Return a plan without games."""
    return plan(*practices, **{**NO_GAMES, **changes})  # type: ignore[arg-type]


def test_publishing_creates_each_entry_once(server: Radicale) -> None:
    """The first run creates, the second finds nothing to do."""
    coach = Coach(server)
    outcomes = [coach.publish(planned()), coach.publish(planned(), LATER)]

    assert outcomes == [Outcome({"created": 2}), Outcome({"unchanged": 2})]
    names = ("UID", "DTSTART", "SEQUENCE", "STATUS")
    assert fields(server.entry(UID_13), *names) == [UID_13, "20270113T173000", "0", "CONFIRMED"]


def test_a_moved_practice_is_updated_in_place(server: Radicale) -> None:
    """The same entry has a new time, and the sequence that the ledger says."""
    coach = Coach(server)
    coach.publish(planned())
    moved = planned(practice("01-13", start=dt.time(18)), practice("01-15"))
    outcome = coach.publish(moved, LATER)

    assert outcome == Outcome({"updated": 1, "unchanged": 1})
    assert fields(server.entry(UID_13), "DTSTART", "SEQUENCE") == ["20270113T180000", "1"]


def test_a_lost_practice_is_cancelled_and_later_taken_away(server: Radicale) -> None:
    """It is struck through at once and deleted when thirty days are over."""
    coach = Coach(server)
    coach.publish(planned())
    gone = planned(practice("01-13"), not_held=(lost("01-15"),))
    first = coach.publish(gone, LATER)
    status = fields(server.entry(UID_15), "STATUS", "SEQUENCE")
    second = coach.publish(gone, LATER + dt.timedelta(days=60))

    assert (first, status) == (Outcome({"unchanged": 1, "updated": 1}), ["CANCELLED", "1"])
    assert second == Outcome({"unchanged": 1, "deleted": 1})
    assert server.request("GET", f"{server.calendar}{UID_15}.ics")[0] == 404


def test_entries_of_others_are_never_touched(server: Radicale) -> None:
    """Somebody's own appointment is byte for byte what it was, with its tag."""
    coach = Coach(server)
    coach.publish(planned())
    path = f"{server.calendar}dentist.ics"
    server.request("PUT", path, FOREIGN, **{"Content-Type": "text/calendar"})
    before = server.request("GET", path)
    coach.publish(planned(practice("01-13", start=dt.time(18))), LATER)
    coach.publish(planned(practice("01-13")), LATER + dt.timedelta(days=60))
    after = server.request("GET", path)

    assert (after[0], after[1], after[2]["ETag"]) == (200, before[1], before[2]["ETag"])


def edit(server: Radicale, uid: str, old: bytes, new: bytes) -> None:
    """Change an entry as another program would."""
    body = server.entry(uid).replace(old, new)
    headers = {"Content-Type": "text/calendar"}
    assert server.request("PUT", f"{server.calendar}{uid}.ics", body, **headers)[0] in (201, 204)


@pytest.mark.parametrize("overwrite", [False, True])
def test_another_persons_edit_is_kept_and_reported(server: Radicale, overwrite: bool) -> None:
    """Their words stay unless the coach says otherwise; either way the other entry goes on."""
    coach = Coach(server)
    coach.publish(planned())
    edit(server, UID_13, b"Kestrel Quay: practice", b"Practice (I drive)")
    moved = planned(*(practice(day, start=dt.time(18)) for day in ("01-13", "01-15")))
    outcome = coach.publish(moved, LATER, overwrite=overwrite)

    words = fields(server.entry(UID_13), "SUMMARY", "DTSTART")
    if overwrite:
        assert outcome == Outcome({"updated": 2})
        assert words == ["Kestrel Quay: practice", "20270113T180000"]
    else:
        assert outcome.steps == {"kept": 1, "updated": 1}
        assert [(p.level, p.found) for p in outcome.problems] == [
            ("warning", "2027-01-13 Kestrel Quay: practice")
        ]
        assert words == ["Practice (I drive)", "20270113T173000"]


def test_an_alarm_that_someone_added_survives_while_nothing_changes(server: Radicale) -> None:
    """A reminder is its owner's affair; it is no edit of the event."""
    coach = Coach(server)
    coach.publish(planned())
    alarm = b"BEGIN:VALARM\r\nACTION:DISPLAY\r\nDESCRIPTION:x\r\nTRIGGER:-PT5M\r\nEND:VALARM\r\n"
    edit(server, UID_13, b"END:VEVENT", alarm + b"END:VEVENT")
    outcome = coach.publish(planned(), LATER)

    assert (outcome, b"VALARM" in server.entry(UID_13)) == (Outcome({"unchanged": 2}), True)


def test_an_entry_that_someone_deleted_is_not_put_back_unasked(server: Radicale) -> None:
    """The deletion is reported; asked for, the entry comes back."""
    coach = Coach(server)
    coach.publish(planned())
    server.request("DELETE", f"{server.calendar}{UID_13}.ics")
    kept, forced = coach.publish(planned(), LATER), coach.publish(planned(), LATER, overwrite=True)

    assert (kept.steps, forced.steps) == (
        {"kept": 1, "unchanged": 1},
        {"created": 1, "unchanged": 1},
    )


class Interrupted(CalDavServer):
    """A connection over which the program is killed at a chosen moment."""

    def __init__(self, plain: CalDavServer, after: int, *, answer_lost: bool) -> None:
        self.plain = plain
        self.left = after
        self.answer_lost = answer_lost

    def tags(self) -> Mapping[str, str]:
        """Pass on."""
        return self.plain.tags()

    def get(self, name: str) -> tuple[bytes, str]:
        """Pass on."""
        return self.plain.get(name)

    def put(self, name: str, data: bytes, tag: str | None) -> str:
        """Pass on, until it is over: before the request, or after it and before the answer."""
        if self.left == 0 and not self.answer_lost:
            raise KeyboardInterrupt
        answer = self.plain.put(name, data, tag)
        if self.left == 0:
            raise KeyboardInterrupt
        self.left -= 1
        return answer


@pytest.mark.parametrize("answer_lost", [False, True])
@pytest.mark.parametrize("after", [0, 1, 2])
def test_a_killed_run_is_taken_up_where_it_ended(
    server: Radicale, after: int, answer_lost: bool
) -> None:
    """Killed before or after any request, a second run ends with every entry right, once."""
    coach = Coach(server)
    days = ("01-13", "01-15", "01-20")
    coach.publish(planned(*map(practice, days)))
    moved = planned(*(practice(day, start=dt.time(18)) for day in days))
    with pytest.raises(KeyboardInterrupt):
        coach.publish(moved, LATER, lambda c: Interrupted(c, after, answer_lost=answer_lost))
    outcome = coach.publish(moved, LATER + dt.timedelta(minutes=5))

    done = after + answer_lost
    expected = {"unchanged": done, "updated": 3 - done}
    assert outcome == Outcome({step: n for step, n in expected.items() if n})  # type: ignore[misc]
    starts = re.findall(rb"DTSTART;TZID=[^:]*:(\d{8}T\d{6})", server.everything())
    assert sorted(starts) == [b"20270113T180000", b"20270115T180000", b"20270120T180000"]


def test_a_run_killed_and_a_plan_changed_again(server: Radicale) -> None:
    """What the killed run left on the server is known as ours, not taken for somebody's edit."""
    coach = Coach(server)
    coach.publish(planned(practice("01-13")))
    with pytest.raises(KeyboardInterrupt):
        coach.publish(
            planned(practice("01-13", start=dt.time(18))),
            LATER,
            lambda c: Interrupted(c, 0, answer_lost=True),
        )
    last = planned(practice("01-13", start=dt.time(18, 15)))
    outcome = coach.publish(last, LATER + dt.timedelta(hours=1))

    assert outcome == Outcome({"updated": 1})
    assert fields(server.entry(UID_13), "DTSTART", "SEQUENCE") == ["20270113T181500", "2"]


class Failing(Interrupted):
    """A connection that breaks off, or finds that somebody was faster, at the second entry."""

    def __init__(self, plain: CalDavServer, fault: Exception) -> None:
        super().__init__(plain, 1, answer_lost=False)
        self.fault = fault

    def put(self, name: str, data: bytes, tag: str | None) -> str:
        """Pass the first on and raise at the second."""
        try:
            return super().put(name, data, tag)
        except KeyboardInterrupt:
            raise self.fault from None


def test_a_connection_that_breaks_off_is_an_error_and_no_loss(server: Radicale) -> None:
    """What was done counts, the sentence says what to do, and the next run does the rest."""
    coach = Coach(server)
    broken = coach.publish(planned(), NOW, lambda c: Failing(c, ServerError("no connection")))
    rest = coach.publish(planned(), LATER)

    assert (broken.steps, [(p.says, p.level) for p in broken.problems]) == (
        {"created": 1},
        [("no connection", "error")],
    )
    assert rest == Outcome({"unchanged": 1, "created": 1})


def test_somebody_faster_is_a_warning(server: Radicale) -> None:
    """An entry that changes between reading and writing is left as it is."""
    outcome = Coach(server).publish(planned(), NOW, lambda c: Failing(c, ChangedError()))

    assert (outcome.steps, [p.level for p in outcome.problems]) == (
        {"created": 1, "kept": 1},
        ["warning"],
    )


def test_a_lost_ledger_does_not_double_anything(server: Radicale) -> None:
    """Entries are found again by their UID; the one that differs is reported, not overwritten."""
    coach = Coach(server)
    coach.publish(planned())
    coach.kept = Ledger(season=EMPTY.season, first_sequence=30_000_000)
    outcome = coach.publish(planned(practice("01-13", start=dt.time(18)), practice("01-15")), LATER)

    assert outcome.steps == {"kept": 1, "updated": 1}
    assert server.everything().count(b"BEGIN:VEVENT") == 2


def test_one_calendar_holds_one_audience(server: Radicale) -> None:
    """Families' entries in the coach's calendar would make sequences fall."""
    coach = Coach(server)
    coach.publish(planned())
    address = server_address(server.address)
    connection = CalDavServer(address, Login(USER, PASSWORD))
    _, outcome = publish({}, coach.kept, address, "families", connection, coach.keep)
    connection.close()

    assert (outcome.steps, [p.key for p in outcome.problems]) == ({}, ["--publish"])


@pytest.mark.parametrize(
    ("calendar", "password", "says"),
    [
        ("/coach/team/", "wrong", "refuses this name and password"),
        ("/coach/", PASSWORD, "this address is no calendar"),
        ("/coach/none/deep/", PASSWORD, "or this calendar"),
    ],
)
def test_a_server_that_cannot_be_used_is_a_sentence(
    shared: Radicale, calendar: str, password: str, says: str
) -> None:
    """Wrong password, wrong address: one sentence, no traceback."""
    server = CalDavServer(f"http://127.0.0.1:{shared.port}{calendar}", Login(USER, password))
    with pytest.raises(ServerError, match=says):
        server.open()
    server.close()


def test_no_server_is_a_sentence(tmp_path: Path) -> None:
    """Nobody listens at the address."""
    server = CalDavServer("http://127.0.0.1:9/coach/", Login(USER, PASSWORD))
    with pytest.raises(ServerError, match="no connection to the server"):
        server.open()
    server.close()
