"""All teams at once: the same plans everywhere, no fault spreads, no work is done twice."""

import datetime as dt
import json
import os
import shutil
from collections.abc import Iterator
from concurrent.futures import Executor
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import icalendar
import pytest

from curriculum.club.outcome import Outcome
from curriculum.fleet import run
from curriculum.fleet.calendars import coach_calendar, gym_calendar
from curriculum.fleet.clubspace import open_club
from curriculum.fleet.executors import Start, cluster, in_process, processes
from curriculum.fleet.journal import JOURNAL_FILE, read_journal
from curriculum.fleet.parcels import Orders, Parcel, club_bytes, pack
from curriculum.fleet.run import plan_clubs, run_all
from curriculum.fleet.work import work
from curriculum.ledger import Ledger
from curriculum.problems import FaultyInputError
from curriculum.records.database import open_record, record_practice
from curriculum.store import not_written, replace_plan
from tests.record_cases import entry
from tests.test_club_reading import DEMO

NOW = dt.datetime(2026, 9, 1, tzinfo=dt.UTC)
ORDERS = Orders(NOW, NOW.date())
TEAMS = ("u8-girls", "u10-boys", "u12-girls")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a copy of the demo club."""
    return Path(shutil.copytree(DEMO, tmp_path / "club"))


def plan(
    folder: Path,
    teams: tuple[str, ...] = TEAMS,
    start: Start | None = None,
    orders: Orders = ORDERS,
    window: int = 2,
) -> dict[str, Outcome]:
    """Plan some teams and return what became of each."""
    outcomes = plan_clubs([(folder, teams)], orders, start or in_process(), window)
    return {outcome.team: outcome for outcome in outcomes}


def plans(folder: Path, teams: tuple[str, ...] = TEAMS) -> dict[str, bytes]:
    """Return the plans that stand in a club."""
    return {team: (folder / team / "plan.json").read_bytes() for team in teams}


def test_a_pool_plans_what_one_process_plans(folder: Path, tmp_path: Path) -> None:
    """Plans from two processes and from one are equal to the byte."""
    other = Path(shutil.copytree(folder, tmp_path / "other"))
    one = plan(folder)
    two = plan(other, start=processes(2))

    assert plans(folder) == plans(other)
    assert {team: each.digest for team, each in one.items()} == {
        team: each.digest for team, each in two.items()
    }


def test_a_plan_that_cannot_be_written_stops_no_other(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The team is told with what the system says; the next run tries it again."""

    def refuse(path: Path, data: bytes, mark: str) -> bool:
        if path.parent.name == TEAMS[0]:
            raise FaultyInputError([not_written(path, PermissionError(13, "Permission denied"))])
        return replace_plan(path, data, mark)

    with monkeypatch.context() as patched:
        patched.setattr(run, "replace_plan", refuse)
        first = plan(folder)

    assert {team: each.state for team, each in first.items()} == {
        TEAMS[0]: "faulty",
        TEAMS[1]: "planned",
        TEAMS[2]: "planned",
    }
    assert "cannot be written: permission denied" in first[TEAMS[0]].problems[0]
    assert plan(folder)[TEAMS[0]].state == "planned"


