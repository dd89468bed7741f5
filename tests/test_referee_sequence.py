"""Rules along the season: the ladder of a skill, and needs that come first."""

import datetime as dt

import pytest

from curriculum.gym.practices import Gym
from curriculum.models.season import Known, Season
from curriculum.models.skills import Library, Stage
from curriculum.referee.judge import judge
from curriculum.referee.verdict import Breach
from tests.build import Entry, block, day, goal, gym, library, plan_of, practice, season, skill

LADDER = library(skill("pass", unopposed=(2, 8), guided=(1, 8)))
OF = season(goal=(goal("pass", "guided"),))
NEEDY = library(skill("stop", unopposed=(2, 8)), skill("pass", needs=("stop",)))
NEEDING = season(goal=(goal("pass"),))
TWICE_A_DAY = Gym(
    practices=(
        practice(day("01-12")),
        practice(day("01-12"), id="evening", start=dt.time(19, 0), end=dt.time(20, 15)),
    )
)


def breaches(
    of: Season, skills: Library, blocks: dict[str, tuple[Entry, ...]], held: Gym | None = None
) -> tuple[Breach, ...]:
    """Return what the referee finds wrong with a plan of these blocks."""
    held = held or gym(of)
    return judge(plan_of(of, skills, held, blocks), of, skills, held).breaches


def ladder(date: str, stage: Stage, says: str) -> Breach:
    """Return a breach of the ladder of the skill `pass`."""
    practice_id = f"2027-{date}-north-gym-1730"
    return Breach("ladder", practice_id, "pass", stage, says)


def test_blocks_climb_the_ladder() -> None:
    """Two unopposed blocks, then guided, then a review: each on a later date."""
    blocks: dict[str, tuple[Entry, ...]] = {
        "01-12": ("pass",),
        "01-15": ("pass",),
        "01-19": ("pass@guided",),
        "01-22": ("review pass@guided",),
    }

    assert breaches(OF, LADDER, blocks) == ()


def test_a_ladder_may_stop_anywhere() -> None:
    """A plan that never gets to the higher stage breaks a goal, reported as a miss, but no rule."""
    assert breaches(OF, LADDER, {"01-12": ("pass",)}) == ()


def test_a_stage_waits_for_all_blocks_of_the_lower_one() -> None:
    """After the first of two unopposed blocks the second is due, not the next stage."""
    assert breaches(OF, LADDER, {"01-12": ("pass",), "01-15": ("pass@guided",)}) == (
        ladder(
            "01-15",
            "guided",
            "Fri 15 Jan 2027: Pass guided 1 of 1 stands where Pass unopposed 2 of 2 is due",
        ),
    )


def test_numbers_have_no_holes() -> None:
    """A first block with number 2 stands where number 1 is due."""
    second = block("pass", number=2, of=2, kind="build")

    assert breaches(OF, LADDER, {"01-12": (second,)}) == (
        ladder(
            "01-12",
            "unopposed",
            "Tue 12 Jan 2027: Pass unopposed 2 of 2 stands where Pass unopposed 1 of 2 is due",
        ),
    )


def test_no_block_is_held_twice() -> None:
    """A second block with the number of the last one stands where nothing is due."""
    skills, of = library("pass"), season(goal=(goal("pass"),))
    says = "Fri 15 Jan 2027: Pass unopposed 1 of 1 stands where no further block is due"
    found = breaches(of, skills, {"01-12": ("pass",), "01-15": (block("pass"),)})

    assert [breach for breach in found if breach.rule == "ladder"] == [
        ladder("01-15", "unopposed", says)
    ]


def test_known_stages_are_no_rungs() -> None:
    """Where `unopposed` is known, the ladder begins with `guided`."""
    of = season(goal=(goal("pass", "guided"),), known=(Known(skill="pass", stage="unopposed"),))

    assert breaches(of, LADDER, {"01-12": ("pass@guided",)}) == ()


@pytest.mark.parametrize(
    ("gap_days", "expected"),
    [
        (3, ()),  # Tuesday to Friday is three days
        (
            4,
            (
                ladder(
                    "01-15",
                    "unopposed",
                    "Fri 15 Jan 2027: Pass unopposed 2 of 2 comes 3 days after "
                    "Pass unopposed 1 of 2, at least 4 days must lie between",
                ),
            ),
        ),
    ],
)
def test_blocks_of_a_skill_lie_apart(gap_days: int, expected: tuple[Breach, ...]) -> None:
    """The gap is the difference of the dates, and it may be just as long as asked."""
    of = season(goal=(goal("pass", "guided"),), teaching={"gap_days": gap_days})

    assert breaches(of, LADDER, {"01-12": ("pass",), "01-15": ("pass",)}) == expected


