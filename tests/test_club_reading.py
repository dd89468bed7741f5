"""Club folders: the demo reads, and every fault is told with its file and line."""

import shutil
from pathlib import Path

import pytest

from curriculum.club.reading import club_folder_of, clubs_in, read_club
from curriculum.club.writing import curriculum_text, slots_text
from curriculum.files.shipped import shipped
from curriculum.problems import FaultyInputError

DEMO = shipped("seasons") / "kestrel-quay-club"

SMALL = """\
[club]
id = "small"
name = "Small Club"

[[gym]]
id = "north-gym"
name = "North Gym"

[[age_group]]
id = "u10"
name = "Under-10"
ages = [8, 9]
weeks = 10
practices = 1
minutes = 60

[[team]]
id = "terns"
name = "Terns"
age_group = "u10"
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return the folder of a sound small club."""
    (tmp_path / "club.toml").write_text(SMALL, encoding="utf-8")
    return tmp_path


def problems_of(folder: Path) -> list[str]:
    """Return what is wrong with a club, files by their names alone."""
    with pytest.raises(FaultyInputError) as caught:
        read_club(folder)
    return [str(each).removeprefix(f"{folder}/") for each in caught.value.problems]


def test_the_demo_club_is_sound() -> None:
    """Twelve teams in six age groups and three gyms, without a single problem."""
    files = read_club(DEMO)

    assert (
        len(files.club.team),
        len(files.club.age_group),
        len(files.club.gym),
        files.problems,
    ) == (12, 6, 3, ())
    assert all((files.season_folder(team.id) / "season.toml").is_file() for team in files.club.team)


def test_a_missing_club_says_what_belongs_there(tmp_path: Path) -> None:
    """A folder without club.toml is told how to come by one; a season's folder is known as such."""
    missing = "club.toml: there is no such file; "

    assert problems_of(tmp_path) == [
        f"{missing}copy the demo club with `curriculum new {tmp_path} --from kestrel-quay-club`"
    ]
    (tmp_path / "season.toml").touch()
    assert problems_of(tmp_path) == [
        (f"{missing}this is the folder of a season: leave out `club`, or name the folder of a club")
    ]


@pytest.mark.parametrize(
    ("edit", "said"),
    [
        (
            ('age_group = "u10"', 'age_group = "u01"'),
            (
                'club.toml:20: team[1].age_group: no [[age_group]] has this id (found "u01"); '
                'did you mean "u10"?'
            ),
        ),
        (
            ("ages = [8, 9]", "ages = [9, 8]"),
            (
                "club.toml:12: age_group[1].ages: the youngest player's age comes first "
                "(found [9, 8]); write ages = [8, 9]"
            ),
        ),
        (
            ("weeks = 10", "week = 10"),
            'club.toml:13: age_group[1].week: [[age_group]] has no such key; did you mean "weeks"?',
        ),
        (
            ("minutes = 60", "minutes = 20"),
            (
                "club.toml:15: age_group[1].minutes: must be a whole number from 30 to 240 "
                "(found 20); write minutes = 30 or more"
            ),
        ),
        (
            ("minutes = 60", "minutes = 60\nshortest = 75"),
            (
                "club.toml:16: age_group[1].shortest: is longer than a usual practice, 60 minutes "
                "(found 75); write 60 or less"
            ),
        ),
    ],
)
def test_a_fault_is_told_at_its_line(folder: Path, edit: tuple[str, str], said: str) -> None:
    """One faulty line gives one sentence with its place and the way out."""
    path = folder / "club.toml"
    path.write_text(SMALL.replace(*edit), encoding="utf-8")

    assert problems_of(folder) == [said]


