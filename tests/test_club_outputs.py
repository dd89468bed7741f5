"""What a club is shown: pages against expected texts, tables, a poster, calendars."""

import datetime as dt
import io
from collections.abc import Callable

import pytest
from pypdf import PdfReader
from rich.console import RenderableType

from curriculum.club.allocate.allocate import allocate
from curriculum.club.clashes import TeamClash
from curriculum.club.curricula.judge import judge_curriculum
from curriculum.club.curricula.matrix import Matrix, matrix_of
from curriculum.club.joiners import CheckItem, Standing
from curriculum.club.outcome import Outcome
from curriculum.club.page import ClubPage, GymUse, Lesson, TeamRisk, TightGoal
from curriculum.club.reading import read_club
from curriculum.outputs.pdf.club import club_pdf
from curriculum.outputs.terminal.allocation import allocation_view
from curriculum.outputs.terminal.club import clashes_view, page_view
from curriculum.outputs.terminal.curricula import (
    joiner_view,
    judgement_view,
    matrix_view,
    standing_view,
)
from curriculum.outputs.terminal.fleet import outcome_line, outcomes_summary
from curriculum.outputs.terminal.render import render
from curriculum.outputs.workbook import matrix_csv, matrix_rows, matrix_xlsx
from tests.build import day, library, skill
from tests.club_build import club, columns, group, reach, slot, slots, team
from tests.conftest import Golden
from tests.test_club_reading import DEMO

MADE = dt.datetime(2027, 1, 5, 9, tzinfo=dt.UTC)
SKILLS = library(
    skill("pass", strand="Passing", unopposed=(1, 8), guided=(2, 8)),
    skill("cut", strand="Moving", needs=("pass",), guided=(1, 8), live=(1, 10)),
    skill("trick", strand="Moving").model_copy(update={"name": "=Trick"}),
)
COLUMNS = columns(reach("young", unopposed=["pass"]), reach("old", guided=["pass", "cut"]))
CLUB = club(
    team("a", "old", coaches="ada"),
    team("b", "young", coaches="bea", court="half"),
    team("c", "old"),
    age_group=(
        group("young", (8, 9), weeks=30, practices=2),
        group("old", (14, 15)),
    ),
    frame={"rules": ("nba-usab",)},
)


def matrix() -> Matrix:
    """Return the small club's matrix."""
    return matrix_of(CLUB, COLUMNS, SKILLS)


def a_page() -> ClubPage:
    """Return a week with everything on it."""
    monday = day("01-11")
    return ClubPage(
        club="Test Club",
        monday=monday,
        lessons=(
            Lesson(monday, "17:00-18:00", "North Gym", 2, "B", ("Bea",), ("NEW Pass, unopposed",)),
            Lesson(monday, "18:00-19:00", "North Gym", None, "A", ("Ada", "Bea"), ()),
            Lesson(day("01-16"), "10:00-11:00", "North Gym", None, "A", (), ("game against X",)),
        ),
        tight=(
            TightGoal("A", "Cut", "live", "must", day("01-16"), None),
            TightGoal("A", "Pass", "guided", "should", day("01-16"), 1),
            TightGoal("B", "Pass", "guided", "should", day("01-16"), -3),
        ),
        gyms=(GymUse("North Gym", 180, 240),),
        load=("A: 375 minutes of organised basketball, at most 5 hours",),
        without_plan=("C",),
        risks=(
            TeamRisk("A", day("01-16"), "Pass live by Sat 16 Jan is missed if Fri 15 Jan is lost"),
            TeamRisk("A", day("01-23"), "Cut live by Sat 23 Jan is missed if Fri 22 Jan is lost"),
            TeamRisk("B", day("01-16"), "Pass live by Sat 16 Jan is missed if Fri 15 Jan is lost"),
        ),
        tried=(8, 12),
    )