def test_a_plan_that_comes_too_late_takes_no_others_place(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A coach who plans a team while the club is planned keeps that plan; the others get theirs."""
    mine = folder / TEAMS[0] / "plan.json"

    def meanwhile(parcel: Parcel) -> Outcome:
        outcome = work(parcel)
        if parcel.team == TEAMS[0] and outcome.plan is not None:
            mine.write_bytes(outcome.plan.replace(b'"revision": 1', b'"revision": 9'))
        return outcome

    with monkeypatch.context() as patched:
        patched.setattr(run, "work", meanwhile)
        first = plan(folder)

    assert b'"revision": 9' in mine.read_bytes()
    assert [first[team].state for team in TEAMS] == ["faulty", "planned", "planned"]
    assert "another plan was put in force while this one was being made" in str(first[TEAMS[0]])


def test_a_cluster_plans_what_one_process_plans(folder: Path, tmp_path: Path) -> None:
    """Plans from a local Dask cluster of two workers are equal to the byte."""
    distributed = pytest.importorskip("distributed", reason="Dask is not installed")
    other = Path(shutil.copytree(folder, tmp_path / "other"))
    plan(folder)
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, processes=False, dashboard_address=":0"
    ) as local:
        plan(other, start=cluster(local.scheduler_address))

    assert plans(folder) == plans(other)


def test_a_missing_cluster_library_says_how_to_get_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without Dask an address is answered by one sentence."""

    def missing(name: str) -> None:
        raise ImportError(name)

    monkeypatch.setattr("curriculum.fleet.executors.import_module", missing)
    with pytest.raises(FaultyInputError, match="curriculum\\[cluster\\]"), cluster("tcp://here")():
        pass


def test_one_teams_fault_stops_nobody(folder: Path) -> None:
    """A faulty season is told with its own place, and the others are planned."""
    season = folder / "u10-boys" / "season.toml"
    season.write_text(season.read_text().replace("players = 11", "players = 0"), encoding="utf-8")

    found = plan(folder)

    assert {team: each.state for team, each in found.items()} == {
        "u8-girls": "planned",
        "u10-boys": "faulty",
        "u12-girls": "planned",
    }
    assert found["u10-boys"].problems[0].startswith(f"{season}:13: team.players: must be ")


def test_a_missing_season_is_told(folder: Path) -> None:
    """A team without a folder is faulty, with the way to make it."""
    shutil.rmtree(folder / "u10-boys")

    found = plan(folder)["u10-boys"]

    assert (found.state, len(found.problems)) == ("faulty", 1)
    assert str(folder / "u10-boys" / "season.toml") in found.problems[0]


def test_a_crash_of_the_program_is_one_teams_fault(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An unforeseen exception is told in words, and the others are planned."""

    def crash(parcel: Parcel) -> Outcome:
        if parcel.team == "u10-boys":
            raise ZeroDivisionError("by zero")
        return work(parcel)

    monkeypatch.setattr(run, "work", crash)
    found = plan(folder)

    assert {team: each.state for team, each in found.items()} == {
        "u8-girls": "planned",
        "u10-boys": "failed",
        "u12-girls": "planned",
    }
    assert found["u10-boys"].problems == (
        "the program failed on this team: ZeroDivisionError: by zero",
    )


def deadly(parcel: Parcel) -> Outcome:
    """Kill the process that works on one team, as a lack of memory would."""
    if parcel.team == "bad":
        os._exit(1)
    return Outcome(parcel.team, parcel.folder, "planned")


def test_a_dying_process_takes_only_its_team(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A team whose process dies is tried once more by itself; all others come through."""
    monkeypatch.setattr(run, "work", deadly)
    plain = pack((), "a", folder / "u8-girls", ORDERS)
    parcels = [replace(plain, team=name) for name in ("a", "b", "bad", "c", "d", "e")]

    found = {each.team: each for each in run_all(parcels, processes(2), window=3)}

    assert {team: each.state for team, each in found.items()} == {
        "a": "planned",
        "b": "planned",
        "bad": "failed",
        "c": "planned",
        "d": "planned",
        "e": "planned",
    }
    assert found["bad"].problems == ("the process that planned this team died twice",)


def test_a_stopped_run_goes_on(folder: Path) -> None:
    """Teams that were done are left alone; a torn line of the journal counts for nothing."""
    running = plan_clubs([(folder, TEAMS)], ORDERS, in_process(), 1)
    first = next(running)
    del running
    with (folder / JOURNAL_FILE).open("a") as journal:
        journal.write('{"team": "u10-boys", "giv')

    found = plan(folder)

    assert {team: each.state for team, each in found.items()} == {
        "u8-girls": "stands",
        "u10-boys": "planned",
        "u12-girls": "planned",
    }
    assert found["u8-girls"].digest == first.digest


@pytest.mark.parametrize(
    "change",
    [
        lambda folder: (folder / "curriculum.toml").write_text(
            (folder / "curriculum.toml").read_text().replace('"should"', '"must"')
        ),
        lambda folder: (folder / "u8-girls" / "plan.json").unlink(),
        lambda folder: (folder / "u8-girls" / "plan.json").write_text(
            (folder / "u8-girls" / "plan.json").read_text().replace("optimal", "feasible") + " "
        ),
    ],
    ids=["the club's curriculum", "a plan that is gone", "a plan edited by hand"],
)
def test_what_changed_is_planned_again(folder: Path, change: object) -> None:
    """A change in what goes in, or in the plan that stands, makes work again."""
    plan(folder, ("u8-girls",))
    assert callable(change)
    change(folder)

    assert plan(folder, ("u8-girls",))["u8-girls"].state in ("planned", "unchanged")


def test_nothing_changed_is_not_rewritten(folder: Path) -> None:
    """Planning again on another day gives the same plan, and its file keeps its bytes."""
    plan(folder, ("u8-girls",))
    before = plans(folder, ("u8-girls",))
    later = replace(ORDERS, today=dt.date(2026, 9, 2))

    assert plan(folder, ("u8-girls",), orders=later)["u8-girls"].state == "unchanged"
    assert plans(folder, ("u8-girls",)) == before


def test_the_journal_has_one_line_for_a_team(folder: Path) -> None:
    """A run ends with one line for a team, so the journal does not grow for ever."""
    for today in (dt.date(2026, 9, 1), dt.date(2026, 9, 2), dt.date(2026, 9, 3)):
        plan(folder, ("u8-girls",), orders=replace(ORDERS, today=today))
    lines = (folder / JOURNAL_FILE).read_text().splitlines()

    assert len(lines) == 1
    assert set(read_journal(folder / JOURNAL_FILE)) == {"u8-girls"}


def test_the_journal_does_not_show_who_finished_first(folder: Path, tmp_path: Path) -> None:
    """Teams planned in one order and in the other leave the same bytes, sorted by team."""
    other = Path(shutil.copytree(folder, tmp_path / "other"))
    plan(folder)
    plan(other, TEAMS[::-1])
    journal = folder / JOURNAL_FILE

    assert journal.read_bytes() == (other / JOURNAL_FILE).read_bytes()
    assert [json.loads(line)["team"] for line in journal.read_text().splitlines()] == sorted(TEAMS)


def test_no_childs_name_travels(folder: Path) -> None:
    """Neither players.toml nor names, notes and reasons of the record are in a parcel."""
    season = folder / "u8-girls"
    (season / "players.toml").write_text('players = ["Wren"]\n', encoding="utf-8")
    first, second = dt.date(2026, 10, 6), dt.date(2026, 10, 13)
    here = {"start": dt.time(16), "venue": "lantern-school", "minutes": 60}
    practices = [f"{day}-lantern-school-1600" for day in (first, second)]
    told = {"absent": ("Wren",), "note": "Wren was ill", "by": "Aoife"}
    lost = {"status": "lost", "reason": "Wren hurt a knee"}
    entries = (
        entry("00000001", practice=practices[0], date=first, **here, **told),
        entry("00000002", practice=practices[1], date=second, **here, **lost),
    )
    with open_record(season / "record.db") as db:
        for each in entries:
            record_practice(db, each, NOW, 0)

    parcel = pack(club_bytes(folder), "u8-girls", season, ORDERS)

    assert "players.toml" not in dict(parcel.season)
    assert "Wren" not in repr(parcel)
    assert [each.entry.practice for each in parcel.record.practices] == practices
    assert work(parcel).sound


def test_only_so_many_teams_are_on_their_way(folder: Path) -> None:
    """The window bounds how many parcels are packed before their outcomes are taken."""
    packed = 0
    plain = pack((), "a", folder / "u8-girls", ORDERS)

    def parcels() -> Iterator[Parcel]:
        nonlocal packed
        for number in range(50):
            packed += 1
            yield replace(plain, team=f"t{number}")

    most = 0
    for done, _ in enumerate(run_all(parcels(), in_process(), window=4), start=1):
        most = max(most, packed - done + 1)

    assert packed == 50
    assert most <= 4


def test_executors_are_renewed(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """After so many teams a new executor goes on with the rest, each team once."""
    monkeypatch.setattr(run, "work", deadly)
    monkeypatch.setattr(run, "RENEWED_AFTER", 3)
    plain = pack((), "a", folder / "u8-girls", ORDERS)
    started = 0

    @contextmanager
    def counting() -> Iterator[Executor]:
        nonlocal started
        started += 1
        with in_process()() as executor:
            yield executor

    found = list(run_all([replace(plain, team=f"t{n}") for n in range(7)], counting, window=2))

    assert [each.team for each in found] == [f"t{n}" for n in range(7)]
    assert started == 3


def test_an_executor_is_any_standard_one(folder: Path) -> None:
    """Whatever follows the standard interface will do, such as threads."""
    from concurrent.futures import ThreadPoolExecutor

    @contextmanager
    def threads() -> Iterator[Executor]:
        with ThreadPoolExecutor(2) as executor:
            yield executor

    found = plan(folder, start=threads)

    assert {each.state for each in found.values()} == {"planned"}


def test_a_gyms_calendar_holds_all_teams_there(folder: Path) -> None:
    """Every practice in a gym of every team, read back by a calendar library; no child is named."""
    plan(folder)
    space = open_club(folder, NOW)
    data, ledger = gym_calendar(space, "lantern-school", Ledger(season="kestrel-quay-club"), NOW)
    events = list(icalendar.Calendar.from_ical(data).walk("VEVENT"))
    held = [
        practice
        for team in TEAMS
        for practice in json.loads((folder / team / "plan.json").read_text())["practices"]
        if practice["venue"] == "lantern-school"
    ]

    assert len(events) == len(held) > 0
    assert gym_calendar(space, "lantern-school", ledger, NOW)[0] == data


def test_each_team_that_shares_a_hall_tells_its_own_reason(folder: Path) -> None:
    """Two teams with half a hall each lose one hour for two reasons, under one practice id."""
    teams = ("u10-boys", "u10-girls")
    plan(folder, teams)
    empty = Ledger(season="kestrel-quay-club")
    _, ledger = gym_calendar(open_club(folder, NOW), "lantern-school", empty, NOW)
    ids = [
        {each["id"]: each["date"] for each in json.loads(data)["practices"]}
        for data in plans(folder, teams).values()
    ]
    date = min(ids[0][each] for each in ids[0].keys() & ids[1].keys())
    for team in teams:
        with (folder / team / "season.toml").open("a", encoding="utf-8") as file:
            file.write(f'\n[[no_practice]]\ndate = {date}\nreason = "{team} are away"\n')
    plan(folder, teams)
    data, _ = gym_calendar(open_club(folder, NOW), "lantern-school", ledger, NOW)
    gone = [
        event
        for event in icalendar.Calendar.from_ical(data).walk("VEVENT")
        if event["STATUS"] == "CANCELLED"
    ]

    assert sorted((str(each["SUMMARY"]), str(each["DESCRIPTION"])) for each in gone) == [
        (
            "CANCELLED: Kestrel Quay Under-10 Boys: practice",
            "No practice: u10-boys are away.",
        ),
        (
            "CANCELLED: Kestrel Quay Under-10 Girls: practice",
            "No practice: u10-girls are away.",
        ),
    ]


def test_a_coachs_calendar_holds_all_of_her_teams(folder: Path) -> None:
    """Aoife has the Under-8 Girls here; her other team has no plan yet."""
    plan(folder)
    space = open_club(folder, NOW)
    data, _ = coach_calendar(space, "aoife", Ledger(season="kestrel-quay-club"), NOW)
    events = icalendar.Calendar.from_ical(data).walk("VEVENT")
    names = {str(event["SUMMARY"]).partition(":")[0] for event in events}

    assert names == {"Kestrel Quay Under-8 Girls"}


def test_a_calendar_needs_plans(folder: Path) -> None:
    """Without any plan the way to one is told."""
    space = open_club(folder, NOW)

    with pytest.raises(FaultyInputError, match="curriculum club plan"):
        gym_calendar(space, "north-gym", Ledger(season="kestrel-quay-club"), NOW)