@pytest.mark.parametrize(
    ("table", "said"),
    [
        (
            '[[gym]]\nid = "north-gym"\nname = "Again"\n',
            (
                "club.toml:23: gym[2].id: this id is taken by the [[gym]] in line 5 "
                '(found "north-gym"); give each one its own id'
            ),
        ),
        (
            (
                '[[opening]]\ngym = "north-gym"\nweekdays = ["monday"]\nstart = 19:00:00\n'
                "end = 17:00:00\n"
            ),
            (
                "club.toml:26: opening[1].end: ends at or before its start, 19:00 "
                "(found 17:00:00); "
                "correct the two times; hours after midnight stand on the next weekday"
            ),
        ),
        (
            (
                '[[opening]]\ngym = "north-gym"\nweekdays = ["monday"]\nstart = 17:00:00\n'
                "end = 19:00:00\ncourts = 2\n"
            ),
            (
                "club.toml:27: opening[1].courts: the gym's courts go from 1 to 1 (found 2); "
                "write fewer courts"
            ),
        ),
        (
            '[[busy]]\nweekday = "monday"\n',
            (
                "club.toml:22: busy[1]: names neither a coach nor a team; "
                "write one of coach = and team ="
            ),
        ),
        (
            "[[closure]]\nfrom = 2027-02-19\nuntil = 2027-02-15\n",
            (
                "club.toml:24: closure[1].until: the last day comes before the first, 2027-02-19 "
                "(found 2027-02-15); swap from and until"
            ),
        ),
    ],
)
def test_tables_that_do_not_fit_are_told(folder: Path, table: str, said: str) -> None:
    """A table that contradicts the rest is told at its line."""
    (folder / "club.toml").write_text(f"{SMALL}\n{table}", encoding="utf-8")

    assert problems_of(folder) == [said]


def test_the_other_files_are_checked_against_the_club(folder: Path) -> None:
    """Age groups, skills, teams, gyms and courts that do not exist are told at once."""
    (folder / "curriculum.toml").write_text(
        '[[reach]]\nage_group = "u12"\nlive = ["give-and-go", "give-and-goo", "five-spots"]\n'
    )
    (folder / "slots.toml").write_text(
        '[[slot]]\nteam = "tern"\nweekday = "monday"\nstart = 17:00:00\nminutes = 60\n'
        'gym = "north-gym"\nnumber = 2\n'
    )

    assert problems_of(folder) == [
        (
            'curriculum.toml:2: reach[1].age_group: the club has no such age group (found "u12"); '
            'did you mean "u10"?'
        ),
        (
            'curriculum.toml:3: reach[1].live[2]: no skill has this id (found "give-and-goo"); '
            'did you mean "give-and-go"?'
        ),
        (
            "curriculum.toml:3: reach[1].live[3]: five-spots has no stage live (found "
            '"five-spots"); '
            "it has unopposed, guided"
        ),
        (
            'slots.toml:2: slot[1].team: the club has no such team (found "tern"); '
            'did you mean "terns"?'
        ),
        (
            "slots.toml:7: slot[1].number: the gym's courts go from 1 to 1 (found 2); "
            "correct the number of the court"
        ),
    ]


def test_written_files_read_back(folder: Path) -> None:
    """What the program writes of the demo's times and curriculum says what was read."""
    files = read_club(DEMO)
    names = {group.id: group.name for group in files.club.age_group}
    copy = folder / "copy"
    shutil.copytree(DEMO, copy)
    (copy / "slots.toml").write_text(slots_text(files.slots), encoding="utf-8")
    (copy / "curriculum.toml").write_text(curriculum_text(files.curriculum, names))

    again = read_club(copy)

    assert (again.slots, again.curriculum) == (files.slots, files.curriculum)


def test_a_season_knows_its_club(folder: Path) -> None:
    """The club of a season is the folder around it, when it is one."""
    (folder / "terns").mkdir()

    assert (club_folder_of(folder / "terns"), club_folder_of(folder)) == (folder.resolve(), None)


def test_a_federation_is_a_folder_of_clubs(tmp_path: Path) -> None:
    """Clubs come by name; other folders are passed over."""
    for name in ("b", "a", "nothing"):
        (tmp_path / name).mkdir()
        if name != "nothing":
            (tmp_path / name / "club.toml").write_text(SMALL)

    assert (clubs_in(tmp_path), clubs_in(tmp_path / "a")) == (
        (tmp_path / "a", tmp_path / "b"),
        (tmp_path / "a",),
    )
