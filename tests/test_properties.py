"""What must hold for every season: the referee is silent, bytes repeat, files round-trip."""

import datetime as dt
from pathlib import Path

from hypothesis import HealthCheck, assume, given, settings

from curriculum.checks import known_pin_problems, pin_problems
from curriculum.files.checks import check_season
from curriculum.files.sources import SourceMap
from curriculum.gym.slots import calendar_of
from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.planning import make_plan
from curriculum.problems import errors
from curriculum.referee.judge import judge
from curriculum.store import plan_bytes
from curriculum.workload import workload_of
from curriculum.workspace import Workspace
from tests.strategies import cases

NOW = dt.datetime(2027, 1, 5, 9, tzinfo=dt.UTC)


def workspace(library: Library, season: Season, plan: Plan | None = None) -> Workspace:
    """Return a season as if it had been read from a folder; discards what files would refuse."""
    gym = calendar_of(season)
    faults = [
        *gym.problems,
        *pin_problems(season, gym),
        *known_pin_problems(season, library),
        *check_season(season, library, SourceMap()),
    ]
    assume(not errors(faults))
    return Workspace(
        folder=Path(),
        season=season,
        library=library,
        gym=gym,
        workload=workload_of(season, library),
        plan=plan,
        ledger=None,
        problems=(),
    )


@settings(max_examples=500, deadline=None, suppress_health_check=list(HealthCheck))
@given(cases())
def test_the_referee_is_silent_on_every_plan(case: tuple[Library, Season]) -> None:
    """No plan of 500 random seasons, feasible or not, breaks a rule or claims what is not so."""
    library, season = case
    space = workspace(library, season)

    plan = make_plan(space, now=NOW, today=None).plan

    assert judge(plan, season, library, space.gym).breaches == ()


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(cases())
def test_a_plan_goes_on_from_its_past(case: tuple[Library, Season]) -> None:
    """Planned again in mid-season, the past stands as it was and no rule is broken."""
    library, season = case
    space = workspace(library, season)
    middle = season.season.start + (season.season.end - season.season.start) / 2
    first = make_plan(space, now=NOW, today=None).plan

    again = make_plan(workspace(library, season, first), now=NOW, today=middle).plan

    assert judge(again, season, library, space.gym, middle).breaches == ()
    assert _held(again, middle) == _held(first, middle)


def _held(plan: Plan, before: dt.date) -> list[list[tuple[str, str, str]]]:
    """Return what was held, without the count of a skill's reviews, which grows later."""
    return [
        [(block.skill, block.stage, block.kind) for block in practice.blocks]
        for practice in plan.practices
        if practice.date < before
    ]


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(cases())
def test_the_same_input_gives_the_same_bytes(case: tuple[Library, Season]) -> None:
    """Planning twice gives one file, and the file reads back as the plan."""
    library, season = case
    space = workspace(library, season)

    first = make_plan(space, now=NOW, today=None).plan
    second = make_plan(space, now=NOW, today=None).plan

    assert plan_bytes(first) == plan_bytes(second)
    assert Plan.model_validate_json(plan_bytes(first)) == first
