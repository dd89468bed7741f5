"""What the record makes of a season, and of the plans that follow it."""

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from curriculum.checks import pin_problems
from curriculum.gym.practices import Former
from curriculum.gym.slots import calendar_of
from curriculum.happened import (
    MOST_BLOCKS,
    held_so_far,
    open_from,
    season_after,
    within,
)
from curriculum.models.gymtimes import LostPractice, Move, MoveOf
from curriculum.models.plan import Plan
from curriculum.models.record import NOTHING, Entry, Record
from curriculum.models.season import Adjust, Pin, Season
from curriculum.models.skills import Library
from curriculum.planning import make_plan
from curriculum.problems import errors
from curriculum.referee.judge import judge
from curriculum.workload import workload_of
from curriculum.workspace import Workspace
from tests.build import day, library, plan_of, season, skill
from tests.record_cases import NOW, block_record, lost, of_practice, record_of, records
from tests.strategies import cases
from tests.test_properties import workspace

ANY = tuple(HealthCheck)


def recorded(space: Workspace, plan: Plan, record: Record) -> Workspace:
    """Return the folder with a plan and a record, as opening it would."""
    season = season_after(space.season, space.library, record)
    former = [Former(one.id, one.date, one.start, one.venue) for one in plan.practices]
    gym = calendar_of(season, former)
    return replace(
        space,
        season=season,
        gym=gym,
        workload=workload_of(season, space.library),
        plan=plan,
        record=record,
    )


def past(plan: Plan, opening: dt.date | None) -> list[list[tuple[str, str, int, str]]]:
    """Return the blocks of a plan before a date, by practice."""
    return [
        [(block.skill, block.stage, block.number, block.kind) for block in practice.blocks]
        for practice in plan.practices
        if opening is None or practice.date < opening
    ]


@settings(max_examples=100, deadline=None, suppress_health_check=ANY)
@given(cases(), st.data())
def test_the_referee_is_silent_on_plans_that_follow_a_record(
    case: tuple[Library, Season], data: st.DataObject
) -> None:
    """Whatever happened, the next plan keeps all rules and says of itself what is so."""
    skills, drawn = case
    space = workspace(skills, drawn)
    first = make_plan(space, now=NOW, today=None).plan
    assume(first.practices)
    today = data.draw(st.sampled_from([each.date for each in first.practices]))
    record = data.draw(records(first, today))
    after = recorded(space, first, record)

    plan = make_plan(after, now=NOW, today=today).plan
    again = make_plan(replace(after, plan=plan), now=NOW, today=today).plan

    assert errors(pin_problems(after.season, after.gym)) == ()
    opening = open_from(record, today)
    assert judge(plan, after.season, skills, after.gym, opening).breaches == ()
    assert past(again, opening) == past(plan, opening)


PASSES = library(skill("pass", unopposed=(2, 8), guided=(1, 8)), skill("stop", unopposed=(1, 8)))
OF = season(weeks=3)
GYM = calendar_of(OF)
PLAN = plan_of(
    OF,
    PASSES,
    GYM,
    {"01-12": ("pass", "stop"), "01-15": ("pass",), "01-19": ("pass@guided",)},
)
TUESDAY, FRIDAY, NEXT_TUESDAY = PLAN.practices[:3]


def went(planned: int, *ways: str, **others: object) -> Entry:
    """Return the entry of a practice of the plan, its blocks held and gone some way."""
    practice = PLAN.practices[planned]
    blocks = [
        block_record(block, went=way or None)
        for block, way in zip(practice.blocks, ways, strict=True)
    ]
    return of_practice(practice, blocks=tuple(blocks), **others)


def blocks_of(of: Season) -> dict[str, int]:
    """Return how many blocks a season asks of each stage."""
    return {f"{job.skill}@{job.stage}": job.blocks for job in workload_of(of, PASSES).jobs}


def test_without_a_record_a_season_is_itself() -> None:
    """Nothing recorded, nothing changes: the very same season comes back."""
    assert season_after(OF, PASSES, NOTHING) is OF


def test_shaky_blocks_make_a_stage_longer() -> None:
    """Each shaky block adds one to what the library or the season says of its stage."""
    adjusted = OF.model_copy(
        update={"adjust": (Adjust(skill="stop", stage="unopposed", blocks=4),)}
    )
    record = record_of(went(0, "shaky", "shaky"), went(1, "shaky"))

    assert blocks_of(season_after(adjusted, PASSES, record)) == {
        "pass@unopposed": 4,
        "pass@guided": 1,
        "stop@unopposed": 5,
    }


def test_a_stage_grows_to_no_end() -> None:
    """However often a stage is shaky, it takes no more blocks than a season file may ask for."""
    many = [went(0, "shaky", "", practice=f"2027-01-{n:02}-north-gym-1730") for n in range(1, 31)]

    found = blocks_of(season_after(OF, PASSES, record_of(*many)))
    assert found["pass@unopposed"] == MOST_BLOCKS


def test_a_lost_practice_is_not_held() -> None:
    """The calendar says that it is called off, in words that tell nobody why, and keeps its id."""
    gym = calendar_of(season_after(OF, PASSES, record_of(lost(FRIDAY, "Emma broke her arm"))))

    assert FRIDAY.id not in {practice.id for practice in gym.practices}
    assert [(one.id, one.why) for one in gym.not_held] == [
        (FRIDAY.id, "no practice: called off"),
    ]


