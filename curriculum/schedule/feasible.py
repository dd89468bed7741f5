"""Decide whether all must-goals (in time) and all pins can be kept, with every hard rule."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import dropwhile
from typing import Literal

from curriculum.schedule.exact.installed import installed
from curriculum.schedule.instance import Instance, Pin
from curriculum.schedule.restrict import demanded, either_way, other_ways, restricted
from curriculum.schedule.rules import orders, pin_choices
from curriculum.schedule.serial import schedule_in_order
from curriculum.schedule.tables import Tables, tables_of
from curriculum.schedule.timetable import Timetable, dropped_pins
from curriculum.schedule.windows import Rows, Windows, goal_limits, windows_of

Effort = Literal["quick", "normal", "long"]
Verdict = Literal["reachable", "unreachable", "unknown"]

EXACT_EFFORT: dict[Effort, float] = {"quick": 0.0, "normal": 4.0, "long": 30.0}
"""Deterministic effort of the exact search, about seconds."""


@dataclass(frozen=True)
class Chain:
    """A goal or a pin that comes too early for the chain of blocks before it.

    jobs: the chain in order, the asked job last; each waits for the one before.
    number: the block that comes too late (1-based).
    earliest: first practice in which it can stand, the count of practices for never.
    limit: how many of the first practices would be in time.
    goal, pin: which of the instance's it is, -1 for the other.
    """

    jobs: tuple[int, ...]
    number: int
    earliest: int
    limit: int
    goal: int = -1
    pin: int = -1


@dataclass(frozen=True)
class Shortage:
    """Practices that cannot hold the blocks that must stand in them.

    first, last: the practices, both included.
    blocks: the blocks that have no other place, as (job, number).
    needed, there: minutes with changeovers, blocks, or introductions.
    """

    kind: Literal["minutes", "blocks", "introductions"]
    first: int
    last: int
    blocks: tuple[tuple[int, int], ...]
    needed: int
    there: int


@dataclass(frozen=True)
class Exhausted:
    """Every plan was ruled out by search; no single cause stands out."""


Reason = Chain | Shortage | Exhausted


@dataclass(frozen=True)
class Decision:
    """The answer, with a plan that shows it or a reason against it.

    witness: a timetable that meets all must-goals in time and keeps all pins; it need not hold
    anything else.
    """

    verdict: Verdict
    reason: Reason | None = None
    witness: Timetable | None = None


MOST_EITHER = 3
"""Pins read in every way that they can be meant; of more than so many the rest is taken as is."""


def decide(instance: Instance, effort: Effort = "normal", seed: int = 0) -> Decision:
    """Decide whether all must-goals (in time) and all pins can be kept together.

    First what can be seen at once, then a plan by priority rules, then an exact search if OR-Tools
    is installed and the effort is not "quick". "unknown" when none of them settles it. A pin
    without a number may also be honoured by a review, and by a later block instead of the
    introduction: every way to do so is tried.
    """
    either = either_way(instance)
    first = _decide(instance, effort, seed)
    verdicts = {first.verdict}
    for other in other_ways(instance, either[:MOST_EITHER]):
        if first.verdict == "reachable":
            return first
        found = _decide(other, effort, seed)
        verdicts.add(found.verdict)
        if found.witness is not None:
            return replace(found, witness=_without_reviews(instance, found.witness))
    if len(either) > MOST_EITHER and verdicts == {"unreachable"}:
        verdicts.add("unknown")
    return Decision("unknown") if "unknown" in verdicts else first


def _without_reviews(instance: Instance, witness: Timetable) -> Timetable:
    """Return a witness whose last jobs, those that stand for reviews, are reviews again."""
    jobs = len(instance.minutes)
    return Timetable(witness.blocks[:jobs], witness.reviews)


def _decide(instance: Instance, effort: Effort, seed: int) -> Decision:
    smaller, jobs = restricted(instance, demanded(instance))
    tables = tables_of(smaller)
    masks = pinned_masks(tables)
    windows = windows_of(tables, masks, goal_limits(smaller))
    reason = next(reasons(tables, windows), None)
    if reason is not None:
        return Decision("unreachable", _in_old_numbers(reason, jobs, instance))
    blocks = _by_rules(tables, windows)
    if blocks is None and effort != "quick":
        verdict, blocks = _by_search(tables, masks, windows, EXACT_EFFORT[effort], seed)
        if verdict == "unreachable":
            return Decision(verdict, Exhausted())
    if blocks is None:
        return Decision("unknown")
    placed: list[tuple[int, ...]] = [_held(instance, job) for job in range(len(instance.minutes))]
    for job, row in zip(jobs, blocks, strict=True):
        placed[job] = max(row, placed[job], key=len)
    reviews = [
        [practice for each, practice in instance.reviews_held if each == skill]
        for skill in range(len(instance.chains))
    ]
    for skill, chain in enumerate(instance.chains):
        _, *as_reviews = dropwhile(lambda job: not instance.last[job], chain)
        for job in as_reviews:
            reviews[skill].extend(placed[job])
    return Decision(
        "reachable", None, Timetable(tuple(placed), tuple(tuple(sorted(row)) for row in reviews))
    )


def _held(instance: Instance, job: int) -> tuple[int, ...]:
    return tuple(practice for each, _, practice in instance.held if each == job)


def pinned_masks(tables: Tables) -> Rows:
    """Return the practices of each block, those of numbered pins narrowed to the pins' own."""
    masks = [list(row) for row in tables.masks]
    for pin in tables.instance.pins:
        number = _number(tables, pin) if tables.instance.asks(pin) else 0
        if 0 < number <= len(masks[pin.job]):
            masks[pin.job][number - 1] &= _bits(pin)
    return tuple(tuple(row) for row in masks)


