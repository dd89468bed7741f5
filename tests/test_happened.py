"""What the record makes of a season, and of the plans that follow it."""

import datetime as dt
from dataclasses import replace

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from curriculum.checks import pin_problems
from curriculum.gym.practices import Former
from curriculum.gym.slots import calendar_of
from curriculum.happened import open_from, season_after
from curriculum.models.plan import Plan
from curriculum.models.record import Record
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.planning import make_plan
from curriculum.problems import errors
from curriculum.referee.judge import judge
from curriculum.workload import workload_of
from curriculum.workspace import Workspace
from tests.record_cases import NOW, records
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


@settings(max_examples=150, deadline=None, suppress_health_check=ANY)
@given(cases(), st.data())
def test_the_referee_is_silent_on_plans_that_follow_a_record(
    case: tuple[Library, Season], data: st.DataObject
) -> None:
    """Whatever happened, the next plan keeps all rules and says of itself what is so."""
    library, season = case
    space = workspace(library, season)
    first = make_plan(space, now=NOW, today=None).plan
    assume(first.practices)
    today = data.draw(st.sampled_from([each.date for each in first.practices]))
    record = data.draw(records(first, today))
    after = recorded(space, first, record)

    plan = make_plan(after, now=NOW, today=today).plan
    again = make_plan(replace(after, plan=plan), now=NOW, today=today).plan

    assert errors(pin_problems(after.season, after.gym)) == ()
    opening = open_from(record, today)
    assert judge(plan, after.season, library, after.gym, opening).breaches == ()
    assert past(again, opening) == past(plan, opening)
