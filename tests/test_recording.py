"""From what a coach says to what is recorded: the practice, its blocks, all faults at once."""

import datetime as dt
from pathlib import Path

import pytest

from curriculum.files.players import read_players
from curriculum.graph import Node
from curriculum.inspection import check_folder
from curriculum.models.record import Entry, Saved
from curriculum.planning import keep, make_plan
from curriculum.problems import FaultyInputError
from curriculum.recording import (
    Blank,
    Outcome,
    Said,
    blank_of,
    entry_of,
    keep_entry,
    submissions,
)
from curriculum.workspace import Workspace, open_season
from tests.record_season import write_season

NOW = dt.datetime(2027, 1, 16, 12, 0, tzinfo=dt.UTC)
WEDNESDAY, FRIDAY = dt.date(2027, 1, 13), dt.date(2027, 1, 15)
CLIENT = "coach-0001"
FIRST: Node = ("give-and-go", "unopposed")
SECOND: Node = ("give-and-go", "guided")


def reopened(folder: Path) -> Workspace:
    """Open a season folder that is sound."""
    opening = open_season(folder, NOW)
    assert opening.workspace is not None, opening.problems
    return opening.workspace


@pytest.fixture
def space(tmp_path: Path) -> Workspace:
    """Return a planned season folder: give-and-go on the first three dates."""
    write_season(tmp_path)
    first = reopened(tmp_path)
    keep(first, make_plan(first, now=NOW, today=None))
    return reopened(tmp_path)


def blank(space: Workspace, day: dt.date | None = None) -> Blank:
    """Return the blank of a date, of the last practice without one."""
    assert space.plan is not None
    return blank_of(space, space.plan, day, None, NOW.date())


def said(space: Workspace, what: Said, day: dt.date = WEDNESDAY, client: str = CLIENT) -> Entry:
    """Return the entry of what a coach says of a practice."""
    return entry_of(space, blank(space, day), what, client, NOW.date())


def sentences(space: Workspace, what: Said, day: dt.date = WEDNESDAY) -> list[str]:
    """Return what is wrong with what a coach says."""
    with pytest.raises(FaultyInputError) as fault:
        said(space, what, day)
    return [problem.sentence for problem in fault.value.problems]


def test_the_blank_is_the_plan(space: Workspace) -> None:
    """Before anything is recorded, the blank holds the blocks as planned, all held."""
    found = blank(space, WEDNESDAY)

    assert (found.practice, found.minutes, found.version) == ("2027-01-13-north-gym-1730", 75, 0)
    assert [(b.node, b.number, b.kind, b.held, b.went) for b in found.blocks] == [
        (("give-and-go", "unopposed"), 1, "introduce", "held", None)
    ]


def test_without_a_date_the_last_practice_is_meant(space: Workspace) -> None:
    """On Saturday that is Friday's practice."""
    assert blank(space).date == FRIDAY


def test_a_date_without_practice_names_the_nearest(space: Workspace) -> None:
    """A coach who mistakes the date is told the dates around it."""
    with pytest.raises(FaultyInputError, match=r"Wed 13 Jan \(2027-01-13\), Fri 15 Jan"):
        blank(space, dt.date(2027, 1, 14))


def test_what_is_said_is_recorded(space: Workspace) -> None:
    """Outcomes go to their blocks; what nobody speaks of was held as planned."""
    entry = said(space, Said("held", outcomes={FIRST: Outcome("partly", "solid")}, note="loud"))

    assert entry.note == "loud"
    assert [(b.node, b.held, b.went, b.planned) for b in entry.blocks] == [
        (FIRST, "partly", "solid", True)
    ]


def test_a_block_beside_the_plan(space: Workspace) -> None:
    """What was held and not planned is kept with the library's minutes, marked as unplanned."""
    node = SECOND
    entry = said(space, Said("held", outcomes={node: Outcome("held", "solid")}))

    found = entry.blocks[-1]
    assert (found.node, found.kind, found.number, found.of, found.minutes, found.planned) == (
        node,
        "build",
        1,
        1,
        8,
        False,
    )


def test_a_skill_that_the_season_does_not_ask_for_can_be_recorded(space: Workspace) -> None:
    """The record is of what happened, not of what was asked for."""
    node: Node = ("v-cut", "unopposed")
    entry = said(space, Said("held", outcomes={node: Outcome()}))

    assert [(b.node, b.kind) for b in entry.blocks][-1] == (node, "build")


def test_a_lost_practice_keeps_what_was_planned(space: Workspace) -> None:
    """Its blocks stand there as not held, so that they are still to be held."""
    entry = said(space, Said("lost", reason="ice on the road"))

    assert [(b.node, b.held) for b in entry.blocks] == [(("give-and-go", "unopposed"), "not held")]


def test_all_that_is_wrong_is_said_at_once(space: Workspace) -> None:
    """A future practice, an unknown player and an unknown skill are three problems."""
    (space.folder / "players.toml").write_text('players = ["Aoife"]', encoding="utf-8")
    what = Said("held", outcomes={("give-and-got", "live"): Outcome()}, absent=("Aofie",))

    assert sentences(space, what, dt.date(2027, 1, 20)) == [
        (
            "the library has no such skill or stage (found give-and-got@live); "
            'did you mean "give-and-go@guided"?'
        ),
        (
            "this practice has not been held yet (found 2027-01-20); "
            "record it when it has been, or as lost"
        ),
        'no player of this name (found Aofie); did you mean "Aoife"?',
    ]


