"""Instances written by hand in a few numbers, every field defaulted."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Any

from curriculum.schedule.instance import GoalLimit, Instance


def by_hand(
    days: Sequence[int],
    jobs: Sequence[tuple[int, int]],
    *,
    usable: int = 20,
    chains: Sequence[Sequence[int]] = (),
    needs: Sequence[Sequence[int]] = (),
    **changes: Any,
) -> Instance:
    """Return a season of practices on these days and of jobs (blocks, minutes).

    Without `chains` every job is a skill of its own; within a chain stages wait for each other.
    Without further changes nothing is reviewed, changeovers are 0, the season ends on the day after
    the last practice, every skill has a strand of its own and no minute is above the target.
    """
    rows = tuple(tuple(chain) for chain in chains) or tuple((job,) for job in range(len(jobs)))
    skill = {job: index for index, chain in enumerate(rows) for job in chain}
    before = {later: earlier for chain in rows for earlier, later in pairwise(chain)}
    waits = [
        {*(needs[job] if job < len(needs) else ()), before.get(job, job)} - {job}
        for job in range(len(jobs))
    ]
    plain = Instance(
        days=tuple(days),
        usable=(usable,) * len(days),
        changeover=(0,) * len(days),
        quiet=(False,) * len(days),
        first_open=0,
        horizon=days[-1] + 1,
        minutes=tuple(minutes for _, minutes in jobs),
        blocks=tuple(blocks for blocks, _ in jobs),
        introduces=tuple(job not in before for job in range(len(jobs))),
        skill=tuple(skill[job] for job in range(len(jobs))),
        strand=tuple(skill[job] for job in range(len(jobs))),
        needs=tuple(tuple(sorted(each)) for each in waits),
        allowed=((1 << len(days)) - 1,) * len(jobs),
        last=tuple(any(chain[-1] == job for chain in rows) for job in range(len(jobs))),
        weight=(1,) * len(jobs),
        chains=rows,
        goals=(),
        pins=(),
        held=(),
        reviews_held=(),
        focus=((0,) * len(rows),) * len(days),
        target=1_000,
        gap=1,
        stretch=14,
        most_blocks=5,
        most_new=5,
        within=False,
        review_after=(),
        review_minutes=5,
    )
    return replace(plain, **changes)


def goal(job: int, limit: int, due: int, importance: int = 0, weight: int = 1) -> GoalLimit:
    """Return a must-goal that the first `limit` practices can meet, due on a day."""
    return GoalLimit(job, limit, due, importance, weight)