def _bits(pin: Pin) -> int:
    return sum(1 << practice for practice in set(pin.practices))


def _number(tables: Tables, pin: Pin) -> int:
    """Return the block that a pin means, 0 when several can be meant."""
    past, blocks = tables.past[pin.job], tables.instance.blocks[pin.job]
    held = [
        number for number in range(1, past + 1) if tables.masks[pin.job][number - 1] & _bits(pin)
    ]
    if pin.number or held:
        return pin.number or held[0]
    return blocks if blocks == past + 1 else 0


def reasons(tables: Tables, windows: Windows) -> Iterator[Reason]:
    """Yield what can be seen at once to rule out every plan."""
    yield from _chains(tables, windows)
    yield from _shortages(tables, windows)


def _chains(tables: Tables, windows: Windows) -> Iterator[Chain]:
    instance = tables.instance
    free = windows_of(tables)
    for index, goal in enumerate(instance.goals):
        earliest = windows.first[goal.job][-1]
        if earliest >= goal.limit:
            jobs = longest_lead(tables, windows, goal.job)
            number = instance.blocks[goal.job]
            yield Chain(jobs, number, earliest, goal.limit, goal=index)
    for index, pin in enumerate(instance.pins):
        number = _number(tables, pin)
        numbers = [number] if number else range(1, instance.blocks[pin.job] + 1)
        may = any(_can_stand(tables, windows, pin, each) for each in numbers)
        if instance.asks(pin) and not may:
            number = min(number or 1, instance.blocks[pin.job])
            jobs = longest_lead(tables, windows, pin.job)
            earliest = free.first[pin.job][number - 1]
            yield Chain(jobs, number, earliest, max(pin.practices) + 1, pin=index)


def _can_stand(tables: Tables, windows: Windows, pin: Pin, number: int) -> bool:
    if number > tables.instance.blocks[pin.job]:
        return False
    mask = tables.masks[pin.job][number - 1]
    first, last = windows.first[pin.job][number - 1], windows.last[pin.job][number - 1]
    return any(mask >> p & 1 and first <= p <= last for p in pin.practices)


def longest_lead(tables: Tables, windows: Windows, job: int) -> tuple[int, ...]:
    """Return the chain of jobs that holds a job back the longest, the job itself last."""
    chain = [job]
    while needs := tables.instance.needs[chain[0]]:
        chain.insert(0, max(needs, key=lambda need: (windows.first[need][-1], need)))
    return tuple(chain)


