"""Pins, and the honesty of goals, status and proof."""

import datetime as dt
from typing import Any

import pytest

from curriculum.models.plan import GoalResult, Miss, Plan, Status, TierProof
from curriculum.models.season import Known, Pin, Season
from curriculum.referee.judge import judge
from curriculum.referee.verdict import Breach
from tests.build import day, game, goal, gym, library, plan_of, season, skill

SKILLS = library(skill("pass", unopposed=(2, 8)), "stop")
OF = season(goal=(goal("pass", by=day("01-22")), goal("stop", need="could")))
HELD = gym(OF)
PLAN = plan_of(OF, SKILLS, HELD, {"01-12": ("pass",), "01-15": ("pass",), "01-19": ("stop",)})
LATE = plan_of(OF, SKILLS, HELD, {"01-12": ("pass",), "01-26": ("pass",)})
IN_TIME, LATE_DAY = "Fri 15 Jan 2027", "Tue 26 Jan 2027"
FIRST_FOUR = "must-goals missed, days late, should-goals missed, could-goals missed"
# The comfort of PLAN in its 21 days is 196. Early: pass on day 4, stop on day 8, 10 x 12 = 120.
# Late: the reviews due on days 11 and 15 stand nowhere, 4 x (10 + 6) = 64. Uneven: 24 minutes in 6
# practices are 4 each, three practices have 8, 3 x 4 = 12.


def pinned(number: int | None = None) -> Season:
    """Return a season that pins `pass` to Friday 15 January."""
    pin = Pin(skill="pass", stage="unopposed", date=day("01-15"), number=number)
    return season(goal=(goal("pass"),), pin=(pin,))


@pytest.mark.parametrize(
    ("number", "blocks"),
    [
        (None, {"01-12": ("pass",), "01-15": ("pass",)}),
        (2, {"01-12": ("pass",), "01-15": ("pass",)}),
        (1, {"01-15": ("pass",), "01-19": ("pass",)}),
    ],
)
def test_a_pin_that_is_kept(number: int | None, blocks: dict[str, tuple[str, ...]]) -> None:
    """A block of the stage, or that very number, stands on the date."""
    of = pinned(number)
    held = gym(of)

    assert judge(plan_of(of, SKILLS, held, blocks), of, SKILLS, held).breaches == ()


def test_a_review_keeps_a_pin_without_number() -> None:
    """A pin asks for a block of the stage, and a review is one."""
    skills, of = library("pass"), pinned()
    held = gym(of)
    plan = plan_of(of, skills, held, {"01-12": ("pass",), "01-15": ("review pass",)})

    assert judge(plan, of, skills, held).breaches == ()


def test_a_review_keeps_no_pin_with_a_number() -> None:
    """Number 1 of a stage is its first block, not the first review."""
    skills, of = library("pass"), pinned(1)
    held = gym(of)
    plan = plan_of(of, skills, held, {"01-12": ("pass",), "01-15": ("review pass",)})

    assert [breach.rule for breach in judge(plan, of, skills, held).breaches] == [
        "pins and the past",
        "honest goals",
    ]


@pytest.mark.parametrize(
    ("number", "block"),
    [(None, "no block stands there"), (1, "its block 1 does not stand there")],
)
def test_a_pin_that_is_not_kept(number: int | None, block: str) -> None:
    """A pin that is not kept is a breach, unless a miss says so."""
    of = pinned(number)
    held = gym(of)
    told = plan_of(of, SKILLS, held, {"01-12": ("pass",), "01-19": ("pass",)})
    untold = told.model_copy(update={"misses": ()})
    breach = Breach(
        "pins and the past",
        "2027-01-15-north-gym-1730",
        "pass",
        "unopposed",
        f"Fri 15 Jan 2027: Pass unopposed is pinned to this date, but {block} and no miss says so",
    )

    assert told.status == "partial"
    assert judge(told, of, SKILLS, held).breaches == ()
    assert judge(untold, of, SKILLS, held).breaches == (breach,)


