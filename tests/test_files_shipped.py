"""Which folders a season's library is read from."""

import datetime as dt
from pathlib import Path

import pytest

from curriculum.files import shipped as module
from curriculum.files.library import read_library
from curriculum.files.shipped import library_folders, own_drills, shipped
from curriculum.models.season import Frame, Season, Team
from curriculum.problems import Problem

ROOT = Path(__file__).parent.parent


def season(library: tuple[str, ...] | None) -> Season:
    """Return a season that names this library."""
    frame = Frame(
        id="terns",
        name="Winter",
        start=dt.date(2027, 1, 11),
        end=dt.date(2027, 4, 4),
        timezone="Europe/Dublin",
        library=library,
    )
    return Season(season=frame, team=Team(name="Terns", ages=(10, 11), players=12))


def test_a_checkout_ships_its_top_folders() -> None:
    """Without folders inside the package, those of the checkout are used."""
    assert shipped("skills") == ROOT / "skills"
    assert shipped("seasons") == ROOT / "seasons"


def test_a_wheel_ships_folders_inside_the_package(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the package holds them, they come first."""
    inside = tmp_path / "curriculum" / "shipped" / "skills"
    inside.mkdir(parents=True)
    monkeypatch.setattr(module, "__file__", str(tmp_path / "curriculum" / "files" / "shipped.py"))

    assert shipped("skills") == inside
    assert shipped("seasons") == tmp_path / "seasons"


def test_without_a_list_the_shipped_library_is_used(tmp_path: Path) -> None:
    """A season that names no library gets the shipped one."""
    assert library_folders(season(None), tmp_path) == ((ROOT / "skills",), ())


def test_folders_beside_the_season_take_its_place(tmp_path: Path) -> None:
    """Named folders are used alone; "shipped" adds the shipped one in front, wherever it stands."""
    (tmp_path / "mine").mkdir()
    (tmp_path / "ours").mkdir()

    alone = library_folders(season(("mine", "ours")), tmp_path)
    added = library_folders(season(("mine", "shipped")), tmp_path)

    assert alone == ((tmp_path / "mine", tmp_path / "ours"), ())
    assert added == ((ROOT / "skills", tmp_path / "mine"), ())


def test_missing_folders_are_told(tmp_path: Path) -> None:
    """Each folder that is not there is a problem with its key, the others are used."""
    (tmp_path / "mine").mkdir()
    says = "there is no such folder beside the season file"

    assert library_folders(season(("mine", "min", "zone")), tmp_path) == (
        (tmp_path / "mine",),
        (
            Problem("", 0, "season.library[2]", says, '"min"', 'did you mean "mine"?'),
            Problem("", 0, "season.library[3]", says, '"zone"', 'make it, or write "shipped"'),
        ),
    )


def test_an_empty_list_is_told(tmp_path: Path) -> None:
    """A list of no folder would be a library of no skill."""
    folders, problems = library_folders(season(()), tmp_path)

    assert folders == ()
    assert [each.sentence for each in problems] == [
        "season.library: names no folder (found []); delete the line to use the shipped library"
    ]


def test_own_drills_are_those_of_no_shipped_file(tmp_path: Path) -> None:
    """A coach's drill beside the shipped library is her own, in a file of any name."""
    (tmp_path / "mine.toml").write_text(
        'strand = "Own"\n\n[[drill]]\nid = "own-drill"\nname = "Own drill"\n'
        'serves = ["give-and-go@unopposed"]\nnumbers = "1v0"\nplayers = [1, 4]\nseconds = 10\n'
        'how = "Dribble."\nspots = [{who = "1", at = "top", ball = true}]\n'
        'actions = [{do = "dribble", by = "1", to = "left-wing"}]\n'
        'rotation = [{from = "1", to = "1"}]\n'
    )
    library, problems, sources = read_library([shipped("skills"), tmp_path])

    assert library is not None, problems
    assert [drill.id for drill in own_drills(library, sources)] == ["own-drill"]