def _shortages(tables: Tables, windows: Windows) -> Iterator[Shortage]:
    """Yield stretches of practices that cannot hold what has no other place (Hall's condition)."""
    instance = tables.instance
    blocks = [
        (windows.first[job][number], windows.last[job][number], job, number + 1)
        for job in range(len(instance.minutes))
        for number in range(tables.past[job], instance.blocks[job])
    ]
    for first, last, job, number in blocks:
        if first > last:
            one = ((job, number),)
            yield Shortage("blocks", last + 1, first - 1, one, 1, 0)
    kinds: tuple[Literal["minutes", "blocks", "introductions"], ...]
    kinds = ("blocks", "introductions", "minutes")
    for kind in kinds:
        for first in sorted({block[0] for block in blocks}):
            yield from _short_from(tables, blocks, kind, first)


def _short_from(
    tables: Tables,
    blocks: list[tuple[int, int, int, int]],
    kind: Literal["minutes", "blocks", "introductions"],
    first: int,
) -> Iterator[Shortage]:
    instance = tables.instance
    inside = sorted(block[1:] for block in blocks if block[0] >= first)
    changeover = min(instance.changeover[first:], default=0)
    needed = there = 0
    end, chosen = first - 1, []
    for last, job, number in inside:
        size = _size(instance, kind, job, number, changeover)
        for practice in range(end + 1, last + 1):
            there += _room(instance, kind, practice)
        end = max(end, last)
        needed += size
        if size:
            chosen.append((job, number))
        if needed > there:
            rest = [each for each in inside if each[0] == last and each[1:] > (job, number)]
            for _, other, its_number in rest:
                needed += _size(instance, kind, other, its_number, changeover)
                chosen.append((other, its_number))
            yield Shortage(kind, first, last, tuple(sorted(chosen)), needed, there)
            return


def _size(instance: Instance, kind: str, job: int, number: int, changeover: int) -> int:
    if kind == "minutes":
        return instance.minutes[job] + changeover
    return int(kind == "blocks" or (number == 1 and instance.introduces[job]))


def _room(instance: Instance, kind: str, practice: int) -> int:
    if practice < instance.first_open:
        return 0
    if kind == "minutes":
        return max(0, instance.usable[practice])
    if kind == "blocks":
        return instance.most_blocks
    return 0 if instance.quiet[practice] else instance.most_new


def _by_rules(tables: Tables, windows: Windows) -> tuple[tuple[int, ...], ...] | None:
    """Return a plan by priority rules that misses nothing, None when none of them finds one."""
    instance = tables.instance
    for pinned in pin_choices(instance):
        for jobs in orders(tables, windows).values():
            run = schedule_in_order(tables, jobs, pinned)
            plan = Timetable(tuple(tuple(row) for row in run.placed), ())
            if keeps_all(instance, plan):
                return plan.blocks
    return None


def keeps_all(instance: Instance, plan: Timetable) -> bool:
    """Whether a plan meets all must-goals in time and keeps all pins."""
    return all(
        0 <= plan.reached(instance, goal.job) < goal.limit
        for goal in instance.goals
        if goal.job >= 0 and goal.importance == 0
    ) and not dropped_pins(instance, plan)


def _by_search(
    tables: Tables, masks: Rows, windows: Windows, effort: float, seed: int
) -> tuple[Verdict, tuple[tuple[int, ...], ...] | None]:
    if not installed():
        return "unknown", None
    from curriculum.schedule.exact.decide import find

    return find(tables, masks, windows, effort, seed)


def _in_old_numbers(reason: Reason, jobs: tuple[int, ...], instance: Instance) -> Reason:
    """Return a reason about the smaller season in the numbers of the whole one."""
    if isinstance(reason, Shortage):
        blocks = tuple((jobs[job], number) for job, number in reason.blocks)
        return replace(reason, blocks=blocks)
    if isinstance(reason, Chain):
        goals = [
            index
            for index, goal in enumerate(instance.goals)
            if goal.importance == 0 and goal.job >= 0
        ]
        goal = goals[reason.goal] if reason.goal >= 0 else -1
        return replace(reason, jobs=tuple(jobs[job] for job in reason.jobs), goal=goal)
    return reason
