"""Chooses what the warm-up recalls: a skill that was reached before, without a defender."""

import datetime as dt
from collections.abc import Mapping, Sequence

from curriculum.graph import StageGraph, split_need
from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.models.skills import Library, Skill
from curriculum.practice.progress import in_order, reached
from curriculum.workload import known_nodes


def recaps(
    plan: Plan, season: Season, library: Library, graph: StageGraph
) -> dict[str, Skill | None]:
    """Return by practice id the skill that its warm-up recalls; None where there is none yet.

    It has an unopposed stage that was reached on an earlier date and is not taught that day. Skills
    that the day's first come before others, then the one least recently taught or recalled; common
    practice.
    """
    known = known_nodes(season, graph)
    dates = reached(plan)
    last: dict[str, dt.date] = {}
    chosen: dict[str, Skill | None] = {}
    for practice in in_order(plan):
        today = [block.skill for block in practice.blocks]
        done = known.union(node for node, date in dates.items() if date < practice.date)
        ready = [
            skill
            for skill in library.skills
            if (skill.id, "unopposed") in done and skill.id not in today
        ]
        recalled = _choose(ready, _direct_needs(library, today), last)
        chosen[practice.id] = recalled
        last |= dict.fromkeys([*today, *([recalled.id] if recalled else [])], practice.date)
    return chosen


def _choose(
    ready: Sequence[Skill], built_on: frozenset[str], last: Mapping[str, dt.date]
) -> Skill | None:
    return min(
        ready,
        key=lambda skill: (
            skill.id not in built_on,
            last.get(skill.id, dt.date.min),
            skill.id,
        ),
        default=None,
    )


def _direct_needs(library: Library, skill_ids: list[str]) -> frozenset[str]:
    wanted = [skill for skill in library.skills if skill.id in skill_ids]
    return frozenset(
        split_need(need)[0]
        for skill in wanted
        for need in (*skill.needs, *(n for stage in skill.stages for n in skill.work(stage).needs))
    )