def test_absences_need_the_coachs_list(space: Workspace) -> None:
    """Without players.toml a name is refused, with how to write the file."""
    assert sentences(space, Said("held", absent=("Aoife",))) == [
        'no player of this name (found Aoife); write the names there first: players = ["Aoife"]'
    ]


def test_a_faulty_list_of_players_is_told_at_its_line(space: Workspace) -> None:
    """The file is read like every file of a season."""
    (space.folder / "players.toml").write_text('players = ["Aoife", 7]', encoding="utf-8")

    names, problems = read_players(space.folder)

    assert names == ()
    assert [(each.line, each.found) for each in problems] == [(1, "7")]


def test_blocks_of_a_lost_practice_are_refused(space: Workspace) -> None:
    """Nothing was held in a practice that was lost."""
    found = sentences(space, Said("lost", reason="ice", outcomes={FIRST: Outcome()}))
    assert found == ["in a lost practice no block is held; leave the blocks out"]


def test_too_many_minutes_are_refused(space: Workspace) -> None:
    """A practice of 75 minutes cannot be shortened to 80."""
    assert (
        "a practice of 75 minutes is shortened to fewer"
        in sentences(space, Said("shortened", minutes_held=80))[0]
    )


def test_recording_leaves_the_plan_alone(space: Workspace) -> None:
    """The file of the plan keeps its bytes; the folder now knows the record and more blocks."""
    plan = (space.folder / "plan.json").read_bytes()
    entry = said(space, Said("held", outcomes={FIRST: Outcome("held", "shaky")}))

    kept, after = keep_entry(space, entry, NOW, 0)

    assert kept == Saved(1, 0, NOW, entry)
    assert (space.folder / "plan.json").read_bytes() == plan
    assert after.record.entries == (entry,)
    assert {job.stage: job.blocks for job in after.workload.jobs} == {"unopposed": 3, "guided": 1}
    assert after.published


def test_the_record_stays_out_of_version_control(space: Workspace) -> None:
    """The first entry makes git ignore what is private, and keeps what it ignored already."""
    (space.folder / ".gitignore").write_text("print/\n", encoding="utf-8")

    keep_entry(space, said(space, Said("held")), NOW, 0)

    assert (space.folder / ".gitignore").read_text(encoding="utf-8").splitlines() == [
        "print/",
        "# stays with the coach",
        "players.toml",
        "record.db*",
        "server.db*",
        ".published.json.lock*",
        ".plan.json.lock*",
        ".plan.json.before",
    ]


def test_a_correction_starts_from_what_stands(space: Workspace) -> None:
    """The blank of a recorded practice holds its version and outcomes; a loss is taken back."""
    keep_entry(space, said(space, Said("lost", reason="ice")), NOW, 0)
    after = reopened(space.folder)

    found = blank(after, WEDNESDAY)
    kept, _ = keep_entry(after, said(after, Said("held"), client="coach-0002"), NOW, found.version)

    assert (found.version, [b.held for b in found.blocks]) == (1, ["held"])
    assert isinstance(kept, Saved)
    assert (kept.version, kept.entry.status) == (2, "held")
    assert [each.version for each in submissions(after, found.practice)] == [1, 2]
    assert WEDNESDAY in {practice.date for practice in reopened(space.folder).gym.practices}


def test_the_first_promise_is_kept(space: Workspace) -> None:
    """When recording begins, the dates by which stages were planned are remembered for good."""
    _, after = keep_entry(space, said(space, Said("held")), NOW, 0)

    assert [(each.stage, each.date) for each in after.record.promises] == [
        ("guided", dt.date(2027, 1, 20)),
        ("unopposed", FRIDAY),
    ]


def test_check_says_that_a_plan_does_not_follow_yet(space: Workspace) -> None:
    """After a shaky block the old plan is no error: one warning says that another is due."""
    entry = said(space, Said("held", outcomes={FIRST: Outcome("held", "shaky")}))
    later = NOW + dt.timedelta(hours=1)
    _, after = keep_entry(space, entry, later, 0)

    before = check_folder(space.folder, later)
    keep(after, make_plan(after, now=later, today=later.date()))

    assert [(each.level, each.says) for each in before] == [
        ("warning", "the plan does not follow yet what was recorded after it was made")
    ]
    assert check_folder(space.folder, later) == ()


def test_practices_outside_the_season_are_left_aside(space: Workspace) -> None:
    """When the season's dates change under a record, that is said and nothing is counted."""
    keep_entry(space, said(space, Said("held")), NOW, 0)
    file = space.folder / "season.toml"
    moved = file.read_text(encoding="utf-8").replace("start = 2027-01-11", "start = 2027-01-14")
    file.write_text(moved, encoding="utf-8")

    after = reopened(space.folder)

    assert after.record.practices == ()
    assert [each.says for each in after.problems] == [
        "practices are recorded on dates outside the season, and count for nothing"
    ]


def test_a_record_that_cannot_be_read_stops_the_season(space: Workspace) -> None:
    """A faulty record is an error with a way out, for to plan without it would undo the past."""
    (space.folder / "record.db").write_text("no database" * 100, encoding="utf-8")

    opening = open_season(space.folder, NOW)

    assert opening.workspace is None
    assert [each.says for each in opening.problems] == ["this record cannot be used"]
