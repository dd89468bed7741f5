"""Drills as files state them: what is read, what is refused, and where it is told."""

from pathlib import Path

import pytest
from pydantic import ValidationError

from curriculum.files.library import read_library
from curriculum.files.sources import relocate
from curriculum.models.drills import (
    Drill,
    is_attacker,
    is_coach,
    is_cone,
    is_defender,
    is_line,
    is_player,
)
from curriculum.practice.soundness import drill_faults
from tests.drill_build import drill

FILE = """\
strand = "Motion offense"

[[skill]]
id = "give-and-go"
name = "Give and go"
[skill.unopposed]

[[drill]]
id = "pass-and-go"
name = "Pass and go"
serves = ["give-and-go@unopposed"]
numbers = "2v0"
players = [2, 6]
seconds = 10
how = "Pass and cut."
spots = [
  { who = "1", at = "top", ball = true },
  { who = "2", at = "left-wing" },
  { who = "line", at = "back" },
]
actions = [
  { do = "pass", by = "1", to = "2" },
  { do = "cut", by = "1", to = "rim" },
]
rotation = [{ from = "1", to = "2" }, { from = "2", to = "line" }, { from = "line", to = "1" }]
"""


def problems_of(folder: Path, text: str) -> list[str]:
    """Return the problems of a library of one file, without the folder's path."""
    file = folder / "own.toml"
    file.write_text(text, encoding="utf-8")
    library, problems, sources = read_library([folder])
    if library is not None:
        problems = (*problems, *relocate(drill_faults(library.drills), sources))
    return [str(problem).replace(f"{folder}/", "") for problem in problems]


def test_a_file_of_drills_is_read(tmp_path: Path) -> None:
    """A drill stands in the library as it was written, and nothing is wrong with it."""
    (tmp_path / "own.toml").write_text(FILE, encoding="utf-8")
    library, problems, _ = read_library([tmp_path])

    assert (library and [each.id for each in library.drills], problems) == (["pass-and-go"], ())


def test_drills_may_stand_in_a_file_without_skills(tmp_path: Path) -> None:
    """Skills and drills of one strand can be split over two files."""
    skills, _, drills = FILE.partition("[[drill]]")
    (tmp_path / "skills.toml").write_text(skills, encoding="utf-8")
    (tmp_path / "drills.toml").write_text(
        f'strand = "Motion offense"\n\n[[drill]]{drills}', encoding="utf-8"
    )

    library, problems, _ = read_library([tmp_path])

    assert (library is not None, problems) == (True, ())


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (
            "give-and-go@unopposed",
            "give-and-goo@unopposed",
            (
                "own.toml:11: pass-and-go.serves[1]: no skill has this id (found "
                '"give-and-goo@unopposed"); did you mean "give-and-go"?'
            ),
        ),
        (
            "give-and-go@unopposed",
            "give-and-go@live",
            (
                "own.toml:11: pass-and-go.serves[1]: give-and-go has no stage live (found "
                '"give-and-go@live"); it has unopposed'
            ),
        ),
        (
            'to = "rim"',
            'to = "rimm"',
            (
                'own.toml:23: pass-and-go.actions[2]: there is no spot or player "rimm"; '
                'did you mean "rim"?'
            ),
        ),
        (
            'by = "1", to = "2"',
            'by = "2", to = "1"',
            (
                "own.toml:22: pass-and-go.actions[1]: 2 passes without a ball; "
                "1 has it; set ball = true, or pass first"
            ),
        ),
        (
            'at = "left-wing"',
            'at = "left-wnig"',
            (
                'own.toml:18: pass-and-go.spots[2]: there is no spot "left-wnig"; '
                'did you mean "left-wing"?'
            ),
        ),
        (
            ', { from = "line", to = "1" }',
            "",
            (
                "own.toml:25: pass-and-go.rotation: nothing says who becomes 1; "
                "as many come into a role as leave it"
            ),
        ),
        (
            "players = [2, 6]",
            "players = [6, 2]",
            (
                "own.toml:13: pass-and-go.players: the fewest players are more than the most "
                "(found [6, 2]); write the smaller number first"
            ),
        ),
        (
            'numbers = "2v0"',
            'numbers = "2v0"\ngrows_from = "pass-and-goo"',
            (
                "own.toml:13: pass-and-go.grows_from: no drill has this id (found "
                '"pass-and-goo"); did you mean "pass-and-go"?'
            ),
        ),
        (
            'id = "pass-and-go"',
            'id = "give-and-go"',
            (
                'own.toml:9: give-and-go.id: this id is taken by a skill (found "give-and-go"); '
                "rename the drill"
            ),
        ),
    ],
)
def test_faults_are_told_at_their_line(tmp_path: Path, old: str, new: str, told: str) -> None:
    """File, line, drill, what is wrong, what was found and the way out."""
    assert told in problems_of(tmp_path, FILE.replace(old, new))


def test_players_who_never_swap_are_a_warning(tmp_path: Path) -> None:
    """A rotation that leaves somebody out can be run, but the coach is told."""
    text = FILE.replace(
        '{ from = "1", to = "2" }, { from = "2", to = "line" }, { from = "line", to = "1" }',
        '{ from = "1", to = "line" }, { from = "line", to = "1" }, { from = "2", to = "2" }',
    )

    (found,) = problems_of(tmp_path, text)

    assert found == (
        "own.toml:25: warning: pass-and-go.rotation: 2 (the left wing) never swaps with "
        "1 (the top) and the line; lead each role on to another one"
    )


