"""Why blocks stand where they do: each earlier practice with its rule, what hangs on a skill."""

import datetime as dt
import random
from dataclasses import replace

import pytest

from curriculum.graph import Node
from curriculum.gym.slots import calendar_of
from curriculum.models.gymtimes import PracticeOn
from curriculum.models.plan import Plan
from curriculum.models.season import Known, Pin, Season
from curriculum.models.skills import Library, StageWork
from curriculum.referee.judge import judge
from curriculum.schedule.again import Setting, trial
from curriculum.schedule.assemble import assemble
from curriculum.schedule.explain.costs import Waiting
from curriculum.schedule.explain.earlier import Present, bar
from curriculum.schedule.explain.limits import limits_of
from curriculum.schedule.explain.why import BlockWhy, Earlier, Why, why
from curriculum.schedule.explain.words import names_of
from curriculum.schedule.instance import Held, build
from curriculum.schedule.instance import Pin as PinnedTo
from curriculum.schedule.reread import timetable_of
from curriculum.schedule.timetable import Timetable
from curriculum.workload import workload_of
from tests.brute_force import keeps_all
from tests.build import Entry, day, game, goal, library, plan_of, season, skill
from tests.random_seasons import random_case

MADE = dt.datetime(2027, 1, 5, 9, 0, tzinfo=dt.UTC)


def explained(
    of: Season, skills: Library, blocks: dict[str, tuple[Entry, ...]], asked: str, **which: object
) -> Why:
    """Return the answer about a skill in the plan with these blocks."""
    gym = calendar_of(of)
    workload = workload_of(of, skills)
    instance = build(of, gym, workload)
    plan: Plan = plan_of(of, skills, gym, blocks)
    timetable = timetable_of(plan, gym, workload, instance)
    return why(skills, gym, workload, instance, timetable, asked, **which)  # type: ignore[arg-type]


def reasons(found: Why) -> list[tuple[str, str, str]]:
    """Return rule, sentence and trial of everything earlier than the last block."""
    return [(each.rule, each.says, each.tried) for each in found.blocks[-1].earlier]


def test_a_block_in_the_first_practice_has_no_earlier_one() -> None:
    """Nothing comes before the first practice."""
    of = season(weeks=1, goal=(goal("pass"),))

    assert explained(of, library("pass"), {"01-12": ("pass",)}, "pass") == Why(
        skill="pass",
        name="Pass",
        note="",
        blocks=(BlockWhy("unopposed", 1, 1, "introduce", day("01-12"), ()),),
        unlocks=(),
        losing=(
            "Pass unopposed by Sun 17 Jan is missed",
            "nothing else waits for Pass unopposed",
        ),
    )


def test_needs_come_first() -> None:
    """What it needs stands in the practice before, and could not stand earlier."""
    of = season(weeks=2, goal=(goal("cut"),))
    skills = library("pass", skill("cut", needs=("pass",)))

    found = explained(of, skills, {"01-12": ("pass",), "01-15": ("cut",)}, "cut")

    assert reasons(found) == [
        (
            "needs come first",
            "Pass unopposed is held on Tue 12 Jan; no plan can have it before Fri 15 Jan",
            "",
        )
    ]


def test_the_ladder_with_days_between() -> None:
    """Neighbouring practices with one reason are told once."""
    of = season(weeks=2, goal=(goal("pass"),), teaching={"gap_days": 5})
    skills = library(skill("pass", unopposed=(2, 8)))

    found = explained(of, skills, {"01-12": ("pass",), "01-19": ("pass",)}, "pass")

    assert found.blocks[-1].earlier == (
        Earlier(
            first=day("01-12"),
            last=day("01-15"),
            practices=2,
            rule="ladder",
            says="block 1 is held on Tue 12 Jan and 5 days must lie between; "
            "no plan can have it before Tue 19 Jan",
        ),
    )


def test_a_full_practice_with_the_tier_that_would_get_worse() -> None:
    """Where only minutes are in the way, a plan with the block there is tried."""
    of = season(weeks=2, goal=(goal("pass", by=day("01-12")), goal("cut")))
    skills = library(skill("pass", unopposed=(1, 20)), skill("cut", unopposed=(1, 20)))

    found = explained(of, skills, {"01-12": ("pass",), "01-15": ("cut",)}, "cut")

    assert reasons(found) == [
        (
            "inside the gym time",
            "it takes 21 minutes, 16 of 37 are free beside Pass unopposed",
            "with it there, must-goals missed would be 1 instead of 0 (best plan tried)",
        )
    ]


