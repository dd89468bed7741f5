"""Commands on a folder and one thing in it, called where the folder is the current one."""

from pathlib import Path

import pytest

from tests.command_line import NOW, QUICK, Line


@pytest.fixture
def home(line: Line, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a planned demo season that is the current folder."""
    folder = tmp_path / "demo"
    line("new", folder, "--from", "kestrel-quay-u12")
    line("plan", folder, *QUICK)
    monkeypatch.chdir(folder)
    return folder


@pytest.mark.parametrize(
    "words",
    [
        ("why", "give-and-go", "--stage", "unopposed"),
        ("why", "Give and go", "--stage", "unopposed"),
        ("sheet", "2027-01-20"),
        ("record", "2027-01-13", "--history"),
    ],
    ids=" ".join,
)
def test_the_current_folder_is_meant_where_none_is_named(
    line: Line, home: Path, words: tuple[str, ...]
) -> None:
    """A single word is the skill or the date, not a folder of that name."""
    alone = line(*words, *NOW)
    named = line(words[0], home, *words[1:], *NOW)

    assert alone == named
    assert alone.code == 0
    assert alone.out


def test_a_single_word_is_the_folder_where_it_names_one(line: Line, home: Path) -> None:
    """What stands in the current folder under that name is what is meant."""
    line("new", "terns", "--from", "kestrel-quay-u12")

    without_plan, without_skill = line("sheet", "terns", *NOW), line("why", "terns")

    assert without_plan.err.startswith("terns: there is no plan here yet")
    assert "Missing argument 'SKILL'" in without_skill.err


def test_a_date_written_another_way_is_told(line: Line, home: Path) -> None:
    """It is no folder that could be started with `curriculum new`."""
    ended = line("sheet", "18.1.2027", *NOW)

    assert ended.code == 2
    assert "'18.1.2027' is not a date; write it like 2027-01-20" in ended.err


def test_outside_of_a_season_a_single_word_is_a_folder(
    line: Line, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where no season stands, a misspelt folder is the likelier slip."""
    monkeypatch.chdir(tmp_path)

    ended = line("sheet", "demmo", *NOW)

    assert ended.code == 1
    assert "there is no such folder" in ended.err


def test_a_club_that_is_the_current_folder_may_be_left_out(
    line: Line, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same holds for a club and an age group in it."""
    line("new", tmp_path / "club", "--from", "kestrel-quay-club")
    monkeypatch.chdir(tmp_path / "club")

    ended = line("club", "joiner", "u12")

    assert ended.code == 0
    assert ended.out.startswith("To check with a player who joins Under-12")


def test_why_tells_that_the_calendar_has_changed(line: Line, home: Path) -> None:
    """A block on a date that is gone since cannot be explained, so the plan's age is told."""
    file = home / "season.toml"
    gone = "\n[[no_practice]]\ndate = 2027-01-13\n"
    file.write_text(file.read_text(encoding="utf-8") + gone, encoding="utf-8")

    ended = line("why", "v-cut", *NOW)

    assert "Wed 13 Jan 17:30 is not held any more (no practice: called off)" in ended.err