def test_a_moved_practice_can_be_lost() -> None:
    """A practice is lost where it stands now, though a move brought it there."""
    move = Move(of=MoveOf(date=day("01-15")), date=day("01-16"))
    moved = OF.model_copy(update={"move": (move,)})
    entry = of_practice(FRIDAY, date=day("01-16"), status="lost", reason="ice", blocks=())

    gym = calendar_of(season_after(moved, PASSES, record_of(entry)))

    assert [(one.id, one.date, one.why) for one in gym.not_held] == [
        (FRIDAY.id, day("01-15"), "moved to Sat 16 Jan 17:30"),
        (FRIDAY.id, day("01-16"), "no practice: called off"),
    ]
    assert gym.problems == ()


def test_the_practice_before_a_lost_one_becomes_quiet() -> None:
    """The calendar is worked out again: what follows from a practice being held follows no more."""
    all_lost = record_of(*(lost(practice) for practice in PLAN.practices))

    gym = calendar_of(season_after(OF, PASSES, all_lost))

    assert (gym.practices, gym.problems) == ((), ())


def test_a_pin_on_a_lost_practice_is_a_warning() -> None:
    """A season whose pinned practice was lost can still be opened and planned."""
    pinned = OF.model_copy(update={"pin": (Pin(skill="pass", stage="guided", date=day("01-15")),)})
    after = season_after(pinned, PASSES, record_of(lost(FRIDAY)))

    found = list(pin_problems(after, calendar_of(after)))

    assert [(each.level, each.says) for each in found] == [
        ("warning", "the pinned practice was lost")
    ]


def test_lost_practices_stand_in_no_file() -> None:
    """A season file cannot name a lost practice by its id: it would be an unknown key."""
    with pytest.raises(ValueError, match="practice"):
        Season.model_validate(
            {**OF.model_dump(), "no_practice": ({"date": day("01-15"), "practice": "x"},)}
        )
    assert LostPractice(practice="x", date=day("01-15")).reason == "called off"


@pytest.mark.parametrize(
    ("entries", "today", "expected"),
    [
        ((), None, None),
        ((), "01-15", "01-15"),
        ((went(0, "", ""),), "01-12", "01-13"),
        ((went(0, "", ""),), "01-15", "01-15"),
        ((went(0, "", ""),), "01-11", "01-13"),
        ((lost(FRIDAY),), "01-15", "01-15"),
        ((lost(FRIDAY),), "01-12", "01-12"),
        ((lost(FRIDAY),), None, None),
    ],
)
def test_what_is_past(entries: tuple[Entry, ...], today: str | None, expected: str | None) -> None:
    """Days before today, and every day up to the last one recorded; a loss makes nothing past."""
    found = open_from(record_of(*entries), day(today) if today else None)

    assert found == (day(expected) if expected else None)


def test_the_record_speaks_for_its_practices() -> None:
    """There only what is done counts; elsewhere the plan does, and nothing on later dates."""
    record = record_of(went(0, "not yet", "solid"))

    held = held_so_far(record, PLAN, GYM, day("01-19"))

    assert held.blocks == (
        (("pass", "unopposed"), 2, FRIDAY.id),
        (("stop", "unopposed"), 1, TUESDAY.id),
    )


def test_without_a_plan_only_the_record_speaks() -> None:
    """A plan that was deleted leaves the recorded practices as they were."""
    held = held_so_far(record_of(went(1, "solid")), None, GYM, day("01-19"))

    assert held.blocks == ((("pass", "unopposed"), 2, FRIDAY.id),)


def test_reviews_that_went_well_are_past() -> None:
    """A solid review counts, a shaky one does not."""
    review = PLAN.practices[2].blocks[0].model_copy(update={"kind": "review", "number": 1, "of": 1})
    entries = [
        of_practice(NEXT_TUESDAY, blocks=(block_record(review, went=way),))
        for way in ("solid", "shaky")
    ]

    found = [held_so_far(record_of(each), None, GYM, day("01-22")).reviews for each in entries]

    assert found == [(("pass", NEXT_TUESDAY.id),), ()]


def test_a_record_is_about_its_season() -> None:
    """Practices on dates outside the season count for nothing."""
    record = record_of(went(0, "", ""), of_practice(FRIDAY, date=day("06-15")))

    assert within(record, OF) == record_of(went(0, "", ""))


def space_after(record: Record) -> Workspace:
    """Return the small season with its plan and a record, as a folder that was opened."""
    bare = Workspace(Path(), OF, PASSES, GYM, workload_of(OF, PASSES), PLAN, None, ())
    return recorded(bare, PLAN, record)


def test_shaky_and_not_yet_add_work() -> None:
    """The next plan holds the shaky stage once more, and what was not yet all over again."""
    plan = make_plan(
        space_after(record_of(went(0, "shaky", "not yet"))), now=NOW, today=day("01-13")
    ).plan

    taught = [
        (f"{practice.date:%m-%d}", block.skill, block.stage, block.number, block.of, block.kind)
        for practice in plan.practices
        for block in practice.blocks
        if block.kind != "review"
    ]
    assert taught == [
        ("01-12", "pass", "unopposed", 1, 3, "introduce"),
        ("01-15", "stop", "unopposed", 1, 1, "introduce"),
        ("01-15", "pass", "unopposed", 2, 3, "build"),
        ("01-19", "pass", "unopposed", 3, 3, "build"),
        ("01-22", "pass", "guided", 1, 1, "build"),
    ]


def test_once_recorded_changes_count() -> None:
    """A plan by which practices were held is known: changing it has a tier."""
    space = space_after(record_of(went(0, "solid", "solid")))

    plan = make_plan(space, now=NOW, today=day("01-13")).plan

    assert space.published
    assert plan.proof.tiers[3].name == "blocks moved"
    lessons = [[b for b in each.blocks if b.kind != "review"] for each in plan.practices[:3]]
    assert lessons == [list(practice.blocks) for practice in PLAN.practices[:3]]
