"""What the terminal shows of the record: whole pages against expected texts."""

from collections.abc import Callable

import pytest
from rich.cells import cell_len
from rich.console import RenderableType

from curriculum.insight.follows import Follows, follows
from curriculum.models.record import Saved
from curriculum.outputs.terminal.record import (
    conflict_view,
    follows_view,
    history_view,
    record_view,
)
from curriculum.outputs.terminal.render import NARROWEST, render
from tests.conftest import Golden
from tests.record_cases import NOW
from tests.sample_plan import LIBRARY, SEASON
from tests.sample_record import CONFLICT, HELD, LOST, SHORTENED

PAGES: dict[str, Callable[[], RenderableType]] = {
    "held": lambda: record_view(Saved(2, 1, NOW, HELD), SEASON, LIBRARY),
    "lost": lambda: record_view(Saved(1, 0, NOW, LOST), SEASON, LIBRARY),
    "shortened": lambda: record_view(Saved(1, 0, NOW, SHORTENED), SEASON, LIBRARY),
    "history": lambda: history_view(
        [Saved(1, 0, NOW, HELD), CONFLICT.aside, Saved(2, 1, NOW, LOST)], SEASON, LIBRARY
    ),
    "conflict": lambda: conflict_view(CONFLICT, SEASON, LIBRARY),
    "follows": lambda: follows_view(follows(HELD), LIBRARY),
    "follows-review": lambda: follows_view(Follows(reviews=("give-and-go",)), LIBRARY),
}


@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_as_expected(name: str, golden: Golden) -> None:
    """A page at 80 columns without colour is the expected text."""
    golden.check(f"record-{name}.txt", render(PAGES[name]()))


@pytest.mark.parametrize("name", PAGES)
def test_no_line_is_wider_than_the_page(name: str) -> None:
    """Lines fold instead of running over, also on a narrow page."""
    lines = render(PAGES[name](), NARROWEST).splitlines()

    assert [line for line in lines if cell_len(line) > NARROWEST] == []


def test_nothing_follows_from_a_good_practice() -> None:
    """Where every block was held and went well, the page says so."""
    assert render(follows_view(Follows(), LIBRARY)) == "All went as planned.\n"


def test_an_empty_history_says_so() -> None:
    """Before anything is recorded the page is one sentence."""
    assert render(history_view([], SEASON, LIBRARY)) == "Nothing is recorded.\n"
