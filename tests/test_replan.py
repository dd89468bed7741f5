"""From one plan to the next: what is past, what people know, and what differs."""

import datetime as dt
from dataclasses import replace
from statistics import median
from typing import Any

import pytest

from curriculum.graph import Node
from curriculum.gym.slots import calendar_of
from curriculum.models.plan import Plan
from curriculum.replan import Difference, Name, Place, Shift, difference, setting_of
from curriculum.schedule.again import Setting, changed, instance_of, trial
from curriculum.schedule.assemble import assemble
from curriculum.schedule.changes import WithoutDates
from curriculum.schedule.instance import Held, held_of
from curriculum.spans import DAY
from tests.build import Entry, day, goal, gym, library, plan_of, season, skill
from tests.library import shipped_library

MADE = dt.datetime(2027, 1, 5, 9, 0, tzinfo=dt.UTC)
OF = season(weeks=2, goal=(goal("pass", by=day("01-15")), goal("cut")))
SKILLS = library(skill("pass", unopposed=(2, 8)), "cut")


def plan(blocks: dict[str, tuple[Entry, ...]], **changes: Any) -> Plan:
    """Return a plan of the two weeks with these blocks; `changes` go to the calendar."""
    return plan_of(OF, SKILLS, gym(OF, **changes), blocks)


BEFORE = plan({"01-12": ("cut", "pass"), "01-15": ("pass", "review cut"), "01-19": ("review cut",)})


def place(text: str) -> Place:
    """Return the place of a date."""
    return Place(f"2027-{text}-north-gym-1730", day(text), dt.time(17, 30), "north-gym")


def test_a_plan_does_not_differ_from_itself() -> None:
    """Equal plans have no changes."""
    found = difference(BEFORE, BEFORE)

    assert (found, found.changes, found.noticed) == (
        Difference((), (), (), (), (), (), (), ()),
        False,
        0,
    )


def test_moved_new_and_gone_blocks_and_goals_lost() -> None:
    """A later block is moved, a dropped one gone, an added one new; a goal now late is lost."""
    after = plan({"01-12": ("pass",), "01-19": ("pass",), "01-22": ()})

    found = difference(BEFORE, after)

    assert found.moved == (
        Shift(Name("pass", "unopposed", 2, "build"), place("01-15"), place("01-19")),
    )
    assert found.new == ()
    assert found.gone == (
        Shift(Name("cut", "unopposed", 1, "introduce"), place("01-12"), None),
        Shift(Name("cut", "unopposed", 1, "review"), place("01-15"), None),
        Shift(Name("cut", "unopposed", 2, "review"), place("01-19"), None),
    )
    assert [(each.skill, each.met) for each in found.goals_lost] == [
        ("pass", False),
        ("cut", False),
    ]
    assert found.noticed == 4


def test_the_way_back_wins_what_the_way_there_loses() -> None:
    """Seen from the other plan, what was gone is new and what was lost is won."""
    after = plan({"01-12": ("pass",), "01-19": ("pass",), "01-22": ()})

    there, back = difference(BEFORE, after), difference(after, BEFORE)

    assert [(one.block, one.was, one.now) for one in back.new] == [
        (one.block, one.now, one.was) for one in there.gone
    ]
    assert [each.skill for each in back.goals_won] == [each.skill for each in there.goals_lost]


def test_reviews_are_compared_as_practices() -> None:
    """One review more leaves the others where they are, whatever their numbers."""
    after = plan(
        {
            "01-12": ("pass", "cut"),
            "01-15": ("pass", "review cut"),
            "01-19": ("review cut",),
            "01-22": ("review cut",),
        }
    )

    assert difference(BEFORE, after).new == (
        Shift(Name("cut", "unopposed", 3, "review"), None, place("01-22")),
    )


def test_a_review_that_moves_is_one_change() -> None:
    """As many reviews leave as come: each has moved."""
    after = plan(
        {"01-12": ("pass", "cut"), "01-15": ("pass", "review cut"), "01-22": ("review cut",)}
    )

    assert difference(BEFORE, after).moved == (
        Shift(Name("cut", "unopposed", 2, "review"), place("01-19"), place("01-22")),
    )


def test_blocks_of_a_lost_practice_are_forced() -> None:
    """What stood in a practice that is no longer held does not count as a change of mind."""
    after = plan({"01-12": ("pass", "cut"), "01-19": ("pass",)}, without=[day("01-15")])

    found = difference(BEFORE, after)

    assert found.lost == (place("01-15"),)
    assert [(one.block.kind, one.forced) for one in (*found.moved, *found.gone)] == [
        ("build", True),
        ("review", True),
        ("review", False),
    ]
    assert found.noticed == 1


def test_a_practice_that_moves_takes_its_blocks_along() -> None:
    """Blocks stay with the id of their practice; only its date is different."""
    practices = tuple(
        one.model_copy(update={"date": day("01-20")}) if one.date == day("01-19") else one
        for one in BEFORE.practices
    )

    found = difference(BEFORE, BEFORE.model_copy(update={"practices": practices}))

    assert found.rescheduled == ((place("01-19"), replace(place("01-19"), date=day("01-20"))),)
    assert replace(found, rescheduled=()) == difference(BEFORE, BEFORE)