PAGES: dict[str, Callable[[], RenderableType]] = {
    "matrix": lambda: matrix_view(matrix()),
    "judgement": lambda: judgement_view(judge_curriculum(CLUB, COLUMNS, SKILLS), matrix()),
    "allocation": lambda: allocation_view(
        CLUB, allocate(CLUB, last=slots(slot("c", "tue", "17:00")), exact=False)
    ),
    "clashes": lambda: clashes_view(
        (TeamClash(day("01-11"), "coach", "Ada", "is with A and with B", 3),)
    ),
    "page": lambda: page_view(a_page()),
    "joiner": lambda: joiner_view(
        "Under-12",
        (
            CheckItem("pass", "Pass", "Passing", "guided", ("Step to the pass",), 3, 24),
            CheckItem("cut", "Cut", "Moving", "live", (), 1, 10),
        ),
    ),
    "standing": lambda: standing_view(
        (("A", Standing("a", 3, (("cut", "live"),), (("dunk", "live"),), (("pass", "guided"),))),)
    ),
    "fleet": lambda: outcomes_summary(
        (
            Outcome("a", "club/a", "planned", status="feasible"),
            Outcome("b", "club/b", "stands", status="partial", missed=(1, 0)),
            Outcome("c", "club/c", "faulty", problems=("club/c/season.toml:3: no such key",)),
        )
    ),
}


@pytest.mark.parametrize("name", PAGES)
def test_a_page_reads_as_expected(golden: Golden, name: str) -> None:
    """Each page is compared whole, 80 columns wide, without colour."""
    golden.check(f"club-{name}.txt", render(PAGES[name](), width=80))


@pytest.mark.parametrize(
    ("outcome", "line"),
    [
        (Outcome("a", "", "planned"), "[ 3/12] a: planned"),
        (
            Outcome("a", "", "unchanged", missed=(1, 2)),
            "[ 3/12] a: planned, nothing changed, 1 must-goal missed, 2 should-goals missed",
        ),
        (Outcome("a", "", "failed", problems=("it died",)), "[ 3/12] a: failed, it died"),
    ],
)
def test_progress_is_a_line_a_team(outcome: Outcome, line: str) -> None:
    """A team that is done is told with its number of how many."""
    assert outcome_line(outcome, 3, 12) == line


def test_tables_hold_the_matrix() -> None:
    """Stages stand in words, a star marks what is new, and no cell can be a formula."""
    assert matrix_rows(matrix()) == (
        ("strand", "skill", "id", "Young", "Old"),
        ("Moving", "Cut", "cut", "", "guided *"),
        ("Moving", "'=Trick", "trick", "", ""),
        ("Passing", "Pass", "pass", "unopposed *", "guided *"),
    )


def test_csv_opens_in_a_spreadsheet() -> None:
    """It has a byte order mark and a line a skill."""
    data = matrix_csv(matrix())

    assert data.startswith(b"\xef\xbb\xbfstrand,skill,id,Young,Old\r\n")
    assert data.count(b"\r\n") == 4


def test_xlsx_reads_back() -> None:
    """A spreadsheet library reads the cells; equal tables give equal bytes."""
    openpyxl = pytest.importorskip("openpyxl", reason="openpyxl is not installed")
    data = matrix_xlsx(matrix(), "Curriculum")
    sheet = openpyxl.load_workbook(io.BytesIO(data)).active

    assert [cell.value for cell in sheet[2]] == ["Moving", "Cut", "cut", None, "guided"]
    assert (sheet["E2"].font.bold, sheet["A2"].font.bold) == (True, False)
    assert matrix_xlsx(matrix(), "Curriculum") == data


def test_the_poster_holds_every_skill_and_group() -> None:
    """The demo's poster is tagged PDF with all skills, groups and the club's name on it."""
    files = read_club(DEMO)
    assert files.library is not None
    shown = matrix_of(files.club, files.curriculum, files.library)
    printed = club_pdf(files.club.club.name, shown, MADE)
    reader = PdfReader(io.BytesIO(printed.pdf))
    text = " ".join(" ".join(page.extract_text().split()) for page in reader.pages)

    assert printed.problems == ()
    assert len(reader.pages) == 2
    assert [row.name for row in shown.rows if row.name not in text] == []
    assert all(name in text for _, name in shown.groups)
    assert club_pdf(files.club.club.name, shown, MADE) == printed