def test_what_is_less_comfortable_is_said_in_days() -> None:
    """Comfort is a number; beside it stands what gets worse, in days.

    By hand: a skill of weight 3 would be taught 3 days later, another one 3 days earlier. Comfort
    is ten for each of 3 x 1 + 4 days now and of 3 x 4 + 1 days then, and 20 minutes above the mean.
    """
    weighty = goal("pass", need="should", weight=3)
    of = season(weeks=2, goal=(weighty, goal("cut", need="should")), teaching={"review_after": ()})
    skills = library(skill("pass", unopposed=(1, 20)), skill("cut", unopposed=(1, 20)))

    found = explained(of, skills, {"01-12": ("pass",), "01-15": ("cut",)}, "cut")

    worse = "comfort would be 150 instead of 90: skills are taught 6 days later in all"
    said = [tried for _, _, tried in reasons(found)]
    assert said == [f"with it there, {worse} (best plan tried)"]


def test_new_in_small_bites() -> None:
    """A practice with its share of new skills names them."""
    of = season(weeks=2, goal=(goal("pass"), goal("shot"), goal("cut")))
    blocks: dict[str, tuple[Entry, ...]] = {"01-12": ("pass", "shot"), "01-15": ("cut",)}

    found = explained(of, library("pass", "shot", "cut"), blocks, "cut")

    assert reasons(found) == [
        (
            "new in small bites",
            "2 new skills already: Pass unopposed and Shot unopposed",
            "a plan with it there is no worse",
        )
    ]


def test_quiet_before_a_game() -> None:
    """Nothing new stands in the last practice before a game."""
    of = season(weeks=2, goal=(goal("pass"),), game=(game(date=day("01-16")),))

    found = explained(of, library("pass"), {"01-19": ("pass",)}, "pass")

    assert reasons(found)[0] == (
        "quiet before a game",
        "it is new, and this is the last practice before a game",
        "",
    )


def test_enough_players() -> None:
    """A slot with too few players names both numbers."""
    of = season(weeks=1, expected=8, goal=(goal("play"),))
    slots = (of.slot[0], of.slot[1].model_copy(update={"expected": 12}))
    of = of.model_copy(update={"slot": slots})
    skills = library(skill("play", unopposed=StageWork(players=10)))

    assert reasons(explained(of, skills, {"01-15": ("play",)}, "play")) == [
        ("enough players, baskets and court", "it needs 10 players, 8 usually come", "")
    ]


def test_a_pinned_block() -> None:
    """A pinned block stands where the coach has put it."""
    pin = Pin(skill="pass", stage="unopposed", date=day("01-15"))
    of = season(weeks=1, goal=(goal("pass"),), pin=(pin,))

    assert reasons(explained(of, library("pass"), {"01-15": ("pass",)}, "pass")) == [
        ("pins and the past", "it is pinned to Fri 15 Jan", "")
    ]


def test_a_pin_means_either_practice_of_its_date() -> None:
    """The pin does not keep a block out of the earlier of two practices on one date."""
    pin = Pin(skill="pass", stage="unopposed", date=day("01-12"))
    early = PracticeOn(date=day("01-12"), start=dt.time(9), minutes=75, venue="north-gym")
    of = season(weeks=1, goal=(goal("pass"),), pin=(pin,), practice_on=(early,))
    skills, gym = library("pass"), calendar_of(of)
    workload = workload_of(of, skills)
    instance = build(of, gym, workload)

    found = why(skills, gym, workload, instance, Timetable(((1,),), ((),)), "pass")

    assert reasons(found) == [("", "no rule forbids it", "a plan with it there is no worse")]


