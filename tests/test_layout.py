"""How a practice is cut into its parts."""

import datetime as dt
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from curriculum.gym.practices import Practice
from curriculum.models.plan import Block, PlannedPractice
from curriculum.models.skills import Library, Stage
from curriculum.practice.layout import Part, layout
from curriculum.problems import FaultyInputError
from tests.sample_plan import BLOCKS, GYM, LIBRARY, PLAN

EMPTY = Library()
PRACTICE = GYM.practices[0]
"""75 minutes from 17:30: warm-up 12, scrimmage 12, cool-down 5, two breaks of 2, changeover 1."""


def planned(*minutes: int) -> PlannedPractice:
    """Return a practice with blocks of these minutes, of the skills a, b, c, ..."""
    blocks = tuple(
        Block(skill=skill, stage="unopposed", number=1, of=1, kind="build", minutes=length)
        for skill, length in zip("abcdefghijklmnop", minutes, strict=False)
    )
    return PLAN.practices[0].model_copy(update={"blocks": blocks})


def short(parts: tuple[Part, ...]) -> list[str]:
    """Return parts as `17:30 12 Warm-up`."""
    return [f"{part.start:%H:%M} {part.minutes} {part.title}" for part in parts]


def test_blocks_stand_in_order_with_water_between_them() -> None:
    """Each block takes its changeover with it, and what is left goes to the scrimmage.

    12 + 4 × 9 + 2 × 2 + 5 leaves 18 of 75 minutes. Without breaks and cool-down 66 minutes pass, so
    the breaks aim at minute 22 and 44. Blocks end at 21, 30, 39 and 48: nearest are 21 and 48.
    """
    parts = layout(PRACTICE, planned(8, 8, 8, 8), EMPTY)

    assert short(parts) == [
        "17:30 12 Warm-up",
        "17:42 9 a",
        "17:51 2 Water",
        "17:53 9 b",
        "18:02 9 c",
        "18:11 9 d",
        "18:20 2 Water",
        "18:22 18 Scrimmage",
        "18:40 5 Cool-down",
    ]


def test_a_block_knows_its_changeover_and_its_place_in_the_plan() -> None:
    """A block's part says which of the planned blocks it is and how long its changeover lasts."""
    (block,) = (part for part in layout(PRACTICE, planned(8), EMPTY) if part.kind == "block")

    assert block == Part(dt.time(17, 42), 9, "block", "a", block=0, changeover=1)


def test_a_practice_without_blocks_is_played_with_breaks_in_between() -> None:
    """Without blocks the whole middle is scrimmage, cut by the water breaks."""
    parts = layout(PRACTICE, planned(), EMPTY)

    assert short(parts) == [
        "17:30 12 Warm-up",
        "17:42 18 Scrimmage",
        "18:00 2 Water",
        "18:02 18 Scrimmage",
        "18:20 2 Water",
        "18:22 18 Scrimmage",
        "18:40 5 Cool-down",
    ]


def test_more_breaks_than_blocks_cut_the_scrimmage() -> None:
    """A break that finds no gap between blocks is taken within the scrimmage."""
    parts = layout(PRACTICE, planned(20), EMPTY)

    assert short(parts)[1:] == [
        "17:42 21 a",
        "18:03 2 Water",
        "18:05 17 Scrimmage",
        "18:22 2 Water",
        "18:24 16 Scrimmage",
        "18:40 5 Cool-down",
    ]


def test_a_break_without_a_place_is_played() -> None:
    """A scrimmage of seven minutes is not cut; the minutes of the second break lengthen it."""
    parts = layout(PRACTICE, planned(46), EMPTY)

    assert short(parts)[1:] == [
        "17:42 47 a",
        "18:29 2 Water",
        "18:31 9 Scrimmage",
        "18:40 5 Cool-down",
    ]


def test_parts_of_no_minutes_are_left_out() -> None:
    """A coach who sets warm-up, breaks and cool-down to nothing sees none of them."""
    bare = replace(PRACTICE, warm_up=0, breaks=0, cool_down=0, changeover=0)

    assert short(layout(bare, planned(75), EMPTY)) == ["17:30 75 a"]


@pytest.mark.parametrize(
    ("minutes", "split"),
    [(12, [8, 4]), (15, [10, 5]), (20, [10, 10]), (9, [5, 4]), (8, [4, 4]), (6, [3, 3]), (5, [5])],
)
def test_the_end_of_a_warm_up_recalls(minutes: int, split: list[int]) -> None:
    """Moving takes ten minutes at most, a recall four where there is room; common practice."""
    warmer = replace(PRACTICE, warm_up=minutes, breaks=0)
    parts = layout(warmer, planned(), EMPTY, recall=True)

    assert [part.minutes for part in parts if part.kind in {"warm-up", "recall"}] == split


