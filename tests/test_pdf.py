"""All prints: tagged, titled, in our own fonts, the same bytes again; the season's own pages."""

import datetime as dt
import shutil
import subprocess
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from itertools import product
from pathlib import Path
from typing import Any

import pytest
import typst
from pypdf import PdfReader

from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.outputs.pdf.families import families_pdf
from curriculum.outputs.pdf.season import ROWS, _pages, season_pdf
from curriculum.outputs.pdf.sheets import booklet_pdf, sheet_pdf
from curriculum.outputs.pdf.skills import skills_pdf
from curriculum.outputs.pdf.typeset import FONTS, Paper, Printed
from curriculum.practice.chart import ChartRow, chart
from curriculum.practice.skillmap import skill_map
from curriculum.problems import Problem
from tests.pdf_reading import MADE, outside, overlapping, pages, squeezed, words_of
from tests.sample_drills import DRILLS, drilled
from tests.sample_plan import GYM, LIBRARY, PLAN, SEASON, sheet

STAR = "★"
"""A sign that our own fonts lack."""
NOBODYS = "\U000f0000"
"""A private sign that no font has."""
LONG = "Zażółć gęślą jaźń pod Chrząszczyżewoszycami, powiat Łękołody, "

PRINTS: dict[str, Callable[[Paper], Printed]] = {
    "sheet": lambda paper: sheet_pdf(drilled("02-03"), DRILLS, MADE, paper),
    "sheet without blocks": lambda paper: sheet_pdf(sheet("03-12"), (), MADE, paper),
    "booklet": lambda paper: booklet_pdf([drilled("02-03"), sheet("03-12")], DRILLS, MADE, paper),
    "season": lambda paper: season_pdf(PLAN, SEASON, LIBRARY, GYM, MADE, paper),
    "skills": lambda paper: skills_pdf(PLAN, SEASON, LIBRARY, MADE, paper),
    "families": lambda paper: families_pdf(PLAN, SEASON, MADE, paper),
}


def long_names() -> tuple[Plan, Season]:
    """Return the season with names as long as a file may hold."""
    frame = SEASON.season.model_copy(update={"name": LONG * 2})
    team = SEASON.team.model_copy(update={"name": LONG * 2})
    venues = tuple(
        venue.model_copy(update={"name": LONG, "address": LONG * 3}) for venue in SEASON.venue
    )
    games = tuple(
        game.model_copy(update={"opponent": LONG * 2, "address": LONG}) for game in PLAN.games
    )
    closures = tuple(closed.model_copy(update={"reason": LONG * 2}) for closed in PLAN.closures)
    season = SEASON.model_copy(update={"season": frame, "team": team, "venue": venues})
    return PLAN.model_copy(update={"games": games, "closures": closures}), season


def test_the_wall_chart_shows_each_mark() -> None:
    """Every mark of the chart is text on the page, once more in the legend; names and games too."""
    marks = Counter(mark for row in chart(PLAN, SEASON, LIBRARY).rows for mark in row.marks)
    (text,) = pages(season_pdf(PLAN, SEASON, LIBRARY, GYM, MADE))

    signs = [text.count(sign) for sign in "○●◊"]
    assert signs == [marks["build"] + 1, marks["taught"] + 1, marks["review"] + 1]
    for words in ("Give and go", "Moving without the ball", "January", "Otter", "half-term"):
        assert squeezed(words) in squeezed(text)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_season_without_any_block_is_still_a_chart(paper: Paper) -> None:
    """An empty plan prints its weeks and games on one page."""
    practices = tuple(each.model_copy(update={"blocks": ()}) for each in PLAN.practices)
    empty: Plan = PLAN.model_copy(update={"practices": practices})
    (text,) = pages(season_pdf(empty, SEASON, LIBRARY, GYM, MADE, paper))

    assert "Winter term 2027: what we learn when" in text


def test_many_skills_go_on_pages_by_strand() -> None:
    """Strands stay whole from page to page; only a strand longer than a page is cut."""

    def rows(strand: str, count: int) -> list[ChartRow]:
        return [ChartRow(f"{strand}-{n}", "", strand, (), 1, ()) for n in range(count)]

    several = _pages([*rows("a", 20), *rows("b", 10), *rows("c", 5)])
    one = _pages(rows("a", ROWS + 3))

    assert [Counter(row.strand for row in page) for page in several] == [
        {"a": 20, "b": 10},
        {"c": 5},
    ]
    assert [len(page) for page in one] == [ROWS, 3]
    assert _pages([]) == ((),)


