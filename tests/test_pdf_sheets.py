"""Sheets on paper: what stands on them, on how many pages, and that nothing runs over."""

import re
from collections import Counter
from collections.abc import Callable
from dataclasses import replace

import pytest

from curriculum.outputs.pdf.sheets import booklet_pdf, sheet_pdf
from curriculum.outputs.pdf.typeset import Paper
from curriculum.practice.rows import Row
from curriculum.practice.sheet import Sheet
from tests.pdf_reading import MADE, outside, overlapping, pages, squeezed
from tests.sample_drills import DRILLS, drilled
from tests.sample_plan import BLOCKS, sheet

PAPERS: list[Paper] = ["a4", "letter"]
WORD = "konstantynopolitańczykowianeczkowaty" * 2
LONG = "Zażółć gęślą jaźń pod Chrząszczyżewoszycami, powiat Łękołody, "
"""Polish words as long as coaches may write them."""


def long_sheet() -> Sheet:
    """Return a sheet of twelve blocks with drills, more than one page holds."""
    page = drilled("02-03")
    block = next(row for row in page.rows if row.drill and row.number)
    many = tuple(replace(block, number=n + 1) for n in range(12))
    return replace(page, rows=(*page.rows[:2], *many, *page.rows[-2:]))


def crowded_sheet() -> Sheet:
    """Return a sheet of thirty players in which every text is as long as a file may hold."""

    def stretched(row: Row) -> Row:
        drill = row.drill and replace(
            row.drill,
            name=LONG[:34],
            how=(LONG * 4)[:240],
            rule=(LONG * 3)[:160],
            cautions=((LONG * 2)[:90],),
        )
        return replace(
            row,
            title=(LONG * 3)[:120],
            strand=LONG,
            cues=tuple(LONG[:60] for _ in row.cues),
            faults=tuple(WORD for _ in row.faults),
            drill=drill,
            catch_up="Missed the introduction: " + ", ".join(["Świętosława"] * 5) + " and 25 more.",
        )

    page = drilled("02-03")
    return replace(
        page,
        title=LONG * 4,
        team=LONG * 2,
        season=LONG * 2,
        venue=LONG,
        address=LONG * 2,
        expected=30,
        aims=tuple(LONG * 2 for _ in page.aims),
        rows=tuple(stretched(row) for row in page.rows),
    )


def test_a_sheet_holds_all_its_words() -> None:
    """Times, drills, groups, cues, versions, kit, next game and cautions all stand on the page."""
    page = drilled("02-03")
    words = [page.title, page.day, page.team, page.venue, page.supervision, *page.aims, *page.kit]
    words += [*page.cautions, f"{page.start} – {page.end}"]
    for row in page.rows:
        words += [row.clock, row.source]
        if row.drill is None:
            words += [row.title, *row.tells]
            continue
        drill = row.drill
        words += [drill.name, drill.how, drill.rule, drill.rotation, drill.groups[1:], *row.cues]
        words += [drill.coaches, *drill.cautions, *drill.kit.words]
        words += [version.words for version in drill.versions]
    assert page.next_game
    assert page.next_practice
    words += [page.next_game.when, page.next_game.against, *page.next_practice.blocks]
    (text,) = pages(sheet_pdf(page, DRILLS, MADE))

    assert [each for each in words if squeezed(each) not in squeezed(text)] == []


def test_a_block_without_a_drill_tells_its_skill() -> None:
    """Stage, why, cues, faults and a coach's own words stand where the library has no drill."""
    page = sheet("02-24")
    rows = tuple(
        replace(row, own_drill="Queen of the key") if row.number else row for row in page.rows
    )
    words = [word for row in rows for word in (row.title, *row.tells, *row.cues, *row.faults)]
    (text,) = pages(sheet_pdf(replace(page, rows=rows), (), MADE))

    assert [each for each in words if squeezed(each) not in squeezed(text)] == []
    assert text.count("Queen of the key") == 4


@pytest.mark.parametrize("paper", PAPERS)
def test_every_practice_takes_one_page(paper: Paper) -> None:
    """The booklet has its contents, then a page for each practice in order, on either paper."""
    sheets = [drilled(day) for day in BLOCKS]
    contents, *texts = pages(booklet_pdf(sheets, DRILLS, MADE, paper))

    assert len(texts) == len(sheets)
    for number, (page, text) in enumerate(zip(sheets, texts, strict=True), start=2):
        assert squeezed(page.day) in squeezed(text)
        about = page.title.replace("New today:", "New:")
        line = f"{page.start} – {page.end}{about}{page.venue}{number}"
        assert squeezed(line) in squeezed(contents)


def test_a_long_practice_runs_on_to_a_second_page() -> None:
    """Twelve blocks take two pages or more; later ones say what they continue, no block is lost."""
    first, *others = pages(sheet_pdf(long_sheet(), DRILLS, MADE))

    assert "(continued)" not in first
    assert others
    for number, text in enumerate(others, start=2):
        assert (
            f"New today: Guard the ball (continued) · Wednesday 3 February 2027 · page {number}"
            in text
        )
    assert Counter(re.findall("Past a guide", " ".join([first, *others]))) == {"Past a guide": 12}


def test_after_a_long_practice_the_next_begins_afresh() -> None:
    """In a booklet only pages that continue something say so, and contents name first pages."""
    long = long_sheet()
    alone = len(pages(sheet_pdf(long, DRILLS, MADE)))
    contents, *texts = pages(booklet_pdf([sheet("03-12"), long, sheet("01-13")], DRILLS, MADE))

    assert ["(continued)" in text for text in texts] == [False, False, *[True] * (alone - 1), False]
    assert squeezed(contents).endswith(f"NorthGym{3 + alone}KestrelQuayUnder-12·planrevision3")


def test_an_empty_booklet_is_refused() -> None:
    """A booklet of no sheets is a mistake of the caller."""
    with pytest.raises(ValueError, match="at least one sheet"):
        booklet_pdf([], DRILLS, MADE)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("make", [long_sheet, crowded_sheet, lambda: drilled("02-03")])
def test_no_word_leaves_its_page_or_covers_another(paper: Paper, make: Callable[[], Sheet]) -> None:
    """By the positions of poppler's pdftotext all words lie inside the page and apart."""
    printed = sheet_pdf(make(), DRILLS, MADE, paper)

    assert outside(printed) == []
    assert overlapping(printed) == []


def test_what_does_not_fit_is_shortened_visibly() -> None:
    """A title beyond two lines and a place beyond one end in an ellipsis."""
    first = pages(sheet_pdf(crowded_sheet(), DRILLS, MADE))[0]

    assert first.count("…") >= 3


def test_markup_in_a_name_is_only_text() -> None:
    """What looks like a command of the typesetter is printed as it stands."""
    title = "#set page(fill: red) *b* $x$ `q` [x] \\ <end> // end"
    (text,) = pages(sheet_pdf(replace(sheet("01-13"), title=title), (), MADE))

    assert squeezed(title) in squeezed(text)


def test_a_very_long_word_stays_in_its_column() -> None:
    """A word longer than its column is broken and not lost."""
    page = sheet("01-13")
    rows = tuple(replace(row, cues=(WORD,)) if row.number else row for row in page.rows)
    (text,) = pages(sheet_pdf(replace(page, rows=rows), (), MADE))

    assert squeezed(text).replace("\u200b", "").count(WORD) == 2
