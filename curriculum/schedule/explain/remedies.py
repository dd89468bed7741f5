"""The cheapest changes that would let the must-goals be met, each tried and shown to work."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from curriculum.gym.bookings import day_words
from curriculum.models.plan import Miss
from curriculum.models.season import Pin, Season
from curriculum.referee.verdict import count
from curriculum.schedule.again import Trial, changed, trial
from curriculum.schedule.changes import Change, GoalBy, GoalNeed, change_words
from curriculum.schedule.explain.candidates import (
    Candidate,
    Kind,
    candidates,
    dropped_pins,
    missed_musts,
)
from curriculum.schedule.explain.misses import misses_of
from curriculum.schedule.explain.words import Names, named, names_of
from curriculum.schedule.instance import MUST

SHOWN = 3
"""Remedies shown at most."""

MOST_TRIALS = 40
"""Changes tried at most."""


@dataclass(frozen=True)
class Remedy:
    """Changes that were tried, and what came of them.

    says: the changes and their effect in one sentence.
    cost: in points of the published table.
    whole: whether all must-goals are met with them and every pin is kept.
    """

    changes: tuple[Change, ...]
    says: str
    cost: int
    whole: bool


def remedies_of(before: Trial, most: int = SHOWN) -> tuple[Remedy, ...]:
    """Return the cheapest changes that help a plan which misses must-goals or gives up pins.

    Those that clear everything come first, then those that clear something and harm nothing;
    both cheapest first, and of one kind only the best. Empty when nothing is missed or nothing
    tried helps.
    """
    trouble = troubles(before)
    if not trouble:
        return ()
    names = names_of(before.setting.library)
    found: dict[Kind, tuple[tuple[int, int], Remedy]] = {}
    for candidate in candidates(before)[:MOST_TRIALS]:
        after = trial(changed(before.setting, candidate.changes))
        left = troubles(after)
        rank = len(left), candidate.cost
        known = found.get(candidate.kind)
        if left < trouble and (known is None or rank < known[0]):
            found[candidate.kind] = rank, _remedy(before, after, candidate, names)
        if sum(remedy.whole for _, remedy in found.values()) == most:
            break
    ranked = sorted(found.values(), key=lambda entry: entry[0])
    return tuple(remedy for _, remedy in ranked[:most])


def misses_and_remedies(made: Trial) -> tuple[tuple[Miss, ...], tuple[Remedy, ...]]:
    """Return the misses of a plan, must-goals and pins with what would help them, and the help."""
    setting = made.setting
    misses = misses_of(
        setting.season, setting.library, setting.gym, made.workload, made.instance, made.result
    )
    remedies = remedies_of(made)
    return with_remedies(misses, remedies, made), remedies


def with_remedies(
    misses: Iterable[Miss], remedies: Sequence[Remedy], before: Trial
) -> tuple[Miss, ...]:
    """Return misses, those of must-goals and pins with the remedies that were found."""
    texts = tuple(remedy.says for remedy in remedies)
    nodes = {before.workload.targets[index].node for index in missed_musts(before)}
    nodes |= {(pin.skill, pin.stage) for pin in dropped_pins(before)}
    return tuple(
        miss.model_copy(update={"remedies": texts}) if (miss.skill, miss.stage) in nodes else miss
        for miss in misses
    )


def troubles(tried: Trial) -> frozenset[int | Pin]:
    """Return what a plan owes: must-goals missed, by index, and pins given up."""
    return frozenset(missed_musts(tried)) | frozenset(dropped_pins(tried))


def _remedy(before: Trial, after: Trial, candidate: Candidate, names: Names) -> Remedy:
    season = before.setting.season
    words = _words(candidate, season, names)
    musts = sum(goal.importance == MUST for goal in after.instance.goals)
    missed, left = missed_musts(before), missed_musts(after)
    if left:
        was = "as before" if len(left) == len(missed) else f"instead of {musts - len(missed)}"
        effect = f"{musts - len(left)} of {count(musts, 'must-goal')} met {was}"
    elif musts == 0:
        effect = "no must-goal is missed"
    else:
        all_met = "both" if musts == 2 else f"all {musts}"
        effect = f"{all_met} must-goals met" if musts > 1 else "the must-goal is met"
    pins = len(dropped_pins(before)), len(dropped_pins(after))
    if pins[0]:
        effect += f", {count(pins[1], 'pin')} given up" if pins[1] else ", every pin kept"
    return Remedy(
        candidate.changes, f"{words}: {effect}", candidate.cost, whole=not troubles(after)
    )


def _words(candidate: Candidate, season: Season, names: Names) -> str:
    """Return what is changed; several goals are named in one go."""
    if len(candidate.changes) == 1:
        return change_words(candidate.changes[0], season, names)
    goals = [change for change in candidate.changes if isinstance(change, GoalBy | GoalNeed)]
    stages = named([names.stage((goal.skill, goal.stage)) for goal in goals], most=3)
    days = [goal.by for goal in goals if isinstance(goal, GoalBy) and isinstance(goal.by, date)]
    if days:
        return f"moving {stages} to later dates, the last of them {day_words(max(days))}"
    return f"making {stages} should-goals"
