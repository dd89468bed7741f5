"""Local search on the order of jobs: a job moves, and what it needs or what waits for it too."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from random import Random

from curriculum.schedule.decode import ANY_MISSED, Decoder
from curriculum.schedule.instance import Instance
from curriculum.schedule.state import Missed, State, Value

PRICES = {"pins": 1_000_000, "must": 60_000, "days": 600, "should": 24_000, "could": 3_000}
STICKY = {
    "pins": 1_000_000_000,
    "must": 20_000_000,
    "days": 200_000,
    "should": 2_000_000,
    "moved": 100_000,
    "soon": 100,
    "could": 50_000,
}
"""What a search accepts things to cost in comfort, so that it can pass through worse plans, before
and after people know a plan; what it returns is the best plan by the tiers in strict order."""

WARM, COLD = 300.0, 8.0
"""Comfort by which a plan may get worse in one move, on average, at the start and at the end."""

AIMED = 0.25
"""Share of the moves that bring a missed goal forward, while one is missed."""

REPORTS = 50
"""How often a search reports on its way."""

Report = Callable[[int, Value], None]
"""Told the orders tried so far and the best value."""


@dataclass(frozen=True)
class Found:
    """The best order of a search, its value, the orders tried, and whether it was interrupted."""

    order: tuple[int, ...]
    value: Value
    tried: int
    interrupted: bool = False


class Kin:
    """For each item what must come before it and what waits for it, as bits."""

    def __init__(self, instance: Instance) -> None:
        needs = (*instance.needs, *((chain[-1],) for chain in instance.chains))
        self.before = [0] * len(needs)
        self.after = [0] * len(needs)
        for item, needed in enumerate(needs):
            for need in needed:
                self.before[item] |= self.before[need] | 1 << need
        for item in reversed(range(len(needs))):
            for need in needs[item]:
                self.after[need] |= self.after[item] | 1 << item


def prices_of(instance: Instance) -> tuple[int, ...]:
    """Return the price of each entry of a value, comfort last at 1."""
    return (*(STICKY if instance.noticed else PRICES).values(), 1)


class Search:
    """A search from one order; the same seed takes the same way."""

    def __init__(self, decoder: Decoder, seed: int) -> None:
        self.decoder = decoder
        self.instance = decoder.instance
        self.random = Random(seed)  # noqa: S311 no secret
        self.kin = Kin(self.instance)
        self.prices = prices_of(self.instance)
        self.jobs = len(self.instance.minutes)
        self.lasts = [job for job, _ in decoder.lasts]

    def run(
        self,
        start: Sequence[int],
        tries: int,
        report: Report | None = None,
        warm: float = WARM,
        cold: float = COLD,
        strict: int = 0,
    ) -> Found:
        """Try so many changes of an order, cooling down; keep the best plan by the tiers.

        strict: how many entries of the value may not get worse at all.
        """
        order = list(start)
        marks = self.decoder.mark(order)
        first = self.decoder.decode(order)
        value, missed = self.decoder.value(first), self._missed(first)
        best, best_order = value, order
        tried = 0
        if len(order) < 2:
            return Found(tuple(order), value, 1)
        try:
            for tried in range(1, tries + 1):
                changed = self._changed(order, missed)
                if changed is None:
                    continue
                fresh, begin = changed
                heat = warm * (cold / warm) ** (tried / tries)
                allowance = -math.log(1.0 - self.random.random()) * heat
                limit = self._energy(value) + allowance
                state = self.decoder.attempt(fresh, marks, begin, self._most(value, strict))
                if state is None:
                    continue
                goals = self.decoder.goals_missed(state)
                if goals[:strict] > value[:strict]:
                    continue
                rest = limit - self._energy(goals)
                if rest < 0:
                    continue
                comfort = self.decoder.comfort(state)
                if comfort > rest:
                    continue
                order, value, missed = fresh, (*goals, comfort), self._missed(state)
                marks = self.decoder.mark(order, marks, begin)
                if value < best:
                    best, best_order = value, order
                if report is not None and tried % max(1, tries // REPORTS) == 0:
                    report(tried, best)
        except KeyboardInterrupt:
            return Found(tuple(best_order), best, tried, interrupted=True)
        return Found(tuple(best_order), best, tried)

    def _most(self, value: Value, strict: int) -> Missed:
        """Return what may be missed so that no strict entry of the value gets worse."""
        if strict <= 1 or value[0]:
            return ANY_MISSED
        return (*value[1 : min(strict, 4 if self.instance.noticed else 5)], *ANY_MISSED)

    def _energy(self, value: Sequence[int]) -> int:
        return sum(map(int.__mul__, value, self.prices))

    def _missed(self, state: State) -> list[int]:
        """Return the jobs of missed goals, those of the most important ones."""
        missed = [
            (goal.importance, goal.job)
            for goal in self.decoder.goals
            if state.ends[goal.job] >= goal.limit
        ]
        first = min(missed, default=(0, 0))[0]
        return [job for importance, job in missed if importance == first]

    def _changed(self, order: list[int], missed: list[int]) -> tuple[list[int], int] | None:
        """Return another order of the same needs, and the first place where it differs."""
        random, count = self.random.random, len(order)
        if missed and random() < AIMED:
            place = order.index(missed[int(random() * len(missed))])
            return self._pulled(order, place, int(random() * place)) if place else None
        kind = random()
        if kind < 0.2:
            return self._shifted(order, int(random() * count))
        if kind < 0.5:
            place = 1 + int(random() * (count - 1))
            if order[place] >= self.jobs:
                return self._shifted(order, place)
            return self._pulled(order, place, int(random() * place))
        if kind < 0.7:
            place = int(random() * (count - 1))
            return self._pushed(order, place, place + 1 + int(random() * (count - 1 - place)))
        place = order.index(self.lasts[int(random() * len(self.lasts))])
        return self._pulled(order, place, int(random() * place)) if place else None

    def _shifted(self, order: list[int], place: int) -> tuple[list[int], int] | None:
        """Move one job as far as its kin allow."""
        job = order[place]
        before, after = self.kin.before[job], self.kin.after[job]
        low = high = place
        while low > 0 and not before >> order[low - 1] & 1:
            low -= 1
        while high < len(order) - 1 and not after >> order[high + 1] & 1:
            high += 1
        if low == high:
            return None
        target = low + int(self.random.random() * (high - low))
        if target < place:
            return [*order[:target], job, *order[target:place], *order[place + 1 :]], target
        target += 1
        return [*order[:place], *order[place + 1 : target + 1], job, *order[target + 1 :]], place

    def _pulled(self, order: list[int], place: int, target: int) -> tuple[list[int], int]:
        """Move a job and all it needs forward."""
        kin = self.kin.before[order[place]] | 1 << order[place]
        part = order[target : place + 1]
        first = [job for job in part if kin >> job & 1]
        rest = [job for job in part if not kin >> job & 1]
        return [*order[:target], *first, *rest, *order[place + 1 :]], target

    def _pushed(self, order: list[int], place: int, target: int) -> tuple[list[int], int]:
        """Move a job and all that waits for it back."""
        kin = self.kin.after[order[place]] | 1 << order[place]
        part = order[place : target + 1]
        first = [job for job in part if not kin >> job & 1]
        rest = [job for job in part if kin >> job & 1]
        return [*order[:place], *first, *rest, *order[target + 1 :]], place
