"""A whole season as one page for phones: sheets, chart, map of skills and a timer, offline."""

from collections.abc import Sequence

from curriculum.gym.practices import Gym
from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.practice.sheet import Sheet


def season_page(
    plan: Plan, season: Season, library: Library, gym: Gym, sheets: Sequence[Sheet], court: str
) -> str:
    """Return the page."""
    raise NotImplementedError