def test_the_map_shows_every_skill_with_its_week() -> None:
    """Each skill's name stands on the page as text, and when it is first taught."""
    (text,) = pages(skills_pdf(PLAN, SEASON, LIBRARY, MADE))

    for node in skill_map(PLAN, SEASON, LIBRARY).nodes:
        assert squeezed(node.name) in squeezed(text)
        assert squeezed(node.when) in squeezed(text)


def test_families_read_dates_and_nothing_that_is_taught() -> None:
    """Months, gym times, games and closures stand on one page; no skill and no drill does."""
    (text,) = pages(families_pdf(PLAN, SEASON, MADE))

    for words in (
        "January 2027",
        "Wednesday, 17:30 to 18:45, North Gym, 4 Mole Road, Kestrel Quay",
        "Sat 20 Feb, 10:00",
        "Pinehill",
        "half-term, floor being sanded",
    ):
        assert squeezed(words) in squeezed(text)
    assert [skill.name for skill in LIBRARY.skills if squeezed(skill.name) in squeezed(text)] == []


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", PRINTS)
def test_words_lie_inside_the_page_and_apart(name: str, paper: Paper) -> None:
    """By the positions of poppler's pdftotext no word leaves the page or covers another."""
    printed = PRINTS[name](paper)

    assert (outside(printed), overlapping(printed)) == ([], [])


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", ["season", "skills", "families"])
def test_long_names_are_shortened_and_stay_inside(name: str, paper: Paper) -> None:
    """Names of a hundred letters end in an ellipsis where they would run over."""
    plan, season = long_names()
    printed = {
        "season": lambda: season_pdf(plan, season, LIBRARY, GYM, MADE, paper),
        "skills": lambda: skills_pdf(plan, season, LIBRARY, MADE, paper),
        "families": lambda: families_pdf(plan, season, MADE, paper),
    }[name]()

    assert len(pages(printed)) == 1
    assert "…" in pages(printed)[0]
    assert (outside(printed), overlapping(printed)) == ([], [])


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_dates_stand_beside_the_rings_of_their_signs(paper: Paper) -> None:
    """With eight months, three across, no ring round a gym time's sign touches the date.

    A sign is 0.7 of its ring, and poppler gives a letter a box of 1.2 times its size.
    """
    frame = SEASON.season.model_copy(update={"end": dt.date(2027, 8, 31)})
    printed = families_pdf(PLAN, SEASON.model_copy(update={"season": frame}), MADE, paper)
    words = words_of(printed)
    gaps = []
    for day, sign in product(words, words):
        across, down = sign.left - day.right, abs(sign.top + sign.bottom - day.top - day.bottom)
        if day.text.isdigit() and sign.text in {"1", "2"} and 0 < across < 8 and down < 4:
            ring = (sign.bottom - sign.top) / 1.2 / 0.7
            gaps.append((sign.left + sign.right) / 2 - ring / 2 - day.right)

    assert len(gaps) > 10
    assert min(gaps) > 0.5


@pytest.mark.parametrize("name", PRINTS)
def test_the_same_data_gives_the_same_bytes(name: str) -> None:
    """Nothing but the data and the time goes into a file."""
    assert PRINTS[name]("a4").pdf == PRINTS[name]("a4").pdf


def test_the_time_is_an_argument() -> None:
    """The time that is written into the file is the one given."""
    later = MADE + dt.timedelta(days=1)
    info = PdfReader(BytesIO(sheet_pdf(sheet("01-13"), (), later).pdf)).metadata

    assert info is not None
    assert info.creation_date == later


@pytest.mark.parametrize("name", PRINTS)
def test_a_print_is_tagged_and_titled(name: str) -> None:
    """A screen reader finds the structure, the language and a title to show (read by pypdf)."""
    catalog = str(PdfReader(BytesIO(PRINTS[name]("a4").pdf)).root_object)

    assert "'/Marked': True" in catalog
    assert "'/StructTreeRoot'" in catalog
    assert "'/Lang': 'en'" in catalog
    assert "/DisplayDocTitle" in catalog


