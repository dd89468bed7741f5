"""A problem found later gets its file and line from the key that it names."""

from pathlib import Path

import pytest

from curriculum.files.library import read_library
from curriculum.files.season import read_season_file
from curriculum.files.sources import SourceMap, key_path, relocate
from curriculum.problems import Problem
from tests.case_files import CASES

SEASON = CASES / "season" / "sound.toml"
LIBRARY = CASES / "library"


@pytest.fixture
def season() -> SourceMap:
    """Return the sources of the sound season."""
    return read_season_file(SEASON).sources


@pytest.fixture
def library() -> SourceMap:
    """Return the sources of the small library."""
    return read_library([LIBRARY])[2]


def line_of(path: Path, text: str) -> int:
    """Return the 1-based number of the line that reads so."""
    return path.read_text(encoding="utf-8").split("\n").index(text) + 1


def test_lines_fall_back_to_what_stands_around(season: SourceMap) -> None:
    """A key that is not written has the line of its table, an unknown table none."""
    header = line_of(SEASON, "[[slot]]")

    assert season.line("slot", 0, "minutes") == line_of(SEASON, "minutes = 75")
    assert season.line("slot", 0, "expected") == header
    assert season.line("slot", 0) == header
    assert season.line("slot", 5, "minutes") == header
    assert season.line("holidays", "country") == 0
    assert season.line() == 0


def test_values_are_shown_as_they_are_written(season: SourceMap) -> None:
    """The text of a value has its quotes; what is not written has none."""
    assert season.text("slot", 0, "venue") == '"north-gym"'
    assert season.text("team", "ages") == "[10, 12]"
    assert season.text("slot", 0, "until") == ""


def test_skills_have_a_place_in_their_file(library: SourceMap) -> None:
    """A skill is found by its id, and so is every element in it."""
    passing = LIBRARY / "passing.toml"

    assert library.place("give-and-go", "needs", 0) == (
        str(passing),
        line_of(passing, 'needs = ["chest-pass"]'),
    )
    assert library.place("lay-up") == (str(LIBRARY / "shooting.toml"), 4)
    assert library.place("give-and-go", "live", "baskets") == (
        str(passing),
        line_of(passing, "[skill.live]"),
    )
    assert library.place("dunk") == ("", 0)


def test_problems_of_others_get_their_place(season: SourceMap, library: SourceMap) -> None:
    """Keys of the season and of skills are found; a place that is known already stays."""
    problems = (
        Problem("", 0, "slot[1].minutes", "a"),
        Problem("", 0, "give-and-go.needs[1]", "b"),
        Problem("", 0, "", "c"),
        Problem("plan.json", 7, "slot[1].minutes", "d"),
    )

    passing = LIBRARY / "passing.toml"
    placed = relocate(relocate(problems, library), season)

    assert [(each.file, each.line) for each in placed] == [
        (str(SEASON), line_of(SEASON, "minutes = 75")),
        (str(passing), line_of(passing, 'needs = ["chest-pass"]')),
        (str(SEASON), 0),
        ("plan.json", 7),
    ]


def test_keys_as_messages_write_them() -> None:
    """A key counts from 1 and its path from 0."""
    sources = SourceMap(names={("skill", 3): "pivot"})

    assert sources.key("slot", 1, "minutes") == "slot[2].minutes"
    assert sources.key("skill", 3, "live", "needs", 0) == "pivot.live.needs[1]"
    assert key_path("slot[2].minutes") == ("slot", 1, "minutes")
    assert key_path("give-and-go.needs[1]") == ("give-and-go", "needs", 0)
    assert key_path("") == ()
