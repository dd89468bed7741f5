"""A foreign calendar on its way into a season: taken in once, replaced when it comes again."""

from pathlib import Path

import pytest

from curriculum.files.season import read_season_file
from curriculum.intake import preview_one, take_in
from curriculum.models.calendars import CalendarIn
from curriculum.problems import FaultyInputError
from tests.record_season import write_season

TABLE = "Date,Time,Home,Away\n2027-01-16,10:00,Kestrel Quay Under-12,Harbour Gulls\n"
GAMES = CalendarIn(file="league.csv", means="games", minutes=40)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a season with no calendar of others."""
    write_season(tmp_path / "season")
    return tmp_path / "season"


def league(tmp_path: Path, text: str = TABLE) -> Path:
    """Write the league's table somewhere else and return its path."""
    path = tmp_path / "league.csv"
    path.write_text(text)
    return path


def test_a_file_is_copied_and_named(folder: Path, tmp_path: Path) -> None:
    """Looking changes nothing; taking in puts the file beside the season and names it there."""
    source = league(tmp_path)
    before = (folder / "season.toml").read_text()

    assert preview_one(folder, source, GAMES).changes == (
        "added: Sat 16 Jan 10:00 Harbour Gulls, home",
    )
    assert (folder / "season.toml").read_text() == before
    assert take_in(folder, source, GAMES) == folder / "league.csv"
    assert (folder / "season.toml").read_text().startswith(before)
    assert read_season_file(folder).sound.calendar == (GAMES,)  # type: ignore[union-attr]


def test_a_newer_file_takes_the_place_of_the_older_one(folder: Path, tmp_path: Path) -> None:
    """The league moves a game: the file is replaced, named once, and only the move is told."""
    take_in(folder, league(tmp_path), GAMES)
    moved = league(tmp_path, TABLE.replace("10:00", "12:00"))
    shorter = GAMES.model_copy(update={"minutes": 30})

    assert preview_one(folder, moved, shorter).changes == (
        "changed: Sat 16 Jan 10:00 Harbour Gulls, home -> Sat 16 Jan 12:00 Harbour Gulls, home",
    )
    take_in(folder, moved, shorter)
    assert (folder / "league.csv").read_text() == moved.read_text()
    assert read_season_file(folder).sound.calendar == (shorter,)  # type: ignore[union-attr]


def test_a_season_in_braces_stays_one(folder: Path, tmp_path: Path) -> None:
    """Where calendars stand in braces, one more stands there too."""
    (folder / "gym.csv").write_text(TABLE)
    path = folder / "season.toml"
    entry = 'calendar = [{file = "gym.csv", means = "closures"}]\n'
    path.write_text(entry + path.read_text())

    take_in(folder, league(tmp_path), GAMES)

    reading = read_season_file(folder)
    assert reading.problems == ()
    assert [each.file for each in reading.sound.calendar] == ["gym.csv", "league.csv"]  # type: ignore[union-attr]


def test_a_file_that_the_season_does_not_name_is_not_overwritten(
    folder: Path, tmp_path: Path
) -> None:
    """What lies there may be somebody's work."""
    (folder / "league.csv").write_text("mine")

    with pytest.raises(FaultyInputError, match="another file of this name"):
        take_in(folder, league(tmp_path), GAMES)
    assert (folder / "league.csv").read_text() == "mine"
