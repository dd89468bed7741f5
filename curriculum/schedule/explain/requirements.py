"""What a season demands, item by item, and the season in which only some of it holds."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from typing import Literal

from curriculum.gym.practices import Gym
from curriculum.models.season import Season
from curriculum.schedule.explain.pins import pin_of
from curriculum.schedule.explain.words import Names
from curriculum.schedule.instance import MUST, GoalLimit, Instance
from curriculum.schedule.restrict import demanded
from curriculum.wording import counted, short_date
from curriculum.workload import Workload

Kind = Literal["goal", "pin", "need", "court", "quiet", "gap", "blocks", "new", "minutes"]
"""need: that needs come first, all together: one by one they are the library's business."""

RULES: tuple[Kind, ...] = ("need", "court", "quiet", "gap", "blocks", "new", "minutes")
"""Kinds of rules, those first that a coach can change least: they are the first to be left out of
an explanation, so that what remains can be acted upon."""


@dataclass(frozen=True, order=True)
class Requirement:
    """One thing demanded.

    first: the goal, the pin, the job that asks for players, baskets or court, or the first practice
    whose minutes count. second: the last practice whose minutes count.
    """

    kind: Kind
    first: int = -1
    second: int = -1


def asks_of(instance: Instance) -> tuple[Requirement, ...]:
    """Return the must-goals and pins of a season, earliest first; past pins are asked no more."""
    asks = [
        (goal.limit, 0, Requirement("goal", index))
        for index, goal in enumerate(instance.goals)
        if goal.job >= 0 and goal.importance == MUST
    ]
    asks += [
        (max(pin.practices) + 1, 1, Requirement("pin", index))
        for index, pin in enumerate(instance.pins)
        if instance.asks(pin)
    ]
    return tuple(ask for _, _, ask in sorted(asks))


def rules_of(instance: Instance) -> tuple[Requirement, ...]:
    """Return the rules under which the must-goals and pins of a season stand, kind by kind.

    The calendar, the past, and that blocks of one skill stand in order on different days are no
    items: they cannot be dropped.
    """
    jobs = [job for job, blocks in enumerate(demanded(instance)) if blocks]
    every = (1 << instance.practices) - 1
    skills = instance.skill
    waits = any(skills[need] != skills[job] for job in jobs for need in instance.needs[job])
    found = [Requirement("need")] if waits else []
    found += [Requirement("court", job) for job in jobs if instance.allowed[job] != every]
    found += [Requirement("quiet")] if any(instance.quiet) else []
    found += [Requirement("gap")] if instance.gap > 1 else []
    found += [Requirement("blocks"), Requirement("new")]
    if instance.first_open < instance.practices:
        found.append(Requirement("minutes", instance.first_open, instance.practices - 1))
    return tuple(found)


def only(instance: Instance, kept: Collection[Requirement]) -> Instance:
    """Return the season in which nothing else is demanded.

    Goals keep their places; one that is not kept counts as known.
    """
    kinds = {each.kind for each in kept}
    plenty = sum(
        blocks * (minutes + max(instance.changeover, default=0))
        for blocks, minutes in zip(instance.blocks, instance.minutes, strict=True)
    ) + sum(instance.review_minutes for _ in instance.reviews_held)
    timed = {
        practice
        for each in kept
        if each.kind == "minutes"
        for practice in range(each.first, each.second + 1)
    }
    every = (1 << instance.practices) - 1
    return replace(
        instance,
        goals=tuple(
            goal if Requirement("goal", index) in kept else GoalLimit(-1, 0, 0, MUST, 1)
            for index, goal in enumerate(instance.goals)
        ),
        pins=tuple(
            pin for index, pin in enumerate(instance.pins) if Requirement("pin", index) in kept
        ),
        needs=tuple(
            tuple(
                needed
                for needed in needs
                if "need" in kinds or instance.skill[needed] == instance.skill[job]
            )
            for job, needs in enumerate(instance.needs)
        ),
        allowed=tuple(
            bits if Requirement("court", job) in kept else every
            for job, bits in enumerate(instance.allowed)
        ),
        quiet=instance.quiet if "quiet" in kinds else tuple(False for _ in instance.quiet),
        gap=instance.gap if "gap" in kinds else 1,
        most_blocks=instance.most_blocks if "blocks" in kinds else sum(instance.blocks) + 1,
        most_new=instance.most_new if "new" in kinds else len(instance.blocks) + 1,
        usable=tuple(
            minutes if practice in timed else max(minutes, plenty)
            for practice, minutes in enumerate(instance.usable)
        ),
    )


def requirement_words(
    each: Requirement,
    season: Season,
    gym: Gym,
    workload: Workload,
    names: Names,
    instance: Instance,
) -> str:
    """Return a requirement in the coach's words."""
    match each.kind:
        case "goal":
            return names.goal(workload.targets[each.first])
        case "pin":
            return names.pin(pin_of(season, gym, workload, each.first))
        case "need":
            return "what a skill needs comes before it"
        case "court":
            return _court_words(workload, names, each.first)
        case "quiet":
            return "nothing new in the last practice before a game"
        case "gap":
            return f"at least {counted(instance.gap, 'day')} between two blocks of a skill"
        case "blocks":
            return f"at most {counted(instance.most_blocks, 'block')} a practice"
        case "new":
            return f"at most {counted(instance.most_new, 'new skill')} a practice"
        case "minutes":
            return _minutes_words(gym, instance, each.first, each.second)


def _court_words(workload: Workload, names: Names, index: int) -> str:
    job = workload.jobs[index]
    wants = [counted(job.players, "player")] if job.players > 1 else []
    wants += [counted(job.baskets, "basket")] if job.baskets else []
    wants += ["a full court"] if job.full_court else []
    name = names.stage(job.node)
    if not wants:
        # What is past keeps a stage away too: see `past.clear_of` and `past.passed_over`.
        return f"{name} keeps away from what was held before"
    return f"{name} needs {', '.join(wants)}"


def _minutes_words(gym: Gym, instance: Instance, first: int, last: int) -> str:
    minutes = sum(instance.usable[first : last + 1])
    day = short_date(gym.practices[last].date)
    if first == last:
        return f"the {minutes} minutes of the practice on {day}"
    practices = f"the {minutes} minutes of the {last - first + 1} practices"
    if first == instance.first_open:
        return f"{practices} up to {day}"
    return f"{practices} from {short_date(gym.practices[first].date)} to {day}"


def without(kept: Iterable[Requirement], dropped: Collection[Requirement]) -> list[Requirement]:
    """Return requirements less some of them, in their order."""
    return [each for each in kept if each not in dropped]
