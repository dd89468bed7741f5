"""What the engine is measured against: first fit, and a plain model left to CP-SAT alone."""

from itertools import pairwise
from typing import Any

from ortools.sat.python import cp_model

from curriculum.schedule.anneal import with_reviews
from curriculum.schedule.decode import Decoder
from curriculum.schedule.finish import finished
from curriculum.schedule.instance import Instance
from curriculum.schedule.rules import in_order_of_needs
from curriculum.schedule.tables import tables_of
from curriculum.schedule.timetable import Timetable

MISSED = (10_000_000, 300_000, 10_000)
"""What a missed must-, should- and could-goal costs in comfort, by weight."""


def first_fit(instance: Instance) -> Timetable:
    """Place jobs in a plain topological order, each block at the first practice that fits."""
    tables = tables_of(instance)
    decoder = Decoder(tables)
    order = in_order_of_needs(instance, [0.0] * len(instance.minutes))
    items = with_reviews(decoder, order)
    return finished(tables, decoder.timetable(decoder.decode(items)))


def plain_model(instance: Instance, seconds: float, seed: int) -> Timetable | None:
    """Return what CP-SAT finds in so many seconds with one switch for each block and practice.

    Blocks, reviews, days as numbers, one weighted sum of everything; one worker, default settings.
    None when no plan was found.
    """
    made = _Plain(instance)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = seed
    solver.parameters.max_time_in_seconds = seconds
    status = solver.solve(made.model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None

    def places(rows: list[list[dict[int, cp_model.IntVar]]]) -> tuple[tuple[int, ...], ...]:
        return tuple(
            tuple(p for switches in row for p, on in switches.items() if solver.value(on))
            for row in rows
        )

    return finished(tables_of(instance), Timetable(places(made.blocks), places(made.reviews)))


class _Plain:
    def __init__(self, instance: Instance) -> None:
        self.instance = instance
        self.model = cp_model.CpModel()
        self.cost: list[Any] = []
        jobs = range(len(instance.minutes))
        self.blocks = [
            [self._switches(instance.allowed[job]) for _ in range(instance.blocks[job])]
            for job in jobs
        ]
        self.reviews = [
            [self._switches(instance.allowed[chain[-1]]) for _ in instance.review_after]
            for chain in instance.chains
        ]
        self.day: dict[int, Any] = {
            id(s): self._day(s) for row in (*self.blocks, *self.reviews) for s in row
        }
        for job in jobs:
            for earlier, later in pairwise(self.blocks[job]):
                self._after(earlier, later, instance.gap)
            for need in instance.needs[job]:
                gap = instance.gap if instance.skill[need] == instance.skill[job] else 0
                self._after(self.blocks[need][-1], self.blocks[job][0], gap)
        for skill, chain in enumerate(instance.chains):
            for earlier, later in pairwise((self.blocks[chain[-1]][-1], *self.reviews[skill])):
                self._after(earlier, later, instance.gap)
        for practice in range(instance.practices):
            self._practice(practice)
        self._goals()
        self._comfort()
        self.model.minimize(cp_model.LinearExpr.sum(self.cost))

    def _switches(self, mask: int) -> dict[int, cp_model.IntVar]:
        switches = {
            p: self.model.new_bool_var("") for p in range(self.instance.practices) if mask >> p & 1
        }
        self.model.add_at_most_one(switches.values())
        return switches

    def _day(self, switches: dict[int, cp_model.IntVar]) -> Any:
        horizon = self.instance.horizon
        return horizon + cp_model.LinearExpr.weighted_sum(
            list(switches.values()), [self.instance.days[p] - horizon for p in switches]
        )

    def _after(
        self, earlier: dict[int, cp_model.IntVar], later: dict[int, cp_model.IntVar], gap: int
    ) -> None:
        """Let a block follow another; `gap` 0 means in a later practice."""
        placed = cp_model.LinearExpr.sum(list(later.values()))
        self.model.add(cp_model.LinearExpr.sum(list(earlier.values())) >= placed)
        count = self.instance.practices
        if gap:
            reach = self.instance.horizon + gap
            late = self.day[id(later)] - self.day[id(earlier)]
            self.model.add(late >= gap - reach * (1 - placed))
            return
        at: list[Any] = [
            cp_model.LinearExpr.weighted_sum(list(each.values()), list(each))
            for each in (earlier, later)
        ]
        apart = 0 if self.instance.within else 1
        self.model.add(at[1] - at[0] >= apart - (count + 1) * (1 - placed))

    def _practice(self, practice: int) -> None:
        instance, model = self.instance, self.model
        on: list[cp_model.IntVar] = []
        minutes: list[int] = []
        new: list[cp_model.IntVar] = []
        teaching: list[cp_model.IntVar] = []
        lengths: list[int] = []
        strands: dict[int, list[cp_model.IntVar]] = {}
        for job, row in enumerate(self.blocks):
            for number, switches in enumerate(row):
                if practice in switches:
                    on.append(switches[practice])
                    minutes.append(instance.minutes[job] + instance.changeover[practice])
                    teaching.append(switches[practice])
                    lengths.append(instance.minutes[job])
                    strands.setdefault(instance.strand[job], []).append(switches[practice])
                    if number == 0 and instance.introduces[job]:
                        new.append(switches[practice])
        for row in self.reviews:
            for switches in row:
                if practice in switches:
                    on.append(switches[practice])
                    minutes.append(instance.review_minutes + instance.changeover[practice])
        model.add(cp_model.LinearExpr.weighted_sum(on, minutes) <= instance.usable[practice])
        model.add(cp_model.LinearExpr.sum(on) <= instance.most_blocks)
        most_new = 0 if instance.quiet[practice] else instance.most_new
        model.add(cp_model.LinearExpr.sum(new) <= most_new)
        over = model.new_int_var(0, 1_000, "")
        model.add(over >= cp_model.LinearExpr.weighted_sum(teaching, lengths) - instance.target)
        self.cost.append(over)
        for alike in strands.values():
            pairs = model.new_int_var(0, 100, "")
            held = cp_model.LinearExpr.sum(alike)
            for count in range(1, instance.most_blocks):
                model.add(pairs >= count * held - count * (count + 1) // 2)
            self.cost.append(2 * pairs)

    def _goals(self) -> None:
        for goal in self.instance.goals:
            if goal.job < 0:
                continue
            switches = self.blocks[goal.job][-1]
            met = cp_model.LinearExpr.sum([on for p, on in switches.items() if p < goal.limit])
            weight = goal.weight if goal.importance else 1
            self.cost.append(MISSED[goal.importance] * weight * (1 - met))

    def _comfort(self) -> None:
        instance = self.instance
        for job, last in enumerate(instance.last):
            if last:
                day = self.day[id(self.blocks[job][-1])]
                self.cost.append(10 * instance.weight[job] * day)
        for skill, chain in enumerate(instance.chains):
            blocks = [switches for job in chain for switches in self.blocks[job]]
            for earlier, later in pairwise(blocks):
                self._late(earlier, later, instance.stretch, ends=True)
            due = (self.blocks[chain[-1]][-1], *self.reviews[skill])
            for (earlier, later), after in zip(pairwise(due), instance.review_after, strict=True):
                self._late(earlier, later, after, ends=False)

    def _late(
        self,
        earlier: dict[int, cp_model.IntVar],
        later: dict[int, cp_model.IntVar],
        after: int,
        *,
        ends: bool,
    ) -> None:
        late = self.model.new_int_var(0, self.instance.horizon, "")
        gap = self.day[id(later)] - self.day[id(earlier)] - after
        if ends:
            gap -= self.instance.horizon * (1 - cp_model.LinearExpr.sum(list(later.values())))
        self.model.add(late >= gap)
        self.cost.append(4 * late)
