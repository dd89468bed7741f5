"""A new season folder passes every check and plans at once, whatever was answered."""

import datetime as dt
import re
from dataclasses import replace
from pathlib import Path

import pytest

from curriculum.files.library import read_library
from curriculum.files.shipped import shipped
from curriculum.inspection import check_folder
from curriculum.models.base import ID_PATTERN
from curriculum.models.gymtimes import Weekday
from curriculum.models.skills import Library
from curriculum.outputs.season_file import season_text
from curriculum.planning import make_plan
from curriculum.problems import FaultyInputError
from curriculum.starter import (
    MOST_ID,
    PRIVATE,
    Answers,
    SlotAnswer,
    copy_demo,
    keep_private,
    make_folder,
    proposed_goals,
    season_of,
    zones_of,
)
from curriculum.workspace import open_season

NOW = dt.datetime(2027, 1, 5, 9, tzinfo=dt.UTC)
DEMOS = sorted(
    path.name for path in shipped("seasons").iterdir() if (path / "season.toml").exists()
)


@pytest.fixture(scope="module")
def library() -> Library:
    """Return the shipped library."""
    found, problems, _ = read_library([shipped("skills")])
    assert found is not None, problems
    return found


def answers(ages: tuple[int, int], weeks: int, *minutes: int, team: str = "Terns") -> Answers:
    """Return answers for a team with one gym evening per number of minutes."""
    days: tuple[Weekday, ...] = ("monday", "wednesday", "friday")
    return Answers(
        team=team,
        season="Spring",
        ages=ages,
        players=12,
        start=dt.date(2027, 1, 11),
        end=dt.date(2027, 1, 10) + dt.timedelta(weeks=weeks),
        timezone="Europe/Dublin",
        country="IE",
        venue="North Gym",
        baskets=4,
        slots=tuple(
            SlotAnswer(day, dt.time(17, 30), length)
            for day, length in zip(days, minutes, strict=False)
        ),
    )


@pytest.mark.parametrize(
    "given",
    [
        answers((7, 8), 8, 60),
        answers((10, 11), 12, 75, 75),
        answers((14, 15), 30, 90, 90, 90),
        answers((10, 11), 1, 45),
        answers((7, 8), 2, 75),
        answers((10, 11), 12, 75, team='Łódź "Terns" \\ Ünder-10'),
    ],
    ids=["under-9", "under-12", "under-16", "one week", "two evenings", "odd name"],
)
def test_a_new_season_checks_and_plans(given: Answers, library: Library, tmp_path: Path) -> None:
    """What is written has no problem, proposes goals, and meets every must-goal."""
    goals = proposed_goals(given, library)
    make_folder(tmp_path, season_text(season_of(given, goals), library))

    problems = check_folder(tmp_path, NOW)
    space = open_season(tmp_path, NOW).workspace

    assert [str(problem) for problem in problems] == []
    assert space is not None
    assert space.season.team.name == given.team
    assert space.season.goal == goals
    assert make_plan(space, now=NOW, today=None).plan.status != "partial"


@pytest.mark.parametrize(
    ("team", "other"),
    [
        ("東京", "Ёж"),
        ("Ёж U12", "Лев U12"),
        ("Terns Б", "Terns В"),
        ("\N{FOX FACE}", "\N{BEAR FACE}"),
        ("Kestrel Quay " * 5 + "A", "Kestrel Quay " * 5 + "B"),
    ],
    ids=["nothing readable", "numbers alone", "one letter lost", "no letters", "long"],
)
def test_teams_that_differ_have_different_ids(team: str, other: str) -> None:
    """Ids of seasons differ where names do, whatever the script, and are the same each time."""
    given = replace(answers((10, 11), 12, 75), season="春")
    found = [season_of(replace(given, team=each)).season.id for each in (team, other, team)]

    assert found[0] == found[2] != found[1]
    assert all(re.fullmatch(ID_PATTERN, each) and len(each) <= MOST_ID for each in found)


def test_a_name_that_can_be_read_stays_as_it_is() -> None:
    """An accent is no loss; a gym in another script is told apart from others by its hash."""
    given = replace(answers((10, 11), 12, 75, team="Été Terns"), venue="体育館")
    season = season_of(given)

    # The digits are those that `printf 体育館 | sha256sum` begins with.
    assert (season.season.id, season.venue[0].id) == ("ete-terns-spring-2027", "gym-0bd054")


def test_nothing_is_overwritten(tmp_path: Path) -> None:
    """A folder that holds a season is refused and left as it is."""
    (tmp_path / "season.toml").write_text("mine", encoding="utf-8")

    with pytest.raises(FaultyInputError, match="is not overwritten"):
        make_folder(tmp_path, "other")

    assert (tmp_path / "season.toml").read_text(encoding="utf-8") == "mine"


def test_an_empty_file_is_no_season(tmp_path: Path) -> None:
    """`check` says of an empty season file to start one in its folder, so that must work."""
    (tmp_path / "season.toml").write_text("\n", encoding="utf-8")

    target = make_folder(tmp_path, "mine")

    assert target.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize("demo", DEMOS)
def test_a_demo_is_copied_whole(demo: str, tmp_path: Path) -> None:
    """A copied demo has the same season file, keeps children's data private, and is sound."""
    copy_demo(shipped("seasons") / demo, tmp_path / "mine")

    original = (shipped("seasons") / demo / "season.toml").read_text(encoding="utf-8")
    assert (tmp_path / "mine" / "season.toml").read_text(encoding="utf-8") == original
    assert "players.toml" in (tmp_path / "mine" / ".gitignore").read_text(encoding="utf-8")
    assert check_folder(tmp_path / "mine", NOW) == ()


def test_zones_follow_the_country() -> None:
    """The time zone is proposed from the zone database's own table of countries."""
    assert zones_of("IE") == ("Europe/Dublin",)
    assert zones_of("nz")[0] == "Pacific/Auckland"
    assert zones_of("XX") == ()


@pytest.mark.parametrize("present", [b"", b"print/\n", b"print/", "print/\r\n".encode("utf-16")])
def test_what_version_control_ignores_is_only_added_to(tmp_path: Path, present: bytes) -> None:
    """Names of private files come below what stands there, whatever its encoding, and once."""
    ignore = tmp_path / ".gitignore"
    ignore.write_bytes(present)
    keep_private(tmp_path)
    once = ignore.read_bytes()
    keep_private(tmp_path)
    added = "\n".join(["# stays with the coach", *PRIVATE, ""]).encode()

    assert once == ignore.read_bytes()
    assert once in (present + added, present + b"\n" + added)
    assert set(PRIVATE) <= {line.decode("latin-1") for line in once.splitlines()}
