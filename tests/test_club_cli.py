"""The club's commands, run as a director runs them."""

import json
import re
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from curriculum.cli.main import cli
from curriculum.club.reading import read_club
from curriculum.club.writing import slots_text
from curriculum.models.club import ClubSlots
from curriculum.problems import FaultyInputError
from tests.test_club_reading import DEMO

NOW = ("--now", "2026-09-01T09:00")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a copy of the demo club."""
    return Path(shutil.copytree(DEMO, tmp_path / "club"))


def call(*words: object) -> Result:
    """Run a command and return what came of it; a fault of the input is raised."""
    return CliRunner().invoke(
        cli, [str(word) for word in words], standalone_mode=False, catch_exceptions=False
    )


def test_check_says_that_all_is_well(folder: Path) -> None:
    """The demo has no problem and no clash."""
    found = call("club", "check", folder)

    assert (found.return_value, found.output) == (
        0,
        "No two teams clash: no court is taken twice, no coach is in two places.\n",
    )


def test_check_finds_a_clash(folder: Path) -> None:
    """Two teams put on one court by hand are told, and the exit code is 1."""
    files = read_club(folder)
    taken = next(slot for slot in files.slots.slot if slot.team == "u12-boys")
    other = taken.model_copy(update={"team": "u16-boys"})
    crowded = ClubSlots(slot=(*files.slots.slot, other))
    (folder / "slots.toml").write_text(slots_text(crowded), encoding="utf-8")

    found = call("club", "check", folder)

    assert found.return_value == 1
    assert "Under-16 Boys 16:30-17:45 finds no free court beside Under-12 Boys" in " ".join(
        found.output.split()
    )


def test_curriculum_is_judged_and_printed(folder: Path) -> None:
    """The matrix comes with its verdict, and each kind of file is written."""
    found = call(
        "club", "curriculum", folder, "--csv", folder / "m.csv", "--pdf", folder / "m.pdf", *NOW
    )

    assert found.return_value == 0
    assert re.search(r"Under-8 +8 .* by practice \d+ of 16$", found.output, re.MULTILINE)
    assert (folder / "m.pdf").read_bytes().startswith(b"%PDF")
    assert len((folder / "m.csv").read_text().splitlines()) == 72


def test_a_proposal_is_written_on_demand(folder: Path) -> None:
    """The program's own proposal is what the demo holds; it is written only when asked for."""
    path = folder / "curriculum.toml"
    before = path.read_text()
    path.unlink()

    call("club", "curriculum", folder, "--propose")
    assert not path.exists()

    call("club", "curriculum", folder, "--propose", "--write")
    assert path.read_text() == before


def test_a_curriculum_without_a_need_fails(folder: Path) -> None:
    """An error in the curriculum gives exit code 1 and its sentence."""
    (folder / "curriculum.toml").write_text('[[reach]]\nage_group = "u8"\nlive = ["pivot"]\n')

    found = call("club", "curriculum", folder)

    assert found.return_value == 1
    assert "pivot (unopposed) needs jump-stop (unopposed)" in found.output


def test_allocate_writes_unless_it_is_a_trial(folder: Path) -> None:
    """A dry run leaves the file alone; the demo's own times are kept by a real one."""
    before = (folder / "slots.toml").read_bytes()
    tried = call("club", "allocate", folder, "--effort", "quick", "--fresh", "--dry-run")
    assert (tried.return_value, (folder / "slots.toml").read_bytes()) == (0, before)

    made = call("club", "allocate", folder, "--effort", "quick")
    assert made.return_value == 0
    assert "Against last term" not in made.output


def test_plan_and_show(folder: Path) -> None:
    """Two teams are planned, told one by one, and stand on the club's page."""
    made = call(
        "club", "plan", folder, "--team", "u8-girls", "--team", "u12-boys", "--workers", 1, *NOW
    )
    assert made.output == (
        "[1/2] u8-girls: planned\n[2/2] u12-boys: planned\n2 of 2 teams have a plan.\n"
    )

    shown = call("club", "show", folder, "--today", "2026-10-07")
    assert shown.output.startswith("Kestrel Quay Basketball Club  Mon 5 Oct to Sun 11 Oct\n")
    assert "NEW" in shown.output

    stands = call("club", "show", folder, "--standing", "--json")
    assert [each["team"] for each in json.loads(stands.output)] == ["u8-girls", "u12-boys"]


