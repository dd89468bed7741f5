"""Prints: what stands on them, on how many pages, in which fonts, and the same bytes again."""

import datetime as dt
import re
import shutil
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
import typst
from pypdf import PdfReader

from curriculum.models.plan import Plan
from curriculum.outputs.pdf.season import ROWS, _pages, season_pdf
from curriculum.outputs.pdf.sheets import sheet_pdf, sheets_pdf
from curriculum.outputs.pdf.typeset import FONTS, Paper, Printed
from curriculum.practice.chart import ChartRow, chart
from curriculum.practice.sheet import Sheet
from curriculum.problems import Problem
from tests.sample_plan import BLOCKS, GYM, LIBRARY, PLAN, SEASON, sheet

MADE = dt.datetime(2027, 1, 5, 9, 0, tzinfo=dt.UTC)
STAR = "★"
"""A sign that our own fonts lack."""
NOBODYS = "\U000f0000"
"""A private sign that no font has."""

PRINTS: dict[str, Callable[[], Printed]] = {
    "sheet": lambda: sheet_pdf(sheet("02-24"), MADE),
    "sheet without blocks": lambda: sheet_pdf(sheet("03-12"), MADE, "letter"),
    "season": lambda: season_pdf(PLAN, SEASON, LIBRARY, GYM, MADE),
}


def pages(printed: Printed) -> list[str]:
    """Return the text of each page, with all white space as single blanks."""
    reader = PdfReader(BytesIO(printed.pdf))
    return [" ".join(page.extract_text().split()) for page in reader.pages]


def squeezed(text: str) -> str:
    """Return a text without white space: where lines break does not count."""
    return re.sub(r"\s", "", text)


def long_sheet() -> Sheet:
    """Return a sheet of twelve blocks, more than one page holds."""
    page = sheet("02-24")
    blocks = [row for row in page.rows if row.number]
    many = tuple(replace(blocks[n % 4], number=n + 1) for n in range(12))
    return replace(page, rows=(page.rows[0], *many, *page.rows[-2:]))


def test_a_sheet_holds_all_its_words() -> None:
    """Times, titles, stages, cues, faults, goals, next game and cautions all stand on the page."""
    page = sheet("02-24")
    words = [page.title, page.day, page.team, page.venue, page.supervision, *page.aims]
    words += [*page.cautions, f"{page.start} – {page.end}", page.goals[0].skill]
    for row in page.rows:
        words += [row.clock, row.title, *row.tells, *row.cues, *row.faults, row.stage_means]
    assert page.next_game
    assert page.next_practice
    words += [page.next_game.when, page.next_game.against, *page.next_practice.blocks]
    (text,) = pages(sheet_pdf(page, MADE))

    assert [each for each in words if squeezed(each) not in squeezed(text)] == []


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_every_practice_takes_one_page(paper: Paper) -> None:
    """The booklet of a season has a page for each practice, in order, on either paper."""
    sheets = [sheet(day) for day in BLOCKS]
    texts = pages(sheets_pdf(sheets, MADE, paper))

    assert len(texts) == len(sheets)
    assert all(
        squeezed(page.day) in squeezed(text) for page, text in zip(sheets, texts, strict=True)
    )


def test_a_long_practice_runs_on_to_a_second_page() -> None:
    """Twelve blocks take two pages; the second says what it continues, and no block is cut."""
    first, second = pages(sheet_pdf(long_sheet(), MADE))

    assert "(continued)" not in first
    assert "Backdoor cut against a guided defender (continued)" in second
    assert "page 2" in second
    assert Counter(re.findall(r"COACH IT", first + second)) == {"COACH IT": 12}


def test_after_a_long_practice_the_next_begins_afresh() -> None:
    """In a booklet only pages that continue something say so."""
    texts = pages(sheets_pdf([long_sheet(), sheet("03-12"), sheet("01-13")], MADE))

    assert ["(continued)" in text for text in texts] == [False, True, False, False]


def test_an_empty_booklet_is_refused() -> None:
    """A booklet of no sheets is a mistake of the caller."""
    with pytest.raises(ValueError, match="at least one sheet"):
        sheets_pdf([], MADE)


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


@pytest.mark.parametrize("name", PRINTS)
def test_the_same_data_gives_the_same_bytes(name: str) -> None:
    """Nothing but the data and the time goes into a file."""
    assert PRINTS[name]().pdf == PRINTS[name]().pdf


def test_the_time_is_an_argument() -> None:
    """The time that is written into the file is the one given."""
    later = MADE + dt.timedelta(days=1)
    info = PdfReader(BytesIO(sheet_pdf(sheet("01-13"), later).pdf)).metadata

    assert info is not None
    assert info.creation_date == later


@pytest.mark.parametrize("name", PRINTS)
def test_a_print_is_tagged_and_titled(name: str) -> None:
    """A screen reader finds the structure, the language and a title to show."""
    catalog = str(PdfReader(BytesIO(PRINTS[name]().pdf)).root_object)

    assert "'/Marked': True" in catalog
    assert "'/Lang': 'en'" in catalog
    assert "/DisplayDocTitle" in catalog


@pytest.mark.parametrize("name", PRINTS)
def test_templates_compile_without_warnings(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Typst has nothing to say against a template, such as a font family that is not there."""
    told: list[str] = []

    def strict(template: Path, **named: Any) -> Any:
        made, warnings = typst.compile_with_warnings(template, **named)
        told.extend(warning.message for warning in warnings)
        return made

    monkeypatch.setattr(typst, "compile", strict)
    printed = PRINTS[name]()

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

    assert sheet_pdf(page, MADE).problems == ()


def test_markup_in_a_name_is_only_text() -> None:
    """What looks like a command of the typesetter is printed as it stands."""
    title = "#set page(fill: red) *b* $x$ `q` [x] \\ <end> // end"
    (text,) = pages(sheet_pdf(replace(sheet("01-13"), title=title), MADE))

    assert squeezed(title) in squeezed(text)


def test_a_very_long_word_stays_in_its_column() -> None:
    """A word longer than its column is broken and not lost."""
    word = "konstantynopolitańczykowianeczkowaty" * 2
    page = sheet("01-13")
    rows = tuple(replace(row, cues=(word,)) if row.number else row for row in page.rows)
    (text,) = pages(sheet_pdf(replace(page, rows=rows), MADE))

    assert squeezed(text).replace("\u200b", "").count(word) == 2


def test_a_letter_that_no_font_has_prints_with_a_warning() -> None:
    """The print comes out, untagged, and the warning names the sign and the way out."""
    printed = sheet_pdf(replace(sheet("01-13"), title=f"A {NOBODYS} sign"), MADE)

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
        pytest.skip("no free font with a star on this computer")
    shutil.copy(font, tmp_path)
    starred = replace(sheet("01-13"), title=f"{STAR} day")

    assert sheet_pdf(starred, MADE, fonts=tmp_path).problems == ()
    assert [problem.found for problem in sheet_pdf(starred, MADE).problems] == [STAR]
