"""Every fault of a season file is told in one whole sentence at its line."""

from pathlib import Path

import pytest

from curriculum.files.checks import read_season_folder
from curriculum.files.season import read_season_file, season_file
from tests.case_files import CASES, cases, expected


@pytest.mark.parametrize("name", cases("season"))
def test_a_case_is_told_as_it_expects(name: str) -> None:
    """Reading a season and its library tells exactly the sentences at the top of the case file."""
    path = CASES / "season" / f"{name}.toml"

    told = read_season_folder(path).problems

    assert [f"{each.line}: {each.sentence}" for each in told] == expected(path)


@pytest.mark.parametrize("name", cases("season"))
def test_a_case_names_its_file_and_reads_well(name: str) -> None:
    """Each problem names the file as it was given, has a way out, and needs no full stop."""
    path = CASES / "season" / f"{name}.toml"

    told = read_season_folder(path).problems

    assert [each for each in told if each.file != str(path)] == []
    assert [each for each in told if not each.way_out or each.sentence.endswith(".")] == []
    assert [each for each in told if "type=" in str(each) or "Input should" in str(each)] == []


@pytest.mark.parametrize("name", cases("season"))
def test_line_ends_of_windows_change_nothing(name: str, tmp_path: Path) -> None:
    """A file with carriage returns is told the same, at the same lines."""
    path = CASES / "season" / f"{name}.toml"
    copy = tmp_path / "season" / "season.toml"
    copy.parent.mkdir()
    (tmp_path / "library").symlink_to(CASES / "library")
    copy.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))

    told = read_season_folder(copy).problems

    assert [f"{each.line}: {each.sentence}" for each in told] == expected(path)


def test_a_sound_season_is_read_whole() -> None:
    """Without faults the season comes back with its values."""
    reading = read_season_file(CASES / "season" / "sound.toml")
    season, sources = reading.sound, reading.sources

    assert season is not None
    assert reading.problems == ()
    assert (season.season.id, season.slot[0].minutes, season.goal[0].by) == ("terns", 75, "cup-1")
    assert (sources.line("slot", 0, "minutes"), sources.line("goal", 0)) == (19, 26)


def test_a_faulty_season_is_none() -> None:
    """With any error there is no season, so that nothing is planned from half a file."""
    reading = read_season_file(CASES / "season" / "quote-unclosed.toml")

    assert reading.sound is None
    assert [each.level for each in reading.problems] == ["error"]


def test_a_folder_stands_for_its_season_file(tmp_path: Path) -> None:
    """The season file of a folder is season.toml; a file stands for itself, whatever its name."""
    other = tmp_path / "winter.txt"
    other.write_text("", encoding="utf-8")

    assert season_file(tmp_path) == tmp_path / "season.toml"
    assert season_file(tmp_path / "winter.toml") == tmp_path / "winter.toml"
    assert season_file(other) == other


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (None, 'there is no such file; start a season with "curriculum new {folder}"'),
        (b"", 'is empty; start a season with "curriculum new {folder}"'),
        (b" \n\n", 'is empty; start a season with "curriculum new {folder}"'),
        (
            b"\xff\xfe[\x00s\x00",
            "is saved as UTF-16, but must be UTF-8; save it as UTF-8 in your editor",
        ),
    ],
)
def test_a_file_that_cannot_be_read_is_one_sentence(
    content: bytes | None, sentence: str, tmp_path: Path
) -> None:
    """A missing, empty or foreign file is told without a line."""
    if content is not None:
        (tmp_path / "season.toml").write_bytes(content)

    reading = read_season_file(tmp_path)

    assert reading.sound is None
    told = f"{tmp_path / 'season.toml'}: {sentence.format(folder=tmp_path)}"
    assert [str(each) for each in reading.problems] == [told]
    assert reading.sources.file == str(tmp_path / "season.toml")