def test_a_faulty_team_gives_exit_code_one(folder: Path) -> None:
    """One team without a season: the other is planned, and the code says that not all is well."""
    shutil.rmtree(folder / "u8-girls")

    found = call(
        "club",
        "plan",
        folder,
        "--team",
        "u8-girls",
        "--team",
        "u8-boys",
        "--workers",
        1,
        "--json",
        *NOW,
    )

    assert found.return_value == 1
    assert [each["state"] for each in json.loads(found.output)] == ["faulty", "planned"]


def test_a_federation_is_planned_club_by_club(tmp_path: Path) -> None:
    """A folder of two clubs is planned as one."""
    for name in ("east", "west"):
        shutil.copytree(DEMO, tmp_path / name)

    found = call("club", "plan", tmp_path, "--team", "u8-girls", "--workers", 1, *NOW)

    assert found.output == (
        "[1/2] u8-girls: planned\n[2/2] u8-girls: planned\n2 of 2 teams have a plan.\n"
    )


def test_joiner_lists_what_to_check(folder: Path) -> None:
    """Who joins the Under-10 lacks what the Under-8 learn; what the player can do is left out."""
    every = json.loads(call("club", "joiner", folder, "u10-boys", "--json").output)
    some = json.loads(
        call("club", "joiner", folder, "u10", "--can", "jump-stop@unopposed", "--json").output
    )
    left_out = {each["skill"] for each in every} - {each["skill"] for each in some}

    assert len(every) == 8
    assert left_out == {"athletic-stance", "jump-stop"}


def test_a_calendar_for_a_gym_and_for_a_coach(folder: Path) -> None:
    """Both are written beside the club's file."""
    call("club", "plan", folder, "--team", "u8-girls", "--workers", 1, *NOW)
    call("club", "calendar", folder, "--gym", "lantern-school", *NOW)
    call("club", "calendar", folder, "--coach", "aoife", *NOW)

    for name in ("lantern-school.ics", "aoife.ics"):
        assert (folder / name).read_bytes().startswith(b"BEGIN:VCALENDAR")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (
            ("plan", "--team", "u8-girl"),
            "the club has none of this id (found u8-girl); did you mean",
        ),
        (("joiner", "u9"), "GROUP: the club has none of this id (found u9)"),
        (("calendar", "--gym", "north"), "did you mean"),
    ],
)
def test_unknown_names_are_told(folder: Path, words: tuple[str, ...], said: str) -> None:
    """A name that nobody has comes with the nearest one, or a hint."""
    with pytest.raises(FaultyInputError) as caught:
        call("club", words[0], folder, *words[1:])

    assert said in str(caught.value)


def test_two_teams_under_one_season_id_are_told(folder: Path) -> None:
    """A season copied from another team keeps its id: the phone would mix the two."""
    shutil.copy(folder / "u12-girls" / "season.toml", folder / "u12-boys" / "season.toml")

    found = call("club", "check", folder, "--json")
    (problem,) = json.loads(found.output)["problems"]

    assert found.return_value == 1
    assert problem == {
        "file": str(folder / "u12-boys" / "season.toml"),
        "line": 4,
        "key": "season.id",
        "says": "the season of u12-girls has this id too, so in a phone their practices mix",
        "found": '"kestrel-quay-u12-girls-2026-27"',
        "way_out": "give one of the two an id of its own before its calendar goes out",
        "level": "error",
    }


def test_names_that_differ_in_punctuation_alone_are_told(folder: Path) -> None:
    """`Terns, A` and `Terns A` are read aloud alike and get one id: the club says so."""
    for team, name in (("u12-girls", "Terns, A"), ("u12-boys", "Terns A")):
        shutil.rmtree(folder / team)
        answers = ("--ages", "10-11", "--start", "2026-10-05", "--slot", "tue 17:00 60")
        call("new", folder / team, "--team", name, *answers)

    problems = json.loads(call("club", "check", folder, "--json").output)["problems"]

    assert [(each["file"], each["key"]) for each in problems if each["level"] == "error"] == [
        (str(folder / "u12-boys" / "season.toml"), "season.id")
    ]
