"""A smaller relaxation for bounds: practices in bundles, a block being held somewhere in one.

Within a bundle gym time is summed, a block counts as held from the bundle's first day on, and what
waits for it may follow in the same bundle if the bundle is long enough. Every plan is a solution
of this model at no more than its own comfort, so its linear relaxation bounds all plans. With
bundles of one practice it is the relaxation of the exact model itself, pairs of a strand left out.
"""

from bisect import bisect_right
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from curriculum.schedule.exact.constraints import MOST_FILLINGS, fillings_of, most_filled
from curriculum.schedule.exact.objective import SCALE, held_before
from curriculum.schedule.exact.season import Frame, demands
from curriculum.schedule.exact.variables import FALSE, TRUE, Matrix, Sum
from curriculum.schedule.tables import Tables, lowest
from curriculum.schedule.timetable import EARLY_RATE, LATE_RATE, PAIR_RATE
from curriculum.schedule.windows import before, windows_of


@dataclass(frozen=True)
class Bundles:
    """Practices in bundles: of each practice its bundle, of each bundle first and last practice."""

    of: tuple[int, ...]
    first: tuple[int, ...]
    last: tuple[int, ...]


def bundles_of(days: Sequence[int], opened: int, size: int) -> Bundles:
    """Bundle practices of `size` weeks together, none for 0; what is past stays apart."""
    of: list[int] = []
    first: list[int] = []
    key: tuple[bool, int] | None = None
    for practice, day in enumerate(days):
        fresh = (practice >= opened, day // (7 * size) if size else practice)
        if fresh != key:
            first.append(practice)
            key = fresh
        of.append(len(first) - 1)
    last = [*(each - 1 for each in first[1:]), *([len(days) - 1] if first else [])]
    return Bundles(tuple(of), tuple(first), tuple(last))


@dataclass(frozen=True)
class _Row:
    """A block or review: the literal of "held by the end" of each bundle."""

    by: tuple[int, ...]
    minutes: int
    introduces: bool
    strand: int


def coarse_model(tables: Tables, frame: Frame, size: int) -> Matrix:
    """Build the relaxation of comfort with bundles of so many weeks, for what a frame asks."""
    return _Coarse(tables, frame, size).matrix


class _Coarse:
    def __init__(self, tables: Tables, frame: Frame, size: int) -> None:
        self.tables = tables
        self.instance = instance = tables.instance
        self.bundles = bundles_of(instance.days, instance.first_open, size)
        self.count = len(self.bundles.first)
        self.matrix = Matrix()
        limits, required = demands(instance, frame.hard)
        self.windows = windows_of(tables, None, limits, required)
        self.rows = [
            [self._row(job, number, required[job]) for number in range(instance.blocks[job])]
            for job in range(len(instance.minutes))
        ]
        self._order()
        self._misses(frame)
        self.reviews = [self._reviews(skill) for skill in range(len(instance.chains))]
        self._past()
        self._room()
        self._comfort()

    def _by(self, mask: int, first: int, last: int, *, required: bool) -> tuple[int, ...]:
        literals, current = [], FALSE
        for start, end in zip(self.bundles.first, self.bundles.last, strict=True):
            if required and end >= last:
                current = TRUE
            else:
                place = lowest(mask, max(start, first))
                if 0 <= place <= min(end, last):
                    fresh = self.matrix.column()
                    self.matrix.imply(current, fresh)
                    current = fresh
            literals.append(current)
        return tuple(literals)

    def _row(self, job: int, number: int, required: bool) -> _Row:
        instance, mask = self.instance, self.tables.masks[job][number]
        if number < self.tables.past[job]:
            held = self.bundles.of[mask.bit_length() - 1]
            by = tuple(TRUE if each >= held else FALSE for each in range(self.count))
        else:
            first, last = self.windows.first[job][number], self.windows.last[job][number]
            by = self._by(mask, first, last, required=required)
        introduces = number == 0 and instance.introduces[job]
        return _Row(by, instance.minutes[job], introduces, instance.strand[job])

    def _follow(self, later: _Row, earlier: _Row, latest: Sequence[int]) -> None:
        """Let a block held by the end of a bundle ask for another by the end of some bundle."""
        for bundle, literal in enumerate(later.by):
            end = latest[self.bundles.last[bundle]]
            self.matrix.imply(literal, earlier.by[self.bundles.of[end]] if end >= 0 else FALSE)

    def _order(self) -> None:
        instance = self.instance
        for job, needs in enumerate(instance.needs):
            past, row = self.tables.past[job], self.rows[job]
            for number in range(max(1, past), len(row)):
                self._follow(row[number], row[number - 1], self.tables.last_day)
            if past < len(row):
                for needed in needs:
                    ends = [before(self.tables, needed, job, p) for p in range(instance.practices)]
                    self._follow(row[past], self.rows[needed][-1], ends)

    def _misses(self, frame: Frame) -> None:
        """Cap the goals missed; one met by a practice is met by the end of its bundle."""
        for importance, most in frame.caps.items():
            missed = Sum()
            for index, goal in enumerate(self.instance.goals):
                if goal.job < 0 or goal.importance != importance or index in frame.hard:
                    continue
                weight = goal.weight if importance else 1
                by = self.rows[goal.job][-1].by
                met = by[self.bundles.of[goal.limit - 1]] if goal.limit else FALSE
                missed.constant += weight
                missed.add(met, -weight)
            self.matrix.at_most(missed, most)

    def _reviews(self, skill: int) -> list[_Row]:
        instance, chain = self.instance, self.instance.chains[skill]
        held = [practice for each, practice in instance.reviews_held if each == skill]
        earlier = self.rows[chain[-1]][-1]
        first = self.windows.first[chain[-1]][-1]
        opened = sum(1 << p for p in range(instance.first_open, instance.practices))
        found = []
        for number in range(len(instance.review_after)):
            if number < len(held):
                at = self.bundles.of[held[number]]
                by = tuple(TRUE if each >= at else FALSE for each in range(self.count))
                row = _Row(by, instance.review_minutes, False, -1)
            else:
                first = self.tables.next_day[first] if first < instance.practices else first
                mask = opened & instance.allowed[chain[-1]]
                by = self._by(mask, first, instance.practices - 1, required=False)
                row = _Row(by, instance.review_minutes, False, -1)
                self._follow(row, earlier, self.tables.last_day)
            found.append(row)
            earlier = row
        return found

    def _past(self) -> None:
        """Add what is past as it was: minutes above the target, pairs, and credit for focus."""
        instance = self.instance
        minutes: Counter[int] = Counter()
        strands: Counter[tuple[int, int]] = Counter()
        focus = 0
        for job, _, practice in instance.held:
            strand = instance.strand[job]
            minutes[practice] += instance.minutes[job]
            strands[practice, strand] += 1
            focus += instance.focus[practice][strand] * instance.minutes[job]
        over = sum(max(0, each - instance.target) for each in minutes.values())
        pairs = sum(count * (count - 1) // 2 for count in strands.values())
        self.matrix.objective.constant += SCALE * (over + PAIR_RATE * pairs) - focus

    def _room(self) -> None:
        """Sum up minutes, blocks and introductions of each bundle."""
        instance = self.instance
        blocks = [row for rows in self.rows for row in rows]
        rows = blocks + [row for reviews in self.reviews for row in reviews]
        for bundle in range(self._opened(), self.count):
            inside = range(self.bundles.first[bundle], self.bundles.last[bundle] + 1)
            here = [
                row for row in rows if row.by[bundle] != (row.by[bundle - 1] if bundle else FALSE)
            ]
            changeover = min(instance.changeover[p] for p in inside)
            sizes = tuple(sorted({row.minutes + changeover for row in here}))
            usable = sum(
                most_filled(sizes, instance.usable[p], instance.most_blocks) for p in inside
            )
            minutes, count, new, load = Sum(), Sum(), Sum(), Sum()
            for row in here:
                self._add(minutes, row, bundle, row.minutes + changeover)
                self._add(count, row, bundle, 1)
                if row.introduces:
                    self._add(new, row, bundle, 1)
                if row.strand >= 0:
                    self._add(load, row, bundle, row.minutes)
                    weight = max(instance.focus[p][row.strand] for p in inside)
                    self._add(self.matrix.objective, row, bundle, -weight * row.minutes)
            self.matrix.at_most(minutes, usable)
            self._fill(here, bundle, inside, changeover, sizes)
            self.matrix.at_most(count, instance.most_blocks * len(inside))
            loud = sum(not instance.quiet[p] for p in inside)
            self.matrix.at_most(new, instance.most_new * loud)
            over = self.matrix.measure(1 << 20)
            load.add(over, -1)
            self.matrix.at_most(load, instance.target * len(inside))
            self.matrix.objective.add(over, SCALE)

    def _opened(self) -> int:
        """Return the first bundle that is not past."""
        instance = self.instance
        if instance.first_open >= instance.practices:
            return self.count
        return self.bundles.of[instance.first_open]

    def _fill(
        self,
        here: Sequence[_Row],
        bundle: int,
        inside: range,
        changeover: int,
        sizes: Sequence[int],
    ) -> None:
        """Let the practices of a bundle be filled in ways that cut no block in two."""
        instance = self.instance
        alike = {(instance.usable[p], instance.changeover[p]) for p in inside}
        if len(alike) > 1 or not sizes:
            return
        ways = fillings_of(tuple(sizes), instance.usable[inside[0]], instance.most_blocks)
        if len(ways) > MOST_FILLINGS:
            return
        chosen = [self.matrix.column(len(inside)) for _ in ways]
        one = Sum()
        for column in chosen:
            one.add(column, 1)
        self.matrix.at_most(one, len(inside))
        for size in sizes:
            row = Sum()
            for each in here:
                if each.minutes + changeover == size:
                    self._add(row, each, bundle, 1)
            for column, way in zip(chosen, ways, strict=True):
                row.add(column, -way.get(size, 0))
            self.matrix.at_most(row, 0)

    def _add(self, total: Sum, row: _Row, bundle: int, coefficient: int) -> None:
        total.add(row.by[bundle], coefficient)
        if bundle:
            total.add(row.by[bundle - 1], -coefficient)

    def _comfort(self) -> None:
        instance, objective = self.instance, self.matrix.objective
        starts = [instance.days[p] for p in self.bundles.first] + [instance.horizon]
        for job, last in enumerate(instance.last):
            if last:
                rate = SCALE * EARLY_RATE * instance.weight[job]
                objective.constant += rate * instance.horizon
                for bundle, literal in enumerate(self.rows[job][-1].by):
                    objective.add(literal, -rate * (starts[bundle + 1] - starts[bundle]))
        for skill, chain in enumerate(instance.chains):
            blocks = [row for job in chain for row in self.rows[job]]
            for earlier, row in pairwise(blocks):
                if row.by[-1] == TRUE:
                    self._late(row, earlier, instance.stretch)
            earlier = self.rows[chain[-1]][-1]
            due: list[tuple[int, int]] = []
            ends = [instance.days[p] for p in self.bundles.last]
            for row, after in zip(self.reviews[skill], instance.review_after, strict=False):
                longer = [literal for days, literal in due if days > after]
                self._late(row, earlier, after, longer)
                due.append((after, held_before(earlier.by, ends, instance.horizon - after)))
                earlier = row

    def _late(self, row: _Row, earlier: _Row, after: int, given: Sequence[int] = ()) -> None:
        """Add the days by which a block is late, none unless all given literals are true."""
        if any(literal != TRUE for literal in given):
            return
        instance, matrix = self.instance, self.matrix
        days = instance.days
        ends = [days[p] for p in self.bundles.last]
        starts = [days[p] for p in self.bundles.first]
        costs: dict[tuple[int, int], int] = {}
        for day in range(days[0] + after if days else instance.horizon, instance.horizon):
            ready, now = bisect_right(ends, day - after) - 1, bisect_right(starts, day) - 1
            cause = earlier.by[ready] if ready >= 0 else FALSE
            held = row.by[now] if now >= 0 else FALSE
            if cause != FALSE and held not in (TRUE, cause):
                costs[cause, held] = costs.get((cause, held), 0) + SCALE * LATE_RATE
        for (cause, held), cost in costs.items():
            if cause == TRUE:
                matrix.objective.constant += cost
                matrix.objective.add(held, -cost)
            elif held == FALSE:
                matrix.objective.add(cause, cost)
            else:
                excess = matrix.column()
                matrix.excesses.append((cause, held, excess))
                matrix.objective.add(excess, cost)