@pytest.mark.parametrize(
    ("stages", "water"),
    [
        (("guided", "guided", "guided"), "18:02 2 Water"),
        (("guided", "guided", "live"), "18:08 2 Water"),
        (("guided", "live", "live"), "18:02 2 Water"),
        (("live", "guided", "guided"), "18:02 2 Water"),
    ],
)
def test_water_follows_the_hard_block_of_two_about_as_near(
    stages: tuple[Stage, ...], water: str
) -> None:
    """A live block whose end is about as near as another's is followed by the break.

    12 + 11 + 9 + 6 + 2 + 5 leaves 30 of 75, so one break aims at minute 34 of 68. Blocks end at 23,
    32 and 38: 11, 2 and 4 minutes off. Within two minutes of the nearest are the last two.
    """
    plan = planned(10, 8, 5)
    blocks = tuple(
        block.model_copy(update={"stage": stage})
        for block, stage in zip(plan.blocks, stages, strict=True)
    )
    parts = layout(replace(PRACTICE, breaks=1), plan.model_copy(update={"blocks": blocks}), EMPTY)

    assert [line for line in short(parts) if "Water" in line] == [water]


def test_blocks_that_do_not_fit_are_refused() -> None:
    """Blocks beyond the gym time are refused with the minutes that there are."""
    with pytest.raises(FaultyInputError) as caught:
        layout(PRACTICE, planned(30, 30), EMPTY)

    assert str(caught.value) == (
        "2027-01-13-north-gym-1730: its blocks need 62 minutes, the gym time leaves 54; plan again,"
        " or lengthen the gym time"
    )


@st.composite
def practices(draw: st.DrawFn) -> tuple[Practice, PlannedPractice]:
    """Draw a practice and blocks that fit into it."""
    changeover = draw(st.integers(0, 3))
    lengths = draw(st.lists(st.integers(1, 25), max_size=8))
    breaks, each = draw(st.integers(0, 4)), draw(st.integers(0, 4))
    warm_up, cool_down, left = (draw(st.integers(0, 30)) for _ in range(3))
    minutes = warm_up + cool_down + breaks * each + left + sum(lengths) + changeover * len(lengths)
    practice = replace(
        PRACTICE,
        minutes=minutes,
        warm_up=warm_up,
        cool_down=cool_down,
        breaks=breaks,
        break_minutes=each,
        changeover=changeover,
    )
    return practice, planned(*lengths)


@given(practices())
def test_minutes_sum_to_the_practice(drawn: tuple[Practice, PlannedPractice]) -> None:
    """Each part begins when the one before ends, and together they are the practice."""
    practice, plan = drawn
    parts = layout(practice, plan, EMPTY)

    moment = dt.datetime.combine(dt.date(2027, 1, 13), practice.start)
    for part in parts:
        assert part.start == moment.time()
        moment += dt.timedelta(minutes=part.minutes)
    assert sum(part.minutes for part in parts) == practice.minutes


@given(practices())
def test_water_stands_where_it_helps(drawn: tuple[Practice, PlannedPractice]) -> None:
    """Water is never first or last, never twice running, never between warm-up and blocks."""
    practice, plan = drawn
    kinds = [part.kind for part in layout(practice, plan, EMPTY)]
    pairs = list(pairwise(kinds))

    assert "water" not in kinds[:1] + kinds[-1:]
    assert ("water", "water") not in pairs
    assert ("warm-up", "water") not in pairs


@given(practices())
def test_no_more_water_than_asked_for(drawn: tuple[Practice, PlannedPractice]) -> None:
    """There are as many breaks as the season asks for when the blocks leave gaps for them."""
    practice, plan = drawn
    found = sum(part.kind == "water" for part in layout(practice, plan, EMPTY))
    asked = practice.breaks if practice.break_minutes else 0

    assert found <= asked
    if len(plan.blocks) > asked:
        assert found == asked


@pytest.mark.parametrize("index", range(len(BLOCKS)), ids=list(BLOCKS))
def test_every_practice_of_a_season_can_be_laid_out(index: int) -> None:
    """The sample season's blocks all appear, in the plan's order and by their skills' names."""
    names = [part.title for part in layout(GYM.practices[index], PLAN.practices[index], LIBRARY)]
    wanted = [LIBRARY.skill(block.skill).name for block in PLAN.practices[index].blocks]

    assert [name for name in names if name in wanted] == wanted
