"""Every fault of a library is told in one whole sentence at its line, over all its files."""

import shutil
from pathlib import Path

import pytest

from curriculum.files.library import read_library
from tests.case_files import CASES, cases, expected

SKILL = """strand = "Passing"
[[skill]]
id = "{id}"
name = "Some pass"
{more}
[skill.unopposed]
minutes = {minutes}
"""


def write(folder: Path, name: str, skill: str, more: str = "", minutes: int = 8) -> None:
    """Write a file with one skill."""
    folder.mkdir(exist_ok=True)
    text = SKILL.format(id=skill, more=more, minutes=minutes)
    (folder / name).write_text(text, encoding="utf-8")


@pytest.mark.parametrize("name", cases("skills"))
def test_a_case_is_told_as_it_expects(name: str, tmp_path: Path) -> None:
    """Reading a library of one file tells exactly the sentences at the top of the case file."""
    path = CASES / "skills" / f"{name}.toml"
    shutil.copy(path, tmp_path)

    library, told, _ = read_library([tmp_path])

    lines = [f"{each.line}: {each.sentence}".replace(f"{tmp_path}/", "") for each in told]
    assert lines == expected(path)
    assert (library is None) == any(each.level == "error" for each in told)


def test_files_are_read_in_sorted_order_folder_by_folder(tmp_path: Path) -> None:
    """Skills come in the order of folders given, files sorted, a folder named twice read once."""
    write(tmp_path / "b", "two.toml", "second")
    write(tmp_path / "b", "one.toml", "first")
    write(tmp_path / "a", "one.toml", "third")
    write(tmp_path / "a", ".hidden.toml", "hidden")
    (tmp_path / "a" / "notes.txt").write_text("no skills", encoding="utf-8")

    library, problems, _ = read_library([tmp_path / "b", tmp_path / "a", tmp_path / "b"])

    assert problems == ()
    assert library is not None
    assert [skill.id for skill in library.skills] == ["first", "second", "third"]


def test_the_strand_at_the_top_belongs_to_each_skill() -> None:
    """Each skill gets the strand of its file."""
    library, problems, _ = read_library([CASES / "library"])

    assert problems == ()
    assert library is not None
    assert [(skill.id, skill.strand) for skill in library.skills] == [
        ("chest-pass", "Passing"),
        ("give-and-go", "Passing"),
        ("lay-up", "Shooting"),
    ]


def test_one_id_in_two_files_names_both_places(tmp_path: Path) -> None:
    """The later skill is told, and where the earlier one stands."""
    write(tmp_path / "a", "one.toml", "chest-pass")
    write(tmp_path / "b", "two.toml", "chest-pass")

    library, problems, _ = read_library([tmp_path / "a", tmp_path / "b"])

    assert library is None
    assert [str(each).replace(f"{tmp_path}/", "") for each in problems] == [
        (
            "b/two.toml:3: chest-pass.id: this id is taken by the skill in a/one.toml:2"
            ' (found "chest-pass"); rename one of the two, or write replaces = true here'
        )
    ]


def test_a_skill_that_replaces_takes_the_place_of_the_earlier_one(tmp_path: Path) -> None:
    """With replaces = true the later skill counts, in the earlier one's place in the order."""
    write(tmp_path / "a", "one.toml", "chest-pass")
    write(tmp_path / "a", "two.toml", "bounce-pass")
    write(tmp_path / "b", "own.toml", "chest-pass", "replaces = true", minutes=12)

    library, problems, sources = read_library([tmp_path / "a", tmp_path / "b"])

    assert problems == ()
    assert library is not None
    assert [(skill.id, skill.work("unopposed").minutes) for skill in library.skills] == [
        ("chest-pass", 12),
        ("bounce-pass", 8),
    ]
    assert sources.place("chest-pass") == (str(tmp_path / "b" / "own.toml"), 2)


def test_faults_of_all_files_are_told_at_once(tmp_path: Path) -> None:
    """A fault in one file does not hide those of another, nor those between two files."""
    write(tmp_path, "a.toml", "chest-pass", 'needs = ["dribble"]')
    write(tmp_path, "b.toml", "bounce-pass", 'needs = ["chest-pass", "chest-pas"]', minutes=0)
    write(tmp_path, "c.toml", "lob-pass", 'needs = ["bounce-pass", "chest-pass@live"]')

    _, problems, _ = read_library([tmp_path])

    assert [str(each).replace(f"{tmp_path}/", "") for each in problems] == [
        (
            "a.toml:5: chest-pass.needs[1]: no skill has this id"
            ' (found "dribble"); there is "chest-pass", "bounce-pass" and "lob-pass"'
        ),
        (
            "b.toml:5: bounce-pass.needs[2]: no skill has this id"
            ' (found "chest-pas"); did you mean "chest-pass"?'
        ),
        (
            "b.toml:7: bounce-pass.unopposed.minutes: must be a whole number from 1 to 120"
            " (found 0); write minutes = 1 or more"
        ),
        (
            "c.toml:5: lob-pass.needs[2]: chest-pass has no stage live"
            ' (found "chest-pass@live"); it has unopposed'
        ),
    ]


def test_a_need_that_names_a_drill_is_told(tmp_path: Path) -> None:
    """An id is one of a skill for a need, even where a drill has it."""
    write(tmp_path, "a.toml", "chest-pass", 'needs = ["box-passing"]')
    with (tmp_path / "a.toml").open("a", encoding="utf-8") as file:
        file.write('[[drill]]\nid = "box-passing"\n')

    _, problems, _ = read_library([tmp_path])

    assert [each.sentence for each in problems if each.key == "chest-pass.needs[1]"] == [
        'chest-pass.needs[1]: no skill has this id (found "box-passing"); there is "chest-pass"'
    ]


def test_folders_without_skills_are_told(tmp_path: Path) -> None:
    """A missing folder and one without skill files are each one sentence."""
    (tmp_path / "bare").mkdir()

    library, problems, _ = read_library([tmp_path / "bare", tmp_path / "gone"])

    assert library is None
    assert [str(each).replace(f"{tmp_path}/", "") for each in problems] == [
        "bare: this folder holds no skill file (*.toml); name a folder that holds skill files",
        "gone: there is no such folder; name a folder that holds skill files",
    ]


def test_no_folder_is_an_empty_library() -> None:
    """Nothing asked for, nothing wrong."""
    library, problems, _ = read_library([])

    assert library is not None
    assert library.skills == ()
    assert problems == ()