def test_a_second_drill_of_one_id_is_an_error(tmp_path: Path) -> None:
    """Two drills of one id: the second is told, with the place of the first."""
    again = FILE[FILE.index("[[drill]]") :]
    (found,) = problems_of(tmp_path, f"{FILE}\n{again}")

    assert found.startswith("own.toml:28: pass-and-go.id: this id is taken by the drill in ")


def test_a_drill_may_replace_another(tmp_path: Path) -> None:
    """With replaces = true the later one takes the place."""
    again = FILE[FILE.index("[[drill]]") :].replace('"Pass and go"', '"My pass and go"')
    again = again.replace("seconds", "replaces = true\nseconds")
    (tmp_path / "own.toml").write_text(f"{FILE}\n{again}", encoding="utf-8")

    library, problems, _ = read_library([tmp_path])

    assert (library and [each.name for each in library.drills], problems) == (
        ["My pass and go"],
        (),
    )


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("numbers", "2 on 1"),
        ("numbers", "0v0"),
        ("name", "n" * 35),
        ("how", "h" * 241),
        ("cues", ("c" * 61,)),
        ("easier", "e" * 91),
        ("serves", ()),
        ("serves", ("give-and-go",)),
        ("actions", ()),
        ("seconds", 1),
        ("players", (0, 4)),
        ("baskets", 3),
    ],
)
def test_fields_have_their_limits(field: str, value: object) -> None:
    """What would not fit on a sheet, or means nothing, is refused by the model."""
    plain = drill().model_dump()

    with pytest.raises(ValidationError):
        Drill.model_validate({**plain, field: value})


def test_a_drill_comes_back_from_its_data() -> None:
    """Dumped and read again it is the same drill, and it can be a key."""
    again = Drill.model_validate(drill().model_dump())

    assert (again, hash(again)) == (drill(), hash(drill()))


@pytest.mark.parametrize(
    ("who", "kind"),
    [
        ("1", is_attacker),
        ("X2", is_defender),
        ("C", is_coach),
        ("C2", is_coach),
        ("cone", is_cone),
        ("cone-2", is_cone),
        ("line", is_line),
        ("left-line", is_line),
    ],
)
def test_names_tell_what_somebody_is(who: str, kind: object) -> None:
    """Each name is exactly one of attacker, defender, coach, cone and line."""
    kinds = (is_attacker, is_defender, is_coach, is_cone, is_line)

    assert [each for each in kinds if each(who)] == [kind]


def test_players_are_attackers_and_defenders() -> None:
    """Coaches, cones and lines are no players of a diagram."""
    assert [who for who in ("1", "X1", "C", "cone-1", "line") if is_player(who)] == ["1", "X1"]


def test_frames_are_counted() -> None:
    """A drill without a frame has one, else as many as its highest."""
    assert (drill().frames, drill("1 pass 2", "1 cut rim / 2").frames) == (1, 2)


SHORTER = """\
strand = "Motion offense"

[[skill]]
id = "give-and-go"
name = "Give and go"
replaces = true
[skill.guided]
"""

TALLER = FILE.replace("[skill.unopposed]", "[skill.unopposed]\n[skill.guided]")


def two_folders(folder: Path, first: str, second: str) -> tuple[list[Drill], list[str]]:
    """Return the drills of a library and of one that stands after it, and what is told."""
    for name, text in (("a", first), ("b", second)):
        (folder / name).mkdir()
        (folder / name / "own.toml").write_text(text, encoding="utf-8")
    library, problems, _ = read_library([folder / "a", folder / "b"])
    told = [str(problem).replace(f"{folder}/", "") for problem in problems]
    return list(library.drills) if library else [], told


def test_drills_that_a_shorter_skill_leaves_without_a_stage_are_left_out(tmp_path: Path) -> None:
    """A coach's own skill with fewer stages costs drills, and one line says which; no error."""
    drills, told = two_folders(tmp_path, TALLER, SHORTER)

    assert drills == []
    (line,) = told
    assert line == (
        "b/own.toml:6: warning: give-and-go.replaces: lacks stages of the skill that it replaces, "
        "so drills for those are left out (found pass-and-go); write drills of your own for its "
        "stages, or add the stages that it lacks"
    )


def test_a_drill_keeps_the_stages_that_are_still_there(tmp_path: Path) -> None:
    """What it also teaches goes on being taught by it, and nothing needs to be told."""
    both = 'serves = ["give-and-go@unopposed", "give-and-go@guided"]'
    drills, told = two_folders(
        tmp_path, TALLER.replace('serves = ["give-and-go@unopposed"]', both), SHORTER
    )

    assert ([drill.serves for drill in drills], told) == ([("give-and-go@guided",)], [])


def test_what_grew_from_a_drill_left_out_grows_from_its_root(tmp_path: Path) -> None:
    """A later variation stays, with nothing before it."""
    later = FILE[FILE.index("[[drill]]") :].replace("pass-and-go", "later")
    later = later.replace("@unopposed", "@guided").replace(
        'numbers = "2v0"', 'numbers = "2v0"\ngrows_from = "pass-and-go"'
    )
    drills, _ = two_folders(tmp_path, TALLER + later, SHORTER)

    assert [(drill.id, drill.grows_from) for drill in drills] == [("later", None)]


def test_a_coachs_own_drill_for_a_stage_that_is_not_there_is_an_error(tmp_path: Path) -> None:
    """What stands beside the shorter skill was written for it, so it is a slip."""
    _, told = two_folders(
        tmp_path, TALLER, SHORTER + FILE[FILE.index("[[drill]]") :].replace("pass-and-go", "own")
    )

    assert [line.partition(" (")[0] for line in told if "warning" not in line] == [
        "b/own.toml:11: own.serves[1]: give-and-go has no stage unopposed"
    ]
