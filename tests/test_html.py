"""The season as one page: what stands in it, and that it needs nothing from outside."""

import re
from collections import Counter
from html.parser import HTMLParser
from itertools import pairwise

import pytest

from curriculum.outputs.html.pictures import inlined
from curriculum.outputs.html.season import season_page
from curriculum.outputs.picture.drills import Drawn
from curriculum.practice.sheet import Sheet
from tests.sample_drills import DRILLED, DRILLS, drilled
from tests.sample_plan import BLOCKS, GYM, PLAN, SEASON

VOID = {"meta", "br", "input", "link", "img", "hr"}
MARKUP = "<script>alert(1)</script> & \"Zoë\" 'Łukasz'"


class Reader(HTMLParser):
    """Reads tags, checks that they close in order, and keeps what tests ask for."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.texts: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keep a tag; what is not closed must be closed later."""
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keep a tag that closes itself, as in pictures."""
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        """Close the tag that was opened last."""
        assert self.open[-1] == tag
        self.open.pop()

    def handle_data(self, data: str) -> None:
        """Keep words that a reader sees."""
        if not self.open or self.open[-1] not in {"style", "script"}:
            self.texts.append(data)

    def all(self, tag: str) -> list[dict[str, str | None]]:
        """Return the attributes of all tags of a kind."""
        return [attrs for name, attrs in self.tags if name == tag]


def page_of(sheets: tuple[Sheet, ...]) -> str:
    """Return the page of the sample season with some sheets."""
    return season_page(PLAN, SEASON, DRILLED, GYM, sheets)


PAGE = page_of(tuple(drilled(day) for day in BLOCKS))


@pytest.fixture(scope="module")
def read() -> Reader:
    """Return the page, read."""
    reader = Reader()
    reader.feed(PAGE)
    return reader


def test_tags_close_in_order(read: Reader) -> None:
    """The page is well formed; reading it has checked each end tag."""
    assert read.open == []


def test_nothing_comes_from_outside(read: Reader) -> None:
    """No tag names a file or an address, and the page's own policy forbids asking for any."""
    loading = [
        (tag, name)
        for tag, attrs in read.tags
        for name, value in attrs.items()
        if name in {"src", "srcset", "data", "action", "poster"}
        or (name in {"href", "xlink:href"} and not (value or "").startswith("#"))
    ]
    (policy,) = (each for each in read.all("meta") if "http-equiv" in each)

    assert loading == []
    assert "url(" not in PAGE
    assert "@import" not in PAGE
    assert (policy["content"] or "").startswith("default-src 'none'")


def test_every_link_and_picture_has_its_target(read: Reader) -> None:
    """Ids are unique, and whatever points to one finds it."""
    ids = Counter(attrs["id"] for _, attrs in read.tags if "id" in attrs)
    wanted = {
        (value or "").removeprefix("#")
        for _, attrs in read.tags
        for name, value in attrs.items()
        if name in {"href", "aria-labelledby", "for"}
    }

    assert [name for name, times in ids.items() if times > 1] == []
    assert wanted - set(ids) == set()


def test_headings_step_down_one_at_a_time(read: Reader) -> None:
    """One title, a heading for each page under it, one for each part under that."""
    levels = [int(tag[1]) for tag, _ in read.tags if re.fullmatch("h[1-6]", tag)]
    steps = [after - before for before, after in pairwise(levels)]

    assert levels.count(1) == 1
    assert max(steps) <= 1


def test_each_practice_is_there_with_its_words() -> None:
    """Title, aims, cues, drill, groups and cautions of a practice stand in the page."""
    reader = Reader()
    page = drilled("02-03")
    reader.feed(page_of((page,)))
    text = " ".join(" ".join(reader.texts).split())
    words = [page.title, page.day, *page.aims, *page.kit, *page.cautions, page.supervision]
    for row in page.rows:
        words += [row.clock, *row.cues]
        if row.drill:
            words += [row.drill.name, row.drill.how, row.drill.rule, row.drill.groups]
            words += [row.drill.rotation, *row.drill.cautions]

    assert [each for each in words if each not in text] == []


def test_a_picture_is_drawn_once_and_told_wherever_it_stands(read: Reader) -> None:
    """Each drill's picture is one symbol; every use has words for who cannot see it."""
    symbols = [each["id"] for each in read.all("symbol")]
    uses = Counter((each["href"] or "")[1:] for each in read.all("use"))
    told = [each for each in read.all("svg") if each.get("role") == "img"]

    assert sorted(uses) == sorted(each for each in symbols if each)
    assert max(uses.values()) > 1
    assert all(each.get("aria-label") for each in told)


def test_the_timer_knows_each_part(read: Reader) -> None:
    """Each row has its minutes and a button; a practice's minutes sum to its length."""
    rows = [each for each in read.all("article") if "data-minutes" in each]
    buttons = [each for each in read.all("button") if each.get("class") == "here"]
    whole = sum(drilled(day).minutes for day in BLOCKS)

    assert len(rows) == len(buttons)
    assert sum(int(each["data-minutes"] or 0) for each in rows) == whole


def test_markup_in_a_name_is_only_text() -> None:
    """What looks like a tag is shown as it stands."""
    team = SEASON.team.model_copy(update={"name": MARKUP})
    season = SEASON.model_copy(update={"team": team})
    reader = Reader()
    reader.feed(season_page(PLAN, season, DRILLED, GYM, ()))

    assert MARKUP in reader.texts
    assert len(reader.all("script")) == 1


def test_no_player_is_named() -> None:
    """Names that a coach's own sheet holds come in by that sheet alone."""
    named = drilled("02-03", missed={"give-and-go": ("Świętosława",)})

    assert any("Świętosława" in row.catch_up for row in named.rows)
    assert "Świętosława" not in PAGE


def test_a_season_without_practices_is_still_a_page() -> None:
    """Dates, chart and skills stand there with no practice."""
    empty = PLAN.model_copy(update={"practices": ()})
    reader = Reader()
    reader.feed(season_page(empty, SEASON, DRILLED, GYM, ()))

    assert reader.open == []
    assert [each["id"] for each in reader.all("section")] == [
        "practices",
        "dates",
        "chart",
        "skills",
    ]


def test_only_our_own_drawings_become_symbols() -> None:
    """A picture that has no view box is refused by its name."""
    with pytest.raises(ValueError, match="a-1 has no view box"):
        inlined({"a": (Drawn("<svg></svg>", ""),)})


def test_the_same_plan_gives_the_same_page() -> None:
    """Nothing but the plan goes into the page."""
    assert page_of(tuple(drilled(day) for day in BLOCKS)) == PAGE


def test_all_drills_shown_are_drawn() -> None:
    """The drills of the sample that no practice shows are left out."""
    shown = {row.drill.id for day in BLOCKS for row in drilled(day).rows if row.drill}

    assert {each.id for each in DRILLS} >= shown
    for drill in DRILLS:
        assert (f'id="d-{drill.id}-1"' in PAGE) == (drill.id in shown)