def test_two_practices_on_a_date_are_one_day() -> None:
    """A gap of at least one day keeps two blocks of a skill off the same date."""
    blocks: dict[str, tuple[Entry, ...]] = {"01-12": ("pass",), "01-12 19:00": ("pass",)}

    assert breaches(OF, LADDER, blocks, TWICE_A_DAY) == (
        Breach(
            "ladder",
            "evening",
            "pass",
            "unopposed",
            "Tue 12 Jan 2027: Pass unopposed 2 of 2 comes 0 days after Pass unopposed 1 of 2, "
            "at least 1 day must lie between",
        ),
    )


def test_reviews_keep_the_gap_too() -> None:
    """A review three days after the last block is too early when four must lie between."""
    skills, of = library("pass"), season(goal=(goal("pass"),), teaching={"gap_days": 4})

    assert breaches(of, skills, {"01-12": ("pass",), "01-15": ("review pass",)}) == (
        ladder(
            "01-15",
            "unopposed",
            "Fri 15 Jan 2027: review of Pass unopposed 1 of 1 comes 3 days after "
            "Pass unopposed 1 of 1, at least 4 days must lie between",
        ),
    )


def test_a_review_waits_for_the_last_stage_asked_for() -> None:
    """A review between the stages comes too early, and to the wrong stage."""
    title = "Tue 19 Jan 2027: review of Pass unopposed 1 of 1"
    blocks: dict[str, tuple[Entry, ...]] = {
        "01-12": ("pass",),
        "01-15": ("pass",),
        "01-19": ("review pass",),
        "01-22": ("pass@guided",),
    }

    assert breaches(OF, LADDER, blocks) == (
        ladder(
            "01-19",
            "unopposed",
            f"{title} stands before Pass guided is reached on Fri 22 Jan 2027",
        ),
        ladder("01-19", "unopposed", f"{title} should come back to Pass guided"),
    )


def needs(date: str, says: str) -> Breach:
    """Return a breach of needs by the skill `pass`."""
    rule, practice_id = "needs come first", f"2027-{date}-north-gym-1730"
    return Breach(rule, practice_id, "pass", "unopposed", says)


def test_needs_are_reached_in_an_earlier_practice() -> None:
    """The waiting skill starts in the practice after the last block of what it needs."""
    assert (
        breaches(NEEDING, NEEDY, {"01-12": ("stop",), "01-15": ("stop",), "01-19": ("pass",)}) == ()
    )


def test_one_block_of_a_need_is_not_enough() -> None:
    """The needed stage has two blocks; before the second the waiting skill may not start."""
    blocks: dict[str, tuple[Entry, ...]] = {
        "01-12": ("stop",),
        "01-15": ("pass",),
        "01-19": ("stop",),
    }

    assert breaches(NEEDING, NEEDY, blocks) == (
        needs(
            "01-15",
            "Fri 15 Jan 2027: Pass unopposed 1 of 1 starts, but Stop unopposed is "
            "reached only on Tue 19 Jan 2027",
        ),
    )


def test_a_need_that_is_never_reached() -> None:
    """A need whose second block stands nowhere is named as never reached."""
    assert breaches(NEEDING, NEEDY, {"01-12": ("stop",), "01-15": ("pass",)}) == (
        needs(
            "01-15",
            "Fri 15 Jan 2027: Pass unopposed 1 of 1 starts, but Stop unopposed is never reached",
        ),
    )


@pytest.mark.parametrize(
    ("within", "friday", "says"),
    [
        (False, ("stop", "pass"), "reached only in this practice"),
        (True, ("stop", "pass"), None),
        (True, ("pass", "stop"), "reached only later in it"),
    ],
)
def test_needs_within_a_practice(within: bool, friday: tuple[str, ...], says: str | None) -> None:
    """With `build_within_practice` a need may be met earlier in the practice, never later."""
    of = season(goal=(goal("pass"),), teaching={"build_within_practice": within})
    title = "Fri 15 Jan 2027: Pass unopposed 1 of 1 starts, but Stop unopposed is"
    expected = (needs("01-15", f"{title} {says}"),) if says else ()

    assert breaches(of, NEEDY, {"01-12": ("stop",), "01-15": friday}) == expected


def test_a_known_need_counts_as_reached() -> None:
    """What the team already knows needs no block."""
    of = season(goal=(goal("pass"),), known=(Known(skill="stop", stage="unopposed"),))

    assert breaches(of, NEEDY, {"01-12": ("pass",)}) == ()


def test_a_need_reached_earlier_on_the_same_date() -> None:
    """Of two practices on one date the one that starts first comes first."""
    skills, of = library("stop", skill("pass", needs=("stop",))), season(goal=(goal("pass"),))
    title = "Tue 12 Jan 2027: Pass unopposed 1 of 1 starts, but Stop unopposed is"

    assert breaches(of, skills, {"01-12": ("stop",), "01-12 19:00": ("pass",)}, TWICE_A_DAY) == ()
    assert breaches(of, skills, {"01-12": ("pass",), "01-12 19:00": ("stop",)}, TWICE_A_DAY) == (
        needs("01-12", f"{title} reached only later that day"),
    )