def test_a_practice_that_is_too_short() -> None:
    """The minutes named are those of the practice asked about."""
    skills = library(skill("pass", unopposed=(1, 50)))
    long = PracticeOn(date=day("01-14"), start=dt.time(17), minutes=120, venue="north-gym")
    of = season(weeks=1, goal=(goal("pass"),), practice_on=(long,))

    assert reasons(explained(of, skills, {"01-14": ("pass",)}, "pass")) == [
        ("inside the gym time", "it takes 50 minutes at a time, the practice has 36", "")
    ]


def after_the_past(held: Held, blocks: tuple[tuple[int, ...], ...], **teaching: int) -> Why:
    """Return the answer about passing, taught unopposed, guided and live, after 13 January."""
    of = season(weeks=3, goal=(goal("pass", "guided"),), teaching=teaching)
    skills = library(skill("pass", unopposed=(1, 8), guided=(2, 8)))
    gym, workload = calendar_of(of), workload_of(of, skills)
    instance = build(of, gym, workload, day("01-14"), held)
    return why(skills, gym, workload, instance, Timetable(blocks, ((),)), "pass")


def test_a_stage_begun_before_what_it_needs() -> None:
    """Its first block was held without the stage below it, for which the second one waits."""
    held = Held(((("pass", "guided"), 1, "2027-01-12-north-gym-1730"),))

    found = after_the_past(held, ((2,), (0, 3)))

    assert reasons(found) == [
        ("ladder", "Pass unopposed is held on Tue 19 Jan", "a plan with it there is no worse"),
        (
            "ladder",
            "Pass unopposed is held on Tue 19 Jan; no plan can have it before Tue 19 Jan",
            "",
        ),
    ]


def test_a_stage_made_good_keeps_away_from_what_was_held() -> None:
    """The stage above it was held on 12 January, and a week must lie between."""
    held = Held(((("pass", "guided"), 1, "2027-01-12-north-gym-1730"),))

    found = after_the_past(held, ((2,), (0,)), gap_days=7)

    assert [(each.rule, each.says) for each in found.blocks[0].earlier] == [
        (
            "ladder",
            (
                "Pass guided is held on Tue 12 Jan and 7 days must lie between; "
                "no plan can have it before Tue 19 Jan"
            ),
        )
    ]


def test_a_skill_held_as_a_review_keeps_its_distance() -> None:
    """It was reviewed on 12 January and never taught before: that was no review after all."""
    found = after_the_past(
        Held((), (("pass", "2027-01-12-north-gym-1730"),)), ((2,), ()), gap_days=7
    )

    assert [(each.rule, each.says) for each in found.blocks[0].earlier] == [
        (
            "ladder",
            "its skill was held less than 7 days before; no plan can have it before Tue 19 Jan",
        )
    ]


def test_what_else_waits_for_a_skill_does_not_hurry_its_goals() -> None:
    """A stage that no practice can hold waits for it too; the other goal is still in reach."""
    big = StageWork(players=20)
    skills = library(
        "pass", skill("cut", needs=("pass",)), skill("big", needs=("pass",), unopposed=big)
    )
    of = season(weeks=2, goal=(goal("cut"), goal("big", need="could")))

    assert explained(of, skills, {"01-12": ("pass",), "01-15": ("cut",)}, "pass").losing == (
        "2 stages of Cut and Big wait for Pass unopposed, the first on Fri 15 Jan",
        "Big unopposed by Sun 24 Jan is out of reach already",
        "Cut unopposed by Sun 24 Jan is missed if it is reached after Tue 19 Jan",
    )


def test_what_no_rule_forbids_is_said_plainly() -> None:
    """A block that could as well stand earlier is told with what a plan tried gives."""
    of = season(weeks=1, goal=(goal("pass"),))

    assert reasons(explained(of, library("pass"), {"01-15": ("pass",)}, "pass")) == [
        ("", "no rule forbids it", "a plan with it there is no worse")
    ]


