"""What has changed in the calendar since a plan was made."""

import datetime as dt
from dataclasses import replace

from curriculum.gym.practices import Gym
from curriculum.outdated import outdated_problems
from tests.build import day
from tests.sample_plan import GYM, PLAN


def sentences(gym: Gym) -> list[str]:
    """Return what is said of the sample plan and a calendar."""
    return [each.says for each in outdated_problems(PLAN, gym, "s")]


def test_a_calendar_that_the_plan_knows_is_silent() -> None:
    """Where every practice stands as the plan has it, nothing is said."""
    known = tuple(each for each in GYM.practices if each.id in {p.id for p in PLAN.practices})

    assert sentences(replace(GYM, practices=known)) == []


def test_lost_and_moved_practices_are_named_in_order_of_time() -> None:
    """Each says what became of it, the earliest first."""
    _, second, *rest = GYM.practices
    moved = replace(second, date=day("03-30"))

    (said,) = sentences(replace(GYM, practices=(*rest, moved)))

    assert said.startswith("the calendar has changed since this plan was made, 2 practices: ")
    assert "is not held any more (no gym time)" in said
    assert said.endswith("has moved")


def test_another_end_is_a_change_and_another_court_is_none() -> None:
    """A practice that is cut short may not hold what was planned; where the court is, it may."""
    known = {each.id for each in PLAN.practices}
    first, second, *rest = (each for each in GYM.practices if each.id in known)
    shorter = replace(first, end=dt.time(18, 15))
    half = replace(second, court="half")

    (said,) = sentences(replace(GYM, practices=(shorter, half, *rest)))

    assert said.endswith(", 1 practice: Wed 13 Jan 17:30 ends at 18:15 now")