def test_a_pin_in_the_past_asks_for_nothing() -> None:
    """What was pinned to a date before today is over, kept or not; pinned to today it is not."""
    of = pinned()
    held = gym(of)
    plan = plan_of(
        of, SKILLS, held, {"01-12": ("pass",), "01-19": ("pass",)}, misses=(), status="feasible"
    )

    assert judge(plan, of, SKILLS, held, today=day("01-16")).breaches == ()
    assert [b.rule for b in judge(plan, of, SKILLS, held, today=day("01-15")).breaches] == [
        "pins and the past",
        "honest goals",
    ]


def test_goals_that_say_what_is_so() -> None:
    """A met must-goal, a met could-goal, and a missed must-goal with its miss are all honest."""
    assert judge(PLAN, OF, SKILLS, HELD).breaches == ()
    assert judge(LATE, OF, SKILLS, HELD).breaches == ()
    assert LATE.goals == (
        GoalResult(
            skill="pass",
            stage="unopposed",
            by=day("01-22"),
            need="must",
            reached=day("01-26"),
            met=False,
        ),
        GoalResult(
            skill="stop",
            stage="unopposed",
            by=day("01-31"),
            need="could",
            reached=None,
            met=False,
        ),
    )


@pytest.mark.parametrize(
    ("plan", "changes", "says"),
    [
        (
            LATE,
            {"met": True},
            f"reached on {LATE_DAY} and met, it is reached on {LATE_DAY} and missed",
        ),
        (
            LATE,
            {"reached": day("01-22"), "met": True},
            f"reached on Fri 22 Jan 2027 and met, it is reached on {LATE_DAY} and missed",
        ),
        (PLAN, {"reached": None}, f"not reached and met, it is reached on {IN_TIME} and met"),
        (
            PLAN,
            {"met": False},
            f"reached on {IN_TIME} and missed, it is reached on {IN_TIME} and met",
        ),
    ],
)
def test_a_goal_claims_what_is_not_so(plan: Plan, changes: dict[str, Any], says: str) -> None:
    """A wrong date or a wrong word on a goal is a breach, to its favour or not."""
    claim = plan.goals[0].model_copy(update=changes)
    told = plan.model_copy(update={"goals": (claim, *plan.goals[1:])})

    assert judge(told, OF, SKILLS, HELD).breaches == (
        Breach(
            "honest goals",
            None,
            "pass",
            "unopposed",
            f"the must-goal Pass unopposed by Fri 22 Jan 2027 is said to be {says}",
        ),
    )


def test_a_miss_that_nobody_reports() -> None:
    """Each goal not met, a could-goal too, needs a miss of its skill and stage."""
    misses = (Miss(skill="pass", stage="unopposed", why="no room"),)

    assert judge(LATE.model_copy(update={"misses": misses}), OF, SKILLS, HELD).breaches == (
        Breach(
            "honest goals",
            None,
            "stop",
            "unopposed",
            "the could-goal Stop unopposed by Sun 31 Jan 2027 is missed, and no miss says so",
        ),
    )


def test_each_goal_stands_once() -> None:
    """A goal left out, one said twice and one of another season are none of this plan's."""
    first, second = PLAN.goals
    other = second.model_copy(update={"need": "should"})
    sentences = {
        "left out": (first,),
        "twice": (first, second, second),
        "other": (first, other),
    }
    found = {
        name: [
            (breach.rule, breach.says)
            for breach in judge(PLAN.model_copy(update={"goals": goals}), OF, SKILLS, HELD).breaches
        ]
        for name, goals in sentences.items()
    }
    rule, stop = "the plan itself", "Stop unopposed by Sun 31 Jan 2027"
    missing = f"the could-goal {stop} is missing among the plan's goals"
    surplus = "stands among the plan's goals, the season has no such goal"

    assert found == {
        "left out": [(rule, missing)],
        "twice": [(rule, f"the could-goal {stop} {surplus}")],
        "other": [(rule, missing), (rule, f"the should-goal {stop} {surplus}")],
    }


