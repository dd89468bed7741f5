"""The cheapest changes that would let the must-goals be met, each tried and shown to work."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from curriculum.models.plan import Miss
from curriculum.models.season import Pin, Season
from curriculum.schedule.again import Trial, changed, instance_of, trial
from curriculum.schedule.changes import Change, GoalBy, GoalNeed, change_words
from curriculum.schedule.explain.candidates import (
    Candidate,
    Kind,
    candidates,
    dropped_pins,
    missed_musts,
)
from curriculum.schedule.explain.misses import misses_of
from curriculum.schedule.explain.words import Names, names_of
from curriculum.schedule.feasible import decide
from curriculum.schedule.instance import MUST
from curriculum.wording import counted, named, short_date

SHOWN = 3
"""Remedies shown at most."""

MOST_TRIALS = 40
"""Changes tried at most: whether some plan then meets everything."""

MOST_PLANS = 5
"""Changes planned at most to see which part they mend, when too few mend everything."""


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

    Those that mend everything, cheapest first, of one kind only the cheapest; then, while there is
    room, those that mend something and harm nothing. Empty when nothing is missed or nothing helps.
    """
    trouble = troubles(before)
    if not trouble:
        return ()
    tries = candidates(before)[:MOST_TRIALS]
    found: dict[Kind, Remedy] = {}
    for candidate in tries:
        if candidate.kind not in found and _mends_all(before, candidate):
            found[candidate.kind] = _remedy(before, candidate, frozenset())
        if len(found) == most:
            break
    rest = [candidate for candidate in tries if candidate.kind not in found]
    partial = _partial(before, rest, trouble) if len(found) < most else ()
    return (*found.values(), *partial)[:most]


def _mends_all(before: Trial, candidate: Candidate) -> bool:
    """Whether a plan is found at once that meets every must-goal and keeps every pin."""
    return decide(instance_of(changed(before.setting, candidate.changes)), "quick").verdict == (
        "reachable"
    )


def _partial(
    before: Trial, tries: Sequence[Candidate], trouble: frozenset[int | Pin]
) -> tuple[Remedy, ...]:
    """Return what mends some of the trouble, most of it first, then cheapest first."""
    found: dict[Kind, tuple[tuple[int, int], Remedy]] = {}
    for candidate in _one_of_each(tries)[:MOST_PLANS]:
        left = troubles(trial(changed(before.setting, candidate.changes)))
        if left < trouble:
            rank = len(left), candidate.cost
            found[candidate.kind] = rank, _remedy(before, candidate, left)
    return tuple(remedy for _, remedy in sorted(found.values(), key=lambda entry: entry[0]))


def _one_of_each(tries: Sequence[Candidate]) -> list[Candidate]:
    """Return the last, and so the strongest, candidate of each kind, cheapest first."""
    return sorted({each.kind: each for each in tries}.values(), key=lambda each: each.cost)


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


def _remedy(before: Trial, candidate: Candidate, left: frozenset[int | Pin]) -> Remedy:
    """Return a remedy with its effect: what is left of the trouble when it is made."""
    setting = before.setting
    words = _words(candidate, setting.season, names_of(setting.library))
    lesser = {
        (change.skill, change.stage) for change in candidate.changes if isinstance(change, GoalNeed)
    }
    musts = sum(
        goal.importance == MUST and target.node not in lesser
        for goal, target in zip(before.instance.goals, before.workload.targets, strict=True)
    )
    missed = sum(isinstance(each, int) for each in left)
    met_before = musts - len(missed_musts(before))
    if missed:
        was = "as before" if musts - missed == met_before else f"instead of {met_before}"
        effect = f"{musts - missed} of {counted(musts, 'must-goal')} met {was}"
    elif musts == 0:
        effect = "no must-goal is missed"
    elif musts == 1:
        effect = "the must-goal is met"
    else:
        effect = f"{'both' if musts == 2 else f'all {musts}'} must-goals met"
    if dropped_pins(before):
        given_up = len(left) - missed
        effect += f", {counted(given_up, 'pin')} given up" if given_up else ", every pin kept"
    return Remedy(candidate.changes, f"{words}: {effect}", candidate.cost, whole=not left)


def _words(candidate: Candidate, season: Season, names: Names) -> str:
    """Return what is changed; several goals are named in one go."""
    if len(candidate.changes) == 1:
        return change_words(candidate.changes[0], season, names)
    goals = [change for change in candidate.changes if isinstance(change, GoalBy | GoalNeed)]
    stages = named([names.stage((goal.skill, goal.stage)) for goal in goals], most=3)
    days = [goal.by for goal in goals if isinstance(goal, GoalBy) and isinstance(goal.by, date)]
    if days:
        return f"moving {stages} to later dates, the last of them {short_date(max(days))}"
    return f"making {stages} should-goals"