def test_what_a_skill_unlocks_and_what_losing_it_costs() -> None:
    """What waits for it comes with dates, the goals with the last date that still saves them."""
    of = season(weeks=2, goal=(goal("cut", by=day("01-19")), goal("shot", need="should")))
    skills = library("pass", skill("cut", needs=("pass",)), skill("shot", needs=("cut",)))
    blocks: dict[str, tuple[Entry, ...]] = {
        "01-12": ("pass",),
        "01-15": ("cut",),
        "01-19": ("shot",),
    }

    found = explained(of, skills, blocks, "pass")

    assert (found.unlocks, found.losing) == (
        (
            Waiting(("cut", "unopposed"), day("01-15")),
            Waiting(("shot", "unopposed"), day("01-19")),
        ),
        (
            "2 stages of Cut and Shot wait for Pass unopposed, the first on Fri 15 Jan",
            "Cut unopposed by Tue 19 Jan is missed if it is reached after Fri 15 Jan",
            "Shot unopposed by Sun 24 Jan is missed if it is reached after Fri 15 Jan",
        ),
    )


@pytest.mark.parametrize(
    ("asked", "which", "note"),
    [
        ("shot", {}, "no goal asks for Shot"),
        ("cut", {}, "Cut is known already, so it is not taught"),
        ("pass", {"date": day("01-15")}, "Pass has no block on that date"),
        ("pass", {"stage": "live"}, "no goal asks for Pass live"),
        ("spin", {}, "Spin is not taught in this plan"),
    ],
)
def test_nothing_to_explain(asked: str, which: dict[str, dt.date], note: str) -> None:
    """Where a skill has no block, the answer says why."""
    of = season(
        weeks=1, goal=(goal("pass"), goal("spin")), known=(Known(skill="cut", stage="unopposed"),)
    )
    skills = library("pass", "cut", "shot", "spin")

    found = explained(of, skills, {"01-12": ("pass",)}, asked, **which)

    assert (found.note, found.blocks) == (note, ())


def test_an_unknown_skill_is_misuse() -> None:
    """A skill that the library lacks is an error of the caller."""
    with pytest.raises(KeyError):
        explained(season(weeks=1), library("pass"), {}, "dunk")


RULES = {
    "inside the gym time",
    "ladder",
    "needs come first",
    "new in small bites",
    "quiet before a game",
    "enough players, baskets and court",
}


@pytest.mark.parametrize("seed", range(4))
def test_the_referee_agrees_with_every_reason(seed: int) -> None:
    """Moved to an earlier practice, a block breaks the rule that is named, and none if none is."""
    dice = random.Random(seed)
    for number in range(15):
        tried = random_case(dice)
        made = trial(Setting(tried.season, tried.library, tried.gym))
        found = assemble(
            tried.season, tried.gym, made.workload, made.instance, made.result, made=MADE
        )
        plan = without_reviews(found)
        present = Present(
            limits_of(made.instance),
            tried.gym,
            made.workload,
            names_of(tried.library),
            made.result.timetable,
        )
        for job, row in enumerate(made.result.timetable.blocks):
            for block, place in enumerate(row, start=1):
                for practice in range(place):
                    reason = bar(present, job, block, practice)
                    moved = with_block_at(plan, made.workload.jobs[job].node, block, practice)
                    broken = {
                        breach.rule
                        for breach in judge(moved, tried.season, tried.library, tried.gym).breaches
                    }
                    where = (number, job, block, practice, reason)
                    if reason.rule == "":
                        assert not broken & RULES, where
                    elif reason.rule != "pins and the past":
                        assert reason.rule in broken, where
                    if reason.firm and reason.rule in RULES:
                        pinned = replace(
                            made.instance, goals=(), pins=(PinnedTo(job, block, (practice,)),)
                        )
                        assert not keeps_all(pinned), where


def without_reviews(plan: Plan) -> Plan:
    """Return a plan with its teaching blocks only: reviews give way to them."""
    practices = tuple(
        one.model_copy(update={"blocks": tuple(b for b in one.blocks if b.kind != "review")})
        for one in plan.practices
    )
    return plan.model_copy(update={"practices": practices})


def with_block_at(plan: Plan, node: Node, number: int, place: int) -> Plan:
    """Return a plan with one block held at the end of another practice instead."""
    moved = next(
        block
        for one in plan.practices
        for block in one.blocks
        if (block.skill, block.stage, block.number) == (*node, number)
    )
    practices = tuple(
        one.model_copy(
            update={
                "blocks": (
                    *(block for block in one.blocks if block != moved),
                    *((moved,) if index == place else ()),
                )
            }
        )
        for index, one in enumerate(plan.practices)
    )
    return plan.model_copy(update={"practices": practices})