@pytest.mark.parametrize("name", PRINTS)
def test_a_second_reader_agrees(name: str) -> None:
    """Poppler opens each print, calls it tagged, and finds headings and figures in its tags."""
    if shutil.which("pdfinfo") is None:
        pytest.skip("pdfinfo is missing (Debian package poppler-utils)")
    printed = PRINTS[name]("a4")

    def told(*options: str) -> str:
        done = subprocess.run(
            ["pdfinfo", *options, "-"], input=printed.pdf, capture_output=True, check=True
        )
        return done.stdout.decode(errors="replace")

    facts = dict(line.split(":", 1) for line in told().splitlines() if ":" in line)
    tags = told("-struct")

    assert facts["Tagged"].strip() == "yes"
    assert int(facts["Pages"]) == len(pages(printed))
    assert "H1" in tags
    if name in {"sheet", "booklet", "skills"}:
        assert "Figure" in tags


@pytest.mark.parametrize("name", PRINTS)
def test_templates_compile_without_warnings(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Typst has nothing to say against a template, such as a font family that is not there."""
    told: list[str] = []

    def strict(template: Path, **named: Any) -> Any:
        made, warnings = typst.compile_with_warnings(template, **named)
        told.extend(warning.message for warning in warnings)
        return made

    monkeypatch.setattr(typst, "compile", strict)
    printed = PRINTS[name]("a4")

    assert (told, printed.problems) == ([], ())


def test_our_fonts_are_complete() -> None:
    """The folder of fonts holds the seven styles that the templates use, and their licences."""
    fonts = typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[FONTS]
    )

    assert sorted((f.family, f.style, f.weight, f.stretch) for f in fonts.fonts()) == [
        ("Barlow", "normal", 500, 0.875),
        ("Barlow", "normal", 600, 0.875),
        ("Barlow", "normal", 700, 0.875),
        ("Source Sans 3", "italic", 400, 1.0),
        ("Source Sans 3", "normal", 400, 1.0),
        ("Source Sans 3", "normal", 600, 1.0),
        ("Source Sans 3", "normal", 700, 1.0),
    ]
    assert sorted(path.name for path in FONTS.glob("OFL-*.txt")) == [
        "OFL-BarlowSemiCondensed.txt",
        "OFL-SourceSans3.txt",
    ]


def test_polish_greek_and_cyrillic_need_no_other_font() -> None:
    """Names of most European languages print with our own fonts."""
    page = replace(sheet("01-13"), title="Zażółć gęślą jaźń, Ελένη, Ольга, Ğş, Søren, Đặng")

    assert sheet_pdf(page, (), MADE).problems == ()


def test_korean_names_print_with_a_font_that_has_them(tmp_path: Path) -> None:
    """A font folder that the coach names gives Korean letters; nothing is left to warn of."""
    font = Path("/usr/share/fonts/truetype/nanum/NanumGothic.ttf")
    if not font.exists():
        pytest.skip("no Korean font (Debian package fonts-nanum)")
    shutil.copy(font, tmp_path)
    page = replace(
        sheet("01-13"), title="새로운 기술: 뒤로 돌아 들어가기", team="부산 갈매기 농구단"
    )
    printed = sheet_pdf(page, (), MADE, fonts=tmp_path)

    assert printed.problems == ()
    assert squeezed(page.title) in squeezed(pages(printed)[0])
    assert (outside(printed), overlapping(printed)) == ([], [])


def test_a_letter_that_no_font_has_prints_with_a_warning() -> None:
    """The print comes out, untagged, and the warning names the sign and the way out."""
    printed = sheet_pdf(replace(sheet("01-13"), title=f"A {NOBODYS} sign"), (), MADE)

    assert printed.problems == (
        Problem(
            "",
            0,
            "fonts",
            "no font has these letters; the PDF shows boxes in their place and is not tagged",
            "\\u{f0000}",
            "name a folder with a font that has them",
            "warning",
        ),
    )
    assert len(pages(printed)) == 1


def test_a_folder_of_fonts_fills_the_gap(tmp_path: Path) -> None:
    """A font that the coach names has the sign, and nothing is left to warn of."""
    font = Path("/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf")
    if not font.exists():
        pytest.skip("no free font with a star on this computer (Debian package fonts-dejavu-core)")
    shutil.copy(font, tmp_path)
    starred = replace(sheet("01-13"), title=f"{STAR} day")

    assert sheet_pdf(starred, (), MADE, fonts=tmp_path).problems == ()
    assert [problem.found for problem in sheet_pdf(starred, (), MADE).problems] == [STAR]
