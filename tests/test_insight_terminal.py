"""What the terminal shows of progress and load: whole pages against expected texts."""

from collections.abc import Callable

import pytest
from rich.cells import cell_len
from rich.console import RenderableType

from curriculum.gym.practices import Gym
from curriculum.insight.absences import missed_introductions
from curriculum.insight.load import load
from curriculum.insight.progress import progress
from curriculum.models.record import NOTHING
from curriculum.models.season import Load, Season
from curriculum.outputs.terminal.insight import load_view, progress_view
from curriculum.outputs.terminal.render import NARROWEST, render
from tests.build import game, gym, season
from tests.conftest import Golden
from tests.sample_plan import GYM, LIBRARY, PLAN, SEASON
from tests.sample_record import AFTER, RECORD, TODAY, WORKLOAD

OLDER = season(
    weeks=2,
    weekdays=("monday", "tuesday", "wednesday", "thursday", "friday"),
    minutes=120,
    ages=(13, 14),
    game=(game(date=season().season.start.replace(day=16)),),
    load=Load(rules="nata"),
)


def of_load(of: Season, held: Gym) -> RenderableType:
    """Return the load of a season before anything is recorded."""
    return load_view(load(of, held, NOTHING, of.season.start), of)


PAGES: dict[str, Callable[[], RenderableType]] = {
    "progress": lambda: progress_view(
        progress(RECORD, PLAN, LIBRARY, GYM, WORKLOAD, TODAY),
        missed_introductions(RECORD, TODAY),
        AFTER,
        LIBRARY,
    ),
    "load": lambda: load_view(load(SEASON, GYM, RECORD, TODAY), SEASON),
    "load-over": lambda: of_load(OLDER, gym(OLDER, minutes=120)),
}


@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_as_expected(name: str, golden: Golden) -> None:
    """A page at 80 columns without colour is the expected text."""
    golden.check(f"insight-{name}.txt", render(PAGES[name]()))


@pytest.mark.parametrize("name", PAGES)
def test_no_line_is_wider_than_the_page(name: str) -> None:
    """Lines fold instead of running over, also on a narrow page."""
    lines = render(PAGES[name](), NARROWEST).splitlines()

    assert [line for line in lines if cell_len(line) > NARROWEST] == []


def test_grown_ups_have_no_guidance() -> None:
    """Of an age that the rules say nothing about, the page says that."""
    of = season(ages=(19, 30))
    lines = render(of_load(of, gym(of))).splitlines()

    assert lines[1] == "The rules chosen say nothing of this age."
    assert "Every week keeps what is asked for." not in lines
