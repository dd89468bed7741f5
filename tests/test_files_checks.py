"""A season folder is read as a whole: nothing raises, and one fault does not hide another."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from curriculum.files.checks import check_season, read_season_folder
from curriculum.files.season import read_season_file
from curriculum.files.shipped import shipped
from curriculum.files.sources import SourceMap
from curriculum.problems import errors
from tests.case_files import CASES

SOUND = (CASES / "season" / "sound.toml").read_text(encoding="utf-8")
PIECES = ["[", "]", "[[", '"', '"""', "'", "'''", "=", "{", "}", ",", "#", "\\", "nan", "17:30"]
PIECES += [
    "[slot]",
    "[[goal]]\n",
    "id = ",
    "season.id = 1\n",
    "2027-1-5",
    "\r",
    "\x00",
    "\ufeff",
    "é",
]


@st.composite
def damaged(draw: st.DrawFn) -> str:
    """Return the sound season after a few of the slips that happen in an editor."""
    text = SOUND
    for _ in range(draw(st.integers(1, 5))):
        at = draw(st.integers(0, len(text)))
        gone = draw(st.integers(0, 12))
        text = text[:at] + draw(st.sampled_from(["", "\n", *PIECES])) + text[at + gone :]
    return text


def read_bytes(folder: Path, data: bytes) -> None:
    """Read a season file with this content; the library is the small one of the cases."""
    path = folder / "season.toml"
    path.write_bytes(data)
    files = read_season_folder(path)
    lines = data.count(b"\n") + data.count(b"\r") + 1
    assert files.season is not None or errors(files.problems)
    assert [each for each in files.problems if not 0 <= each.line <= lines] == []
    assert [each for each in files.problems if "\n" in str(each) or not each.says] == []


quiet = settings(
    max_examples=120, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)


@quiet
@given(st.text())
@example("a = " + "[" * 5000)
@example("a = " + "1" * 5000)
@example("a." * 500 + "b = 1")
@example('season = "x"\nteam = [1]\nslot = [[1], 2]\ngoal = { a = 1 }')
def test_arbitrary_text_never_raises(tmp_path: Path, text: str) -> None:
    """Whatever text a file holds, it is read with problems and without an exception."""
    read_bytes(tmp_path, text.encode("utf-8", "surrogatepass"))


@quiet
@given(st.binary())
def test_arbitrary_bytes_never_raise(tmp_path: Path, data: bytes) -> None:
    """Whatever bytes a file holds, it is read with problems and without an exception."""
    read_bytes(tmp_path, data)


@quiet
@given(damaged())
def test_a_damaged_season_never_raises(tmp_path: Path, text: str) -> None:
    """A season file with slips in it is read with problems at lines that it has."""
    read_bytes(tmp_path, text.encode())


@quiet
@given(st.lists(st.sampled_from(PIECES), max_size=12).map("".join))
def test_brackets_and_quotes_in_any_order_never_raise(tmp_path: Path, text: str) -> None:
    """The marks of TOML in any order are read with problems and without an exception."""
    read_bytes(tmp_path, text.encode())


def test_a_season_is_checked_without_a_library() -> None:
    """With a library that cannot be read, only the season itself is judged."""
    reading = read_season_file(CASES / "season" / "skill-unknown.toml")
    assert reading.sound is not None

    assert check_season(reading.sound, None, reading.sources) == ()


def test_checks_need_no_sources() -> None:
    """A season that never stood in a file is checked as well; its problems have no place."""
    season = read_season_file(CASES / "season" / "ages-reversed.toml").sound
    assert season is not None

    told = [str(each) for each in check_season(season, None, SourceMap())]

    assert told == [
        "team.ages: the youngest player's age comes first; write ages = [10, 12]",
    ]


def test_what_was_left_out_is_not_missed(tmp_path: Path) -> None:
    """A gym with a fault of its own counts as described; places of later tables stay right."""
    text = SOUND.replace('name = "North Gym"', "name = 5").replace("minutes = 75", "minutes = 7")
    text = text.replace('library = ["../library"]', f'library = ["{CASES / "library"}"]')
    goal = '[[goal]]\nskill = "lay-upp"\nstage = "unopposed"\n'
    (tmp_path / "season.toml").write_text(text + '[[slot]]\nvenue = "hall"\n' + goal, "utf-8")

    told = [f"{each.key} {each.says}" for each in read_season_folder(tmp_path).problems]

    assert told == [
        "venue[1].name must be text in quotes",
        "slot[1].minutes must be a whole number from 15 to 300",
        "slot[2].minutes is missing",
        "slot[2].start is missing",
        "slot[2].weekday is missing",
        "goal[2].skill no skill has this id",
    ]


def test_faults_of_the_library_are_told_with_those_of_the_season(tmp_path: Path) -> None:
    """Both files' problems come together, sorted by file and line."""
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "a.toml").write_text('strand = ""\n', encoding="utf-8")
    text = SOUND.replace("../library", "mine").replace("players = 14", "player = 14")
    (tmp_path / "season.toml").write_text(text.replace("= 75", "= 7"), encoding="utf-8")

    files = read_season_folder(tmp_path)

    assert (files.season, files.library) == (None, None)
    assert [each.key for each in files.problems] == ["team.player", "slot[1].minutes"]


@pytest.mark.parametrize("name", ["kestrel-quay-u12", "kestrel-quay-u16"])
def test_the_demo_seasons_are_sound(name: str) -> None:
    """The seasons that are shipped have no fault and no warning."""
    folder = Path(__file__).parent.parent / "seasons" / name

    assert read_season_folder(folder).problems == ()


@pytest.mark.parametrize(
    ("name", "way_out"),
    [
        ("Lay-up, stronger hand", 'write skill = "lay-up-strong-hand"'),
        ("cut and fill, five spots", 'write skill = "fill-five-spots"'),
        ("No such skill", 'write skill = "no-such-skill"'),
    ],
)
def test_a_skill_that_is_called_by_its_name_is_told_its_id(
    tmp_path: Path, name: str, way_out: str
) -> None:
    """Pages and prints show names, and a name does not say what the id is."""
    goal = f'[[goal]]\nskill = "{name}"\nstage = "live"\n'
    season = (shipped("seasons") / "kestrel-quay-u12" / "season.toml").read_text(encoding="utf-8")
    (tmp_path / "season.toml").write_text(f"{season}\n{goal}", encoding="utf-8")

    (problem,) = errors(read_season_folder(tmp_path).problems)

    assert problem.way_out == way_out
