"""Pins and promises: what the coach fixed, and what the plan says of its own goals and worth."""

from collections import Counter
from collections.abc import Iterator

from curriculum.graph import Node
from curriculum.models.plan import GoalResult
from curriculum.models.season import Pin, lost_dates
from curriculum.referee.facts import Facts
from curriculum.referee.tiers import TIERS, values
from curriculum.referee.verdict import HONEST_GOALS, PINS_AND_THE_PAST, THE_PLAN_ITSELF, Breach
from curriculum.wording import dated
from curriculum.workload import Target


def pins_and_the_past(facts: Facts) -> Iterator[Breach]:
    """Check that a pinned block is held on its date, or a miss of its stage is reported.

    A pin without a number is honoured by any block of its stage, a review too; one with a number
    by that introduce or build block alone. Pins on dates before today ask for nothing, nor do those
    on a lost practice.
    """
    reported = _reported(facts)
    for pin in _broken_pins(facts):
        node = (pin.skill, pin.stage)
        if node not in reported:
            block = f"its block {pin.number} does not stand" if pin.number else "no block stands"
            says = (
                f"{dated(pin.date)}: {facts.name(node)} is pinned to this date, but {block} there "
                "and no miss says so"
            )
            practice = next((practice.id for practice in facts.gym.on(pin.date)), None)
            yield Breach(PINS_AND_THE_PAST, practice, *node, says)


def _broken_pins(facts: Facts) -> list[Pin]:
    lost = {day for day in lost_dates(facts.season) if not facts.gym.on(day)}
    asked = (p for p in facts.season.pin if not facts.past(p.date) and p.date not in lost)
    return sorted(
        (pin for pin in asked if not _honoured(facts, pin)),
        key=lambda pin: (pin.date, pin.skill, pin.stage, pin.number or 0),
    )


def _honoured(facts: Facts, pin: Pin) -> bool:
    return any(
        standing.node == (pin.skill, pin.stage)
        and standing.practice.date == pin.date
        and (pin.number is None or (pin.number == standing.block.number and not standing.review))
        for standing in facts.blocks
    )


def honest_goals(facts: Facts) -> Iterator[Breach]:
    """Check that a plan says of itself what is so.

    Every goal of the season stands once in `goals` with the date on which it is reached (None when
    it is not, or known) and whether it is met; each one not met has a miss entry. The status is
    partial when a must-goal is missed or a pin not honoured, and only then; optimal only when each
    tier's value equals its bound. The values of the tiers are those that the referee works out,
    and no bound lies above its value; tiers of other names are not compared.
    """
    yield from _results(facts)
    yield from _misses(facts)
    yield from _status(facts)
    yield from _proof(facts)


def _results(facts: Facts) -> Iterator[Breach]:
    """Compare goal results one by one; a goal and its result pair up by what was asked for."""
    due = [(target, _result(facts, target)) for target in facts.workload.targets]
    left = Counter(facts.plan.goals)
    unsaid = []
    for target, result in due:
        if left[result] > 0:
            left[result] -= 1
        else:
            unsaid.append((target, result))
    wrong = sorted(left.elements(), key=lambda result: (result.skill, result.stage, result.by))
    for target, result in unsaid:
        found = next((each for each in wrong if _asked(each) == _asked(result)), None)
        if found is None:
            says = f"{_goal(facts, result)} is missing among the plan's goals"
            yield Breach(THE_PLAN_ITSELF, None, *target.node, says)
            continue
        wrong.remove(found)
        says = f"{_goal(facts, result)} is said to be {_fate(found)}, it is {_fate(result)}"
        yield Breach(HONEST_GOALS, None, *target.node, says)
    for result in wrong:
        says = f"{_goal(facts, result)} stands among the plan's goals, the season has no such goal"
        yield Breach(THE_PLAN_ITSELF, None, result.skill, result.stage, says)


def _result(facts: Facts, target: Target) -> GoalResult:
    last = None if target.known else facts.reached(target.node)
    return GoalResult(
        skill=target.goal.skill,
        stage=target.goal.stage,
        by=target.due,
        need=target.goal.need,
        reached=last.practice.date if last else None,
        met=facts.met(target),
    )


def _asked(result: GoalResult) -> tuple[object, ...]:
    return result.skill, result.stage, result.by, result.need


def _goal(facts: Facts, result: GoalResult) -> str:
    name = facts.name((result.skill, result.stage))
    return f"the {result.need}-goal {name} by {dated(result.by)}"


def _fate(result: GoalResult) -> str:
    reached = f"reached on {dated(result.reached)}" if result.reached else "not reached"
    return f"{reached} and {'met' if result.met else 'missed'}"


def _reported(facts: Facts) -> frozenset[Node]:
    return frozenset((miss.skill, miss.stage) for miss in facts.plan.misses)


def _misses(facts: Facts) -> Iterator[Breach]:
    reported = _reported(facts)
    for target in facts.workload.targets:
        if not facts.met(target) and target.node not in reported:
            says = f"{_goal(facts, _result(facts, target))} is missed, and no miss says so"
            yield Breach(HONEST_GOALS, None, *target.node, says)


def _status(facts: Facts) -> Iterator[Breach]:
    status, proof = facts.plan.status, facts.plan.proof
    musts = [target for target in facts.workload.targets if target.goal.need == "must"]
    missed, broken = sum(not facts.met(target) for target in musts), len(_broken_pins(facts))
    if (status == "partial") != bool(missed or broken):
        says = f"the status is {status} with must-goals missed: {missed}, pins not kept: {broken}"
        yield Breach(HONEST_GOALS, None, None, None, says)
    if status == "optimal":
        for tier in proof.tiers:
            if tier.value != tier.bound:
                says = (
                    f"the status is optimal, but {tier.name} is {tier.value} and proved only to "
                    f"be at least {tier.bound}"
                )
                yield Breach(HONEST_GOALS, None, None, None, says)


def _proof(facts: Facts) -> Iterator[Breach]:
    tiers = facts.plan.proof.tiers
    named = tuple(tier.name for tier in tiers if tier.name in TIERS)
    if named != TIERS:
        says = f"the proof has the tiers {', '.join(named) or 'none'}; due: {', '.join(TIERS)}"
        yield Breach(HONEST_GOALS, None, None, None, says)
    due = dict(zip(TIERS, values(facts), strict=True))
    for tier in tiers:
        value = due.get(tier.name, tier.value)
        if tier.value != value:
            says = f"{tier.name} is said to be {tier.value}, it is {value}"
            yield Breach(HONEST_GOALS, None, None, None, says)
        if tier.bound > tier.value:
            says = f"{tier.name} is {tier.value}, below its bound {tier.bound}"
            yield Breach(HONEST_GOALS, None, None, None, says)
