"""Plan again with as few changes as possible: blocks stand where people expect them.

A set of blocks is free to move, the rest keeps its places. A block that can no longer be where it
was is free; one that is overtaken by what it waits for becomes free by itself. The search frees
further blocks that stand in the way, and takes them back when nothing is won.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

from curriculum.schedule.anneal import Started, anneal
from curriculum.schedule.decode import Decoder, Slots
from curriculum.schedule.finish import with_expected_reviews
from curriculum.schedule.rules import in_order_of_needs
from curriculum.schedule.tables import Tables
from curriculum.schedule.timetable import Timetable, dropped_pins, tiers

Block = tuple[int, int]
"""A job and the number of one of its blocks, from 1."""

GOAL_TIERS = 4
"""Entries of a value that come before changes: pins, must-goals, days late, should-goals."""


@dataclass(frozen=True)
class Settled:
    """A plan close to the former one; tried: plans that were looked at."""

    plan: Timetable
    tried: int
    interrupted: bool = False


def settle(tables: Tables, started: Started, tries: int, seed: int) -> Settled:
    """Change the former plan as little as goals allow; plan afresh where it cannot keep them."""
    search = _Sticky(tables, started, seed)
    try:
        search.run(tries)
    except KeyboardInterrupt:
        return Settled(search.best, search.tried, interrupted=True)
    fresh = anneal(started.decoder, started.order, tries * 4, 1, seed)
    decoder = started.decoder
    plan = with_expected_reviews(tables, decoder.timetable(decoder.decode(fresh.order)))
    tried = search.tried + fresh.tried
    if search.value_of(plan) < search.value:
        return Settled(plan, tried, fresh.interrupted)
    return Settled(search.best, tried, fresh.interrupted)


class _Sticky:
    def __init__(self, tables: Tables, started: Started, seed: int) -> None:
        self.tables = tables
        self.instance = instance = tables.instance
        self.random = Random(seed)  # noqa: S311 no secret
        self.pins: Slots = started.decoder.fixed
        self.former: dict[Block, int] = {
            (job, number): practice
            for job, row in enumerate(instance.former)
            for number, practice in enumerate(row, start=1)
            if number > tables.past[job]
            and practice >= instance.first_open
            and tables.masks[job][number - 1] >> practice & 1
        }
        self.former.update(self.pins)
        self.standing: dict[int, list[Block]] = {}
        for block, practice in sorted(self.former.items()):
            self.standing.setdefault(practice, []).append(block)
        self.wanted = self._wanted()
        self.tried = 0
        self.free: frozenset[Block] = frozenset()
        self.best = self._plan(self.free)
        self.value = self.value_of(self.best)

    def _wanted(self) -> list[float]:
        """Return for each job about when it should be placed: when its first open block stood."""
        instance, found = self.instance, []
        for job, row in enumerate(instance.former):
            stood = [p for p in row if p >= instance.first_open]
            lost = any(
                (job, number) not in self.former
                for number in range(self.tables.past[job] + 1, instance.blocks[job] + 1)
            )
            found.append((min(stood) if stood else instance.practices) - 0.5 * lost)
        return found

    def value_of(self, plan: Timetable) -> tuple[int, ...]:
        """Return pins dropped and all tiers of a plan."""
        return (len(dropped_pins(self.instance, plan)), *tiers(self.instance, plan))

    def _plan(self, free: frozenset[Block]) -> Timetable:
        """Return the plan in which only these blocks, and those that must, leave their places."""
        self.tried += 1
        fixed = {block: at for block, at in self.former.items() if block not in free}
        fixed.update(self.pins)
        decoder = Decoder(self.tables, fixed)
        late = {job: 0.25 for job, _ in free}
        key = [at + late.get(job, 0.0) for job, at in enumerate(self.wanted)]
        state = decoder.decode(in_order_of_needs(self.instance, key))
        return with_expected_reviews(self.tables, decoder.timetable(state))

    def run(self, tries: int) -> None:
        """Free more blocks, or fewer, as long as the plan does not get worse."""
        current, value = self.free, self.value
        for _ in range(tries):
            changed = self._changed(current)
            if changed is None:
                return
            plan = self._plan(changed)
            reached = self.value_of(plan)
            if reached <= value:
                current, value = changed, reached
            if reached < self.value:
                self.free, self.best, self.value = changed, plan, reached

    def _changed(self, free: frozenset[Block]) -> frozenset[Block] | None:
        """Free a block near one that has moved, or take one back."""
        random = self.random
        if free and random.random() < 0.3:
            return free - {random.choice(sorted(free))}
        moved = self._moved()
        if not moved:
            return None
        job, number, at = random.choice(moved)
        near = self._near(job, number, at)
        if not near:
            return free
        count = 1 if random.random() < 0.7 else 2
        return free | set(random.sample(near, min(count, len(near))))

    def _moved(self) -> list[tuple[int, int, int]]:
        """Return the blocks that are not where people expect them, with where they stand now."""
        found = []
        for job, row in enumerate(self.instance.former):
            placed = self.best.blocks[job]
            for number, practice in enumerate(row, start=1):
                now = placed[number - 1] if number <= len(placed) else -1
                if number > self.tables.past[job] and now != practice:
                    found.append((job, number, now))
        return found

    def _near(self, job: int, number: int, at: int) -> list[Block]:
        """Return blocks in practices where a moved block could have stood instead."""
        instance = self.instance
        end = instance.former[job][number - 1]
        placed: Sequence[int] = self.best.blocks[job]
        start = max(instance.first_open, placed[number - 2] if 1 < number <= len(placed) + 1 else 0)
        end = max(end, at, start + 3) if at >= 0 else instance.practices - 1
        return [
            block
            for practice in range(start, min(end, instance.practices - 1) + 1)
            for block in self.standing.get(practice, ())
            if block not in self.pins
        ]