def test_an_introduction_that_is_none_any_more_has_not_moved() -> None:
    """A block that stays where it is has not changed, whatever kind it is in the other plan."""
    first, *others = BEFORE.practices
    block = first.blocks[0].model_copy(update={"kind": "build"})
    known = first.model_copy(update={"blocks": (block, *first.blocks[1:])})
    after = BEFORE.model_copy(update={"practices": (known, *others)})

    assert not difference(BEFORE, after).changes


def test_goals_at_risk_are_compared() -> None:
    """Goals that have come to be at risk, and those that no longer are; missed ones are neither."""
    risks: tuple[list[Node], list[Node]] = [("pass", "unopposed")], [("cut", "unopposed")]
    after = plan({"01-12": (), "01-15": ()})

    found, late = difference(BEFORE, BEFORE, *risks), difference(BEFORE, after, *risks)

    assert (found.newly_at_risk, found.safe_again) == (
        (("cut", "unopposed"),),
        (("pass", "unopposed"),),
    )
    assert (late.newly_at_risk, late.safe_again) == ((), ())


@pytest.mark.parametrize(
    ("published", "fresh", "sticky"),
    [(False, False, False), (True, False, True), (True, True, False), (False, True, False)],
)
def test_only_a_published_plan_is_kept_to(published: bool, fresh: bool, sticky: bool) -> None:
    """A plan that nobody knows, or that is to be forgotten, holds nothing in place."""
    found = setting_of(OF, SKILLS, gym(OF), BEFORE, day("01-14"), published=published, fresh=fresh)

    assert found.held == held_of(BEFORE, day("01-14"))
    assert found.former == (held_of(BEFORE) if sticky else None)


def test_without_a_plan_nothing_is_past() -> None:
    """A first plan may use every date, whatever day it is."""
    found = instance_of(setting_of(OF, SKILLS, gym(OF), None, day("01-20"), published=True))

    assert (found.first_open, found.held, found.former) == (0, (), ())


def test_without_a_day_nothing_of_a_plan_is_past() -> None:
    """When no day is given, every practice of the plan is still open."""
    found = instance_of(setting_of(OF, SKILLS, gym(OF), BEFORE))

    assert (found.first_open, found.held) == (0, ())


def test_the_past_stays_as_it_was() -> None:
    """Past practices hold what the old plan says, and the rest is planned around them."""
    today = day("01-14")
    setting = setting_of(OF, SKILLS, calendar_of(OF), BEFORE, today)
    made = trial(setting)
    after = assemble(OF, setting.gym, made.workload, made.instance, made.result, made=MADE)

    past = [practice.blocks for practice in after.practices if practice.date < today]

    assert past == [practice.blocks for practice in BEFORE.practices if practice.date < today]


def test_what_was_really_held_goes_before_the_plan() -> None:
    """A record of what happened replaces what the plan says of the past, with a plan or without."""
    nothing = setting_of(OF, SKILLS, gym(OF), BEFORE, day("01-14"), held=Held())

    first = setting_of(OF, SKILLS, gym(OF), None, day("01-14"), held=Held())

    assert (nothing.held, first.held, first.today) == (Held(), Held(), day("01-14"))


def test_a_lost_practice_moves_little_of_a_published_plan() -> None:
    """Every third practice in turn is lost the day before: the median of moved blocks is small.

    Blocks of the lost practice itself do not count. At most 40 % of what planning afresh moves, and
    no must- or should-goal is missed that planning afresh meets.
    """
    skills = shipped_library()
    of = season(
        weeks=12,
        goal=(
            goal("give-and-go", "live", by=day("02-26")),
            goal("backdoor-cut", "live", by=day("03-12")),
            goal("fill-three-players", "live", by=day("03-26")),
            goal("close-out", "live", by=day("03-05"), need="should"),
            goal("catch-and-shoot", "guided", by=day("03-19"), need="should"),
            goal("two-on-one", "live", need="should"),
        ),
    )
    first = Setting(of, skills, calendar_of(of))
    old = planned(first)
    kept, fresh, lost = [], [], []
    for practice in first.gym.practices[::3]:
        less = changed(first, [WithoutDates(practice.date, practice.date)])
        told = setting_of(of, skills, less.gym, old, practice.date - DAY, published=True)
        forgotten = replace(told, former=None)
        close, anew = difference(old, planned(told)), difference(old, planned(forgotten))
        kept.append(close.noticed)
        fresh.append(anew.noticed)
        anyway = {(each.skill, each.stage) for each in anew.goals_lost}
        lost += [each for each in close.goals_lost if (each.skill, each.stage) not in anyway]

    assert median(kept) <= 0.4 * median(fresh)
    assert [each for each in lost if each.need != "could"] == []


def planned(setting: Setting) -> Plan:
    """Return the quick plan of a setting."""
    made = trial(setting)
    season_, held = setting.season, setting.gym
    return assemble(season_, held, made.workload, made.instance, made.result, made=MADE)
