"""What stands in the way of goals, in numbers: chains of needs and stretches that are overfull."""

import random
from dataclasses import replace

import pytest

from curriculum.gym.slots import calendar_of
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.schedule.explain.limits import Limits, Overload, limits_of, overload
from curriculum.schedule.instance import Held, Instance, build
from curriculum.workload import workload_of
from tests.brute_force import keeps_all
from tests.build import day, game, goal, library, season, skill
from tests.random_seasons import random_case


def numbers(of: Season, skills: Library) -> Instance:
    """Return a season in numbers."""
    return build(of, calendar_of(of), workload_of(of, skills))


def limits(of: Season, skills: Library) -> Limits:
    """Return the limits of a season."""
    return limits_of(numbers(of, skills))


def test_the_longest_chain_counts_practices() -> None:
    """Of two ways to a goal the longer one counts, block by block."""
    of = season(weeks=3, goal=(goal("screen"),))
    skills = library(
        skill("cut", unopposed=(3, 8)),
        "pass",
        skill("screen", needs=("cut", "pass"), unopposed=(2, 8)),
    )
    found = limits(of, skills)
    names = [job.skill for job in workload_of(of, skills).jobs]
    chain = found.chain(names.index("screen"))

    assert ([names[job] for job in chain], found.practices_of(chain)) == (["cut", "screen"], 5)


def test_a_need_may_be_met_within_a_practice() -> None:
    """Where that is allowed, a chain takes one practice less at each step between skills."""
    of = season(weeks=3, goal=(goal("cut"),), teaching={"build_within_practice": True})
    skills = library(skill("pass", unopposed=(2, 8)), skill("cut", needs=("pass",)))
    found = limits(of, skills)

    assert found.practices_of(found.chain(1)) == 2


def test_no_overload_where_all_fits() -> None:
    """Two blocks in two practices are not too much."""
    of = season(weeks=2, goal=(goal("pass", by=day("01-15")), goal("cut", by=day("01-15"))))

    assert overload(numbers(of, library("pass", "cut")), (0, 1)) is None


def test_a_stretch_that_ends_with_a_goal_is_preferred() -> None:
    """Of several overfull stretches the one up to a goal's date is told."""
    of = season(weeks=2, goal=(goal("pass", by=day("01-19")), goal("cut", by=day("01-19"))))
    skills = library(skill("pass", unopposed=(3, 20)), skill("cut", unopposed=(3, 20)))

    # The first practice alone is overfull too: both first blocks must stand there.
    assert overload(numbers(of, skills), (0, 1)) == Overload(
        kind="minutes", first=0, last=2, need=126, room=111, goals=(0, 1)
    )


def test_a_stretch_after_the_first_practices() -> None:
    """What cannot stand in the first practices may be too much for those that follow."""
    of = season(
        weeks=2,
        goal=(goal("cut", by=day("01-15")), goal("shot", by=day("01-15"))),
    )
    skills = library(
        "pass",
        skill("cut", needs=("pass",), unopposed=(1, 20)),
        skill("shot", needs=("pass",), unopposed=(1, 20)),
    )

    assert overload(numbers(of, skills), (0, 1)) == Overload(
        kind="minutes", first=1, last=1, need=42, room=37, goals=(0, 1)
    )


def test_quiet_practices_introduce_nothing() -> None:
    """Practices just before a game have no room for new skills."""
    of = season(
        weeks=1,
        game=(game(date=day("01-16")),),
        goal=tuple(goal(each) for each in ("pass", "cut", "shot")),
    )

    assert overload(numbers(of, library("pass", "cut", "shot")), (0, 1, 2)) == Overload(
        kind="introductions", first=0, last=1, need=3, room=2, goals=(0, 1, 2)
    )


def test_what_else_waits_for_a_stage_does_not_hurry_it() -> None:
    """Long must start on 15 January to be taught at all; no goal asked about needs that."""
    goals = (goal("pass"), goal("shot", by=day("01-12")), goal("long", need="could"))
    skills = library("pass", "shot", skill("long", needs=("pass",), unopposed=(3, 8)))
    instance = numbers(season(weeks=2, goal=goals, teaching={"new_skills": 1}), skills)

    assert overload(instance, (0, 1)) is None
    assert overload(instance, (0, 1, 2)) == Overload(
        kind="introductions", first=0, last=0, need=2, room=1, goals=(0, 1, 2)
    )


def test_a_stage_that_was_held_waits_for_nothing() -> None:
    """What was passed over below it is neither on its chain nor asked for by its goal."""
    of = season(weeks=2, goal=(goal("pass", "guided", by=day("01-12")),))
    skills = library(skill("pass", unopposed=(2, 8), guided=(1, 8)))
    held = Held(((("pass", "guided"), 1, "2027-01-12-north-gym-1730"),))
    workload = workload_of(of, skills)
    found = limits_of(build(of, calendar_of(of), workload, day("01-13"), held))
    job = found.instance.goals[0].job

    assert found.chain(job) == (job,)
    assert overload(found.instance, (0,)) is None


@pytest.mark.parametrize("seed", range(3))
def test_what_is_ruled_out_is_ruled_out_by_brute_force_too(seed: int) -> None:
    """No plan meets a goal said to be out of reach, nor all goals said to be too much."""
    dice = random.Random(seed)
    ruled_out = 0
    for number in range(60):
        instance = replace(random_case(dice).instance, pins=())
        found = limits_of(instance)
        for index, each in enumerate(instance.goals):
            if found.windows.first[each.job][-1] >= each.limit:
                ruled_out += 1
                assert not keeps_all(replace(instance, goals=(each,))), (number, index)
        much = overload(instance, range(len(instance.goals)))
        if much is not None:
            ruled_out += 1
            asked = tuple(instance.goals[goal] for goal in much.goals)
            assert not keeps_all(replace(instance, goals=asked)), number

    assert ruled_out > 20
