"""From an order of items to a timetable: each in turn at its earliest practices that fit.

An item is a job, or all due reviews of a skill: with `jobs` jobs, item `jobs + skill`.

This is the hot loop of the search. Room is kept as bits: for each length of a block, one number
whose bits are the practices in which such a block still fits, so that the earliest of them is one
operation away. States are copied at marks along the order, so that a changed order is only decoded
from its first change on.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from curriculum.schedule.instance import Pin
from curriculum.schedule.reviews import review_tables
from curriculum.schedule.tables import Tables
from curriculum.schedule.timetable import (
    EARLY_RATE,
    FOCUS_SHARE,
    LATE_RATE,
    PAIR_RATE,
    Timetable,
    dropped_pins,
)

Slots = Mapping[tuple[int, int], int]
"""Blocks that stand where they are, (job, number from 1) to practice."""

Row = tuple[int, int, int, int, bool, int, tuple[int, ...], int, int, bool]
"""A job at hand: place of its length in `sizes`, minutes, blocks, practices as bits, whether it
introduces, the stage before it or -1, other needs, strand, skill, whether some of it is fixed."""

SPACING = 8
"""Jobs between two marks: copying a state costs about as much as decoding so many jobs."""


@dataclass
class State:
    """A timetable that grows.

    free: minutes left in each practice, the changeover of one more block taken off.
    room, new: blocks and introductions left. load: minutes of blocks, changeovers left out.
    fits: for each length of `Decoder.sizes` the practices where such a block fits, as bits; the
    last entry is the practices where a skill may be introduced.
    ends: for each job the practice in which it is reached, the count of practices for never.
    spots: for each job the practices of its blocks.
    last_day: for each skill the day of its last block, or a day far ahead of the season.
    strands: blocks of each strand in each practice, at practice x strands + strand.
    reviews: for each skill the practices of its reviews.
    late, pairs, focus: days late, same-strand pairs and focus minutes so far.
    """

    free: list[int]
    room: list[int]
    new: list[int]
    load: list[int]
    fits: list[int]
    ends: list[int]
    spots: list[Sequence[int]]
    last_day: list[int]
    strands: list[int]
    reviews: list[Sequence[int]]
    late: int = 0
    pairs: int = 0
    focus: int = 0

    def copy(self) -> "State":
        """Return a state that can grow on its own."""
        return State(
            self.free[:],
            self.room[:],
            self.new[:],
            self.load[:],
            self.fits[:],
            self.ends[:],
            self.spots[:],
            self.last_day[:],
            self.strands[:],
            self.reviews[:],
            self.late,
            self.pairs,
            self.focus,
        )


Value = tuple[int, ...]
"""Pins dropped, then all tiers in their order."""


@dataclass
class Marks:
    """An order with its states: `states[i]` is the one before job `i * SPACING`."""

    order: list[int] = field(default_factory=list)
    states: list[State] = field(default_factory=list)


class Decoder:
    """Decodes orders of one instance, some blocks standing where they are.

    Every job is placed wholly or not at all, save for what is past or pinned.
    """

    def __init__(self, tables: Tables, fixed: Slots | None = None) -> None:
        self.tables = tables
        self.instance = instance = tables.instance
        self.count = count = instance.practices
        self.sizes = tuple(sorted({*instance.minutes, instance.review_minutes}))
        self.next_day = (*tables.next_day, count)
        self.days = (*instance.days, instance.horizon)
        self.strand_count = max(instance.strand, default=0) + 1
        most = max(0, *instance.usable, 0) + 1 if instance.usable else 1
        self.fitting = tuple(sum(size <= free for size in self.sizes) for free in range(most))
        self.fixed = self._settled(fixed or {})
        self.special = {job for job, _ in self.fixed} | {
            job for job, past in enumerate(tables.past) if past
        }
        self.jobs = tuple(self._row(job) for job in range(len(instance.minutes)))
        self.goals = tuple(
            (goal.job, goal.limit, goal.due, goal.importance, goal.weight)
            for goal in instance.goals
            if goal.job >= 0
        )
        self.items = len(instance.minutes) + len(instance.chains)
        self.lasts = tuple(
            (job, instance.weight[job]) for job, last in enumerate(instance.last) if last
        )
        self.focused = any(any(row) for row in instance.focus)
        self.asking = tuple(filter(instance.asks, instance.pins))
        self.pinned = frozenset(
            (pin.job, number)
            for pin in self.asking
            for number in ([pin.number] if pin.number else range(1, instance.blocks[pin.job] + 1))
        )
        self.reviews = review_tables(tables)
        self.review_length = self.sizes.index(instance.review_minutes)
        self.base = self._base()

    def _settled(self, fixed: Slots) -> dict[tuple[int, int], int]:
        """Return the fixed blocks that may stand where they are, as far as one alone can tell."""
        masks, past = self.tables.masks, self.tables.past
        return {
            (job, number): practice
            for (job, number), practice in sorted(fixed.items())
            if past[job] < number <= len(masks[job]) and masks[job][number - 1] >> practice & 1
        }

    def _row(self, job: int) -> Row:
        instance = self.instance
        ladder = [n for n in instance.needs[job] if instance.skill[n] == instance.skill[job]]
        others = tuple(n for n in instance.needs[job] if instance.skill[n] != instance.skill[job])
        masks = self.tables.masks[job]
        return (
            self.sizes.index(instance.minutes[job]),
            instance.minutes[job],
            instance.blocks[job],
            masks[-1] if len(masks) > 1 or not instance.introduces[job] else masks[0],
            instance.introduces[job],
            ladder[0] if ladder else -1,
            others,
            instance.strand[job],
            instance.skill[job],
            job in self.special,
        )

    def _base(self) -> State:
        instance = self.instance
        count = self.count
        loud = sum(1 << p for p in range(count) if not instance.quiet[p])
        state = State(
            free=[u - c for u, c in zip(instance.usable, instance.changeover, strict=True)],
            room=[instance.most_blocks] * count,
            new=[instance.most_new] * count,
            load=[0] * count,
            fits=[(1 << count) - 1] * len(self.sizes) + [loud if instance.most_new else 0],
            ends=[count] * len(instance.minutes),
            spots=[()] * len(instance.minutes),
            last_day=[instance.horizon] * len(instance.chains),
            strands=[0] * (count * self.strand_count),
            reviews=list(self.reviews.held),
        )
        for practice, free in enumerate(state.free):
            for index, size in enumerate(self.sizes):
                if size > free:
                    state.fits[index] &= ~(1 << practice)
        by_time = sorted(self.fixed.items(), key=lambda entry: (entry[1], entry[0]))
        for (job, number), practice in by_time:
            if self._fits(state, job, number, practice):
                self._take(state, job, number, practice)
            else:
                del self.fixed[job, number]
        return state

    def _fits(self, state: State, job: int, number: int, practice: int) -> bool:
        fits = state.fits[self.sizes.index(self.instance.minutes[job])]
        if number == 1 and self.instance.introduces[job]:
            fits &= state.fits[-1]
        return bool(fits >> practice & 1)

    def _take(self, state: State, job: int, number: int, practice: int, sign: int = 1) -> None:
        """Occupy a practice with a block, or free it again with sign -1."""
        cost = self.instance.minutes[job] + self.instance.changeover[practice]
        state.free[practice] -= sign * cost
        state.room[practice] -= sign
        if number == 1 and self.instance.introduces[job]:
            state.new[practice] -= sign
        bit = 1 << practice
        for index, size in enumerate(self.sizes):
            if size <= state.free[practice] and state.room[practice] > 0:
                state.fits[index] |= bit
            else:
                state.fits[index] &= ~bit
        if state.new[practice] > 0 and not self.instance.quiet[practice]:
            state.fits[-1] |= bit
        else:
            state.fits[-1] &= ~bit

    def mark(self, order: Sequence[int], marks: Marks | None = None, begin: int = 0) -> Marks:
        """Decode an order and keep its states; up to `begin` the marks of an order are reused."""
        first = begin // SPACING
        states = marks.states[: first + 1] if marks else [self.base]
        state = states[-1].copy()
        for start in range((len(states) - 1) * SPACING, len(order), SPACING):
            self.extend(state, order[start : start + SPACING])
            states.append(state.copy())
        return Marks(list(order), states)

    def decode(self, order: Sequence[int], marks: Marks | None = None, begin: int = 0) -> State:
        """Return the state of an order that equals the marks' order before `begin`."""
        if marks is None:
            state = self.base.copy()
            self.extend(state, order)
            return state
        first = begin // SPACING
        state = marks.states[first].copy()
        self.extend(state, order[first * SPACING :])
        return state

    def extend(self, state: State, jobs: Sequence[int]) -> None:  # noqa: C901 one hot loop, unrolled
        """Place further jobs."""
        free, room, new, load, fits = state.free, state.room, state.new, state.load, state.fits
        ends, spots, last_day, strands = state.ends, state.spots, state.last_day, state.strands
        rows, count, next_day, days = self.jobs, self.count, self.next_day, self.instance.days
        changeover, fitting = self.instance.changeover, self.fitting
        width, stretch, lengths = self.strand_count, self.instance.stretch, len(self.sizes)
        apart = 0 if self.instance.within else 1
        late = pairs = 0
        last_job = len(rows)
        for job in jobs:
            if job >= last_job:
                late += self._review(state, job - last_job)
                continue
            length, minutes, blocks, mask, fresh, ladder, others, strand, skill, special = rows[job]
            if special:
                self._special(state, job)
                continue
            start = 0
            for need in others:
                end = ends[need]
                if end >= start:
                    start = end + apart
            if ladder >= 0:
                end = next_day[ends[ladder]]
                start = max(start, end)
            allowed = fits[length] & mask
            placed = []
            if fresh:
                rest = (allowed & fits[lengths]) >> start
                if rest:
                    start += (rest & -rest).bit_length() - 1
                    placed.append(start)
                    start = next_day[start]
                    rest = allowed >> start
            else:
                rest = allowed >> start
            while rest and len(placed) < blocks:
                start += (rest & -rest).bit_length() - 1
                placed.append(start)
                start = next_day[start]
                rest = allowed >> start
            if len(placed) < blocks:
                ends[job] = count
                spots[job] = ()
                continue
            ends[job] = placed[-1]
            spots[job] = placed
            if fresh:
                practice = placed[0]
                left = new[practice] - 1
                new[practice] = left
                if not left:
                    fits[lengths] &= ~(1 << practice)
            before = last_day[skill]
            for practice in placed:
                old = free[practice]
                left = old - minutes - changeover[practice]
                free[practice] = left
                room[practice] -= 1
                if not room[practice]:
                    bit = ~(1 << practice)
                    for index in range(lengths):
                        fits[index] &= bit
                else:
                    many = fitting[left] if left > 0 else 0
                    if many < fitting[old]:
                        bit = ~(1 << practice)
                        for index in range(many, fitting[old]):
                            fits[index] &= bit
                load[practice] += minutes
                place = practice * width + strand
                pairs += strands[place]
                strands[place] += 1
                day = days[practice]
                if day - before > stretch:
                    late += day - before - stretch
                before = day
            last_day[skill] = before
            if self.focused:
                for practice in placed:
                    state.focus += self.instance.focus[practice][strand] * minutes
        state.late += late
        state.pairs += pairs

    def _review(self, state: State, skill: int) -> int:  # noqa: C901 part of the hot loop
        """Place the due reviews of a skill and return the days by which they come late.

        Each stands at the first practice from its due day on that fits, or at the last one before,
        when that makes this review and the next one together less late.
        """
        tables, count = self.reviews, self.count
        practice = state.ends[tables.ends[skill]]
        if practice >= count:
            return 0
        days, horizon, late = self.instance.days, self.instance.horizon, 0
        number, numbers = 0, len(tables.due) - 1
        placed = []
        if tables.held[skill]:
            for held in tables.held[skill][:numbers]:
                due = tables.due[number][practice]
                late += max(0, days[held] - due) if due >= 0 else 0
                number, practice = number + 1, held
        free, room, fits, fitting = state.free, state.room, state.fits, self.fitting
        length, mask = self.review_length, tables.masks[skill]
        minutes = self.sizes[length]
        while number < numbers:
            due = tables.due[number][practice]
            if due < 0:
                break
            allowed = fits[length] & mask
            place = tables.first[number][practice]
            rest = allowed >> place
            if rest:
                place += (rest & -rest).bit_length() - 1
                over = days[place] - due
            else:
                place, over = count, horizon - due
            if over > 1:
                soonest = self.next_day[practice]
                least = over + (tables.then[number][place] if rest else 0)
                rest = allowed & ((1 << tables.first[number][practice]) - 1)
                earlier = rest.bit_length() - 1
                if earlier >= soonest and tables.then[number][earlier] < least:
                    place, over = earlier, 0
            late += over
            if place >= count:
                break
            placed.append(place)
            old = free[place]
            left = old - minutes - self.instance.changeover[place]
            free[place] = left
            room[place] -= 1
            bit = ~(1 << place)
            if not room[place]:
                for index in range(len(self.sizes)):
                    fits[index] &= bit
            else:
                many = fitting[left] if left > 0 else 0
                for index in range(many, fitting[old]):
                    fits[index] &= bit
            number, practice = number + 1, place
        if placed:
            state.reviews[skill] = (*state.reviews[skill], *placed)
        return late

    def _special(self, state: State, job: int) -> None:
        """Place a job of which some blocks are past or stand where they are."""
        instance, past, count = self.instance, self.tables.past[job], self.count
        start = 0
        for need in instance.needs[job]:
            end = state.ends[need]
            ladder = instance.skill[need] == instance.skill[job]
            start = max(start, self.next_day[end] if ladder else end + (not instance.within))
        placed: list[int] = []
        taken = dict(self.fixed)
        kept = past
        for number in range(1, instance.blocks[job] + 1):
            practice = taken.get((job, number), -1)
            if number <= past:
                practice = self.tables.masks[job][number - 1].bit_length() - 1
            elif practice >= start:
                kept = number if (job, number) in self.pinned else kept
            else:
                if practice >= 0:
                    self._take(state, job, number, practice, sign=-1)
                practice = self._spot(state, job, number, start)
                if practice < 0:
                    break
                self._take(state, job, number, practice)
            placed.append(practice)
            start = max(start, self.next_day[practice])
        for number in range(len(placed) + 1, instance.blocks[job] + 1):
            if number > len(placed) + 1 and (job, number) in taken:
                self._take(state, job, number, taken[job, number], sign=-1)
        if len(placed) < instance.blocks[job]:
            for number in range(len(placed), kept, -1):
                self._take(state, job, number, placed.pop(), sign=-1)
        whole = len(placed) == instance.blocks[job]
        state.ends[job] = placed[-1] if whole else count
        state.spots[job] = placed
        self._count(state, job, placed)

    def _spot(self, state: State, job: int, number: int, start: int) -> int:
        instance = self.instance
        mask = self.tables.masks[job][number - 1]
        mask &= state.fits[self.sizes.index(instance.minutes[job])]
        if number == 1 and instance.introduces[job]:
            mask &= state.fits[-1]
        rest = mask >> start
        return start + (rest & -rest).bit_length() - 1 if rest else -1

    def _count(self, state: State, job: int, placed: Sequence[int]) -> None:
        """Count blocks into minutes, pairs, gaps and focus."""
        instance = self.instance
        strand, skill, minutes = instance.strand[job], instance.skill[job], instance.minutes[job]
        for practice in placed:
            state.load[practice] += minutes
            place = practice * self.strand_count + strand
            state.pairs += state.strands[place]
            state.strands[place] += 1
            day = instance.days[practice]
            state.late += max(0, day - state.last_day[skill] - instance.stretch)
            state.last_day[skill] = day
            state.focus += instance.focus[practice][strand] * minutes

    def goals_missed(self, state: State) -> Value:
        """Return pins dropped and all tiers but comfort."""
        ends, days, count = state.ends, self.days, self.count
        missed = [0, 0, 0]
        overdue = 0
        for job, limit, due, importance, weight in self.goals:
            end = ends[job]
            if end >= limit or end >= count:
                if importance:
                    missed[importance] += weight
                else:
                    missed[0] += 1
                    overdue += weight * max(1, days[end] - due)
        dropped = self.dropped(state) if self.asking else 0
        if not self.instance.noticed:
            return dropped, missed[0], overdue, missed[1], missed[2]
        return (dropped, missed[0], overdue, missed[1], *self.moved(state), missed[2])

    def comfort(self, state: State) -> int:
        """Return comfort."""
        days, ends, target = self.days, state.ends, self.instance.target
        early = 0
        for job, weight in self.lasts:
            early += weight * days[ends[job]]
        comfort = EARLY_RATE * early + LATE_RATE * state.late
        comfort += PAIR_RATE * state.pairs - state.focus // FOCUS_SHARE
        for load in state.load:
            if load > target:
                comfort += load - target
        return comfort

    def value(self, state: State) -> Value:
        """Return pins dropped and all tiers of a whole order."""
        return (*self.goals_missed(state), self.comfort(state))

    def dropped(self, state: State) -> int:
        """Return how many pins nothing honours."""
        return sum(not self._honoured(state, pin) for pin in self.asking)

    def _honoured(self, state: State, pin: Pin) -> bool:
        spots = state.spots[pin.job]
        if pin.number:
            return len(spots) >= pin.number and spots[pin.number - 1] in pin.practices
        reviews = state.reviews[self.instance.skill[pin.job]] if self.instance.last[pin.job] else ()
        return any(practice in pin.practices for practice in (*spots, *reviews))

    def moved(self, state: State) -> tuple[int, int]:
        """Return the blocks moved against the former plan, and how soon, reviews left aside."""
        instance, count = self.instance, self.count
        moved = soon = 0
        for job, old in enumerate(instance.former):
            placed = state.spots[job]
            for number, practice in enumerate(old):
                now = placed[number] if number < len(placed) else count
                if now != practice >= instance.first_open:
                    moved += 1
                    soon += count - min(practice, now)
        return moved, soon

    def timetable(self, state: State) -> Timetable:
        """Return the timetable of a state."""
        blocks = tuple(tuple(placed) for placed in state.spots)
        reviews = tuple(tuple(sorted(each)) for each in state.reviews)
        plan = Timetable(blocks, reviews)
        return replace(plan, dropped=dropped_pins(self.instance, plan))