@pytest.mark.parametrize(
    ("start", "met"),
    [
        (dt.time(18, 45), True),  # the practice ends at 18:45
        (dt.time(18, 44), False),
        (dt.time(12, 0), False),
    ],
)
def test_a_goal_by_a_game_on_the_day_of_practice(start: dt.time, met: bool) -> None:
    """The last block's practice ends at or before the moment when the game starts."""
    skills = library("pass")
    of = season(goal=(goal("pass", by="cup-1"),), game=(game(date=day("01-12"), start=start),))
    held = gym(of)
    plan = plan_of(of, skills, held, {"01-12": ("pass",)})

    assert (plan.goals[0].met, judge(plan, of, skills, held).breaches) == (met, ())


def test_two_goals_due_on_one_date() -> None:
    """By the date and by the game of that date are two goals, met each in its own way."""
    skills = library("pass")
    of = season(
        goal=(goal("pass", by="cup-1"), goal("pass", by=day("01-12"))),
        game=(game(date=day("01-12"), start=dt.time(12, 0)),),
    )
    held = gym(of)
    plan = plan_of(of, skills, held, {"01-12": ("pass",)})

    assert [goal.met for goal in plan.goals] == [False, True]
    assert judge(plan, of, skills, held).breaches == ()


def test_a_known_goal_is_met_without_a_date() -> None:
    """A goal on a known stage is met and `reached` stays empty, whatever is claimed."""
    of = season(goal=(goal("pass"),), known=(Known(skill="pass", stage="unopposed"),))
    held = gym(of)
    plan = plan_of(of, SKILLS, held, {})

    assert (plan.goals[0].reached, plan.goals[0].met) == (None, True)
    assert judge(plan, of, SKILLS, held).breaches == ()


@pytest.mark.parametrize(
    ("plan", "status", "says"),
    [
        (PLAN, "partial", "the status is partial with must-goals missed: 0, pins not kept: 0"),
        (LATE, "feasible", "the status is feasible with must-goals missed: 1, pins not kept: 0"),
        (
            PLAN,
            "optimal",
            "the status is optimal, but comfort is 196 and proved only to be at least 0",
        ),
    ],
)
def test_the_status_is_earned(plan: Plan, status: Status, says: str) -> None:
    """Partial means a must-goal or pin missed and nothing else; optimal needs a whole proof."""
    told = plan.model_copy(update={"status": status})

    assert judge(told, OF, SKILLS, HELD).breaches == (
        Breach("honest goals", None, None, None, says),
    )


def proved(*tiers: TierProof) -> Plan:
    """Return the plan with another proof."""
    return PLAN.model_copy(update={"proof": PLAN.proof.model_copy(update={"tiers": tiers})})


def test_a_plan_proved_to_its_bounds_is_optimal() -> None:
    """Where every bound equals its value the plan may call itself optimal."""
    tiers = (tier.model_copy(update={"bound": tier.value}) for tier in PLAN.proof.tiers)
    plan = proved(*tiers).model_copy(update={"status": "optimal"})

    assert judge(plan, OF, SKILLS, HELD).breaches == ()


def test_a_tier_of_another_name_is_not_compared() -> None:
    """A proof may hold tiers that the plan alone does not tell, such as changes since the last."""
    first, *others = PLAN.proof.tiers
    plan = proved(first, TierProof(name="changes", value=7, bound=7), *others)

    assert judge(plan, OF, SKILLS, HELD).breaches == ()


@pytest.mark.parametrize(
    ("tiers", "says"),
    [
        (PLAN.proof.tiers[:4], f"the proof has the tiers {FIRST_FOUR}; due: {FIRST_FOUR}, comfort"),
        (
            (*PLAN.proof.tiers[:4], TierProof(name="comfort", value=195, bound=0)),
            "comfort is said to be 195, it is 196",
        ),
        (
            (*PLAN.proof.tiers[:4], TierProof(name="comfort", value=196, bound=197)),
            "comfort is 196, below its bound 197",
        ),
    ],
)
def test_the_proof_is_true(tiers: tuple[TierProof, ...], says: str) -> None:
    """All tiers are there, with the value that the plan has and a bound that it does not beat."""
    assert judge(proved(*tiers), OF, SKILLS, HELD).breaches == (
        Breach("honest goals", None, None, None, says),
    )
