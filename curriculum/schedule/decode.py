"""From an order of items to a timetable: each in turn at its earliest practices that fit.

An item is a job, or all due reviews of a skill: with `jobs` jobs, item `jobs + skill`.

This is the hot loop of the search. Room is kept as bits: for each length of a block, one number
whose bits are the practices in which such a block still fits, so that the earliest of them is one
operation away. States are copied at marks along the order, so that a changed order is only decoded
from its first change on.
"""

import sys
from collections.abc import Sequence
from dataclasses import replace

from curriculum.schedule.instance import Pin
from curriculum.schedule.standing import Standing
from curriculum.schedule.state import SPACING, Marks, Missed, State, Value
from curriculum.schedule.timetable import (
    EARLY_RATE,
    FOCUS_SHARE,
    LATE_RATE,
    PAIR_RATE,
    Timetable,
    dropped_pins,
)

ANY_MISSED = (sys.maxsize,)
"""More than any goals missed."""


class Decoder(Standing):
    """Decodes orders of one instance; see `Standing` for what may stand already."""

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

    def attempt(self, order: Sequence[int], marks: Marks, begin: int, most: Missed) -> State | None:
        """Decode an order like `decode`, but give up once it misses more goals than `most`.

        Compared entry by entry as the tiers are; what is missed never becomes less on the way.
        """
        first = begin // SPACING
        state = marks.states[first].copy()
        return state if self.extend(state, order[first * SPACING :], most) else None

    def extend(  # noqa: C901 one hot loop, unrolled
        self, state: State, jobs: Sequence[int], most: Missed = ANY_MISSED
    ) -> bool:
        """Place further jobs, as long as no more goals than `most` are missed."""
        free, room, new, load, fits = state.free, state.room, state.new, state.load, state.fits
        ends, spots, last_day, strands = state.ends, state.spots, state.last_day, state.strands
        rows, count, next_day, days = self.jobs, self.count, self.next_day, self.instance.days
        changeover, fitting = self.instance.changeover, self.fitting
        width, stretch, lengths = self.strand_count, self.instance.stretch, len(self.sizes)
        apart = 0 if self.instance.within else 1
        due, late, pairs = self.due, 0, 0
        last_job = len(rows)
        for job in jobs:
            if job >= last_job:
                if self.sticky:
                    late += self._expected(state, job - last_job)
                else:
                    late += self._review(state, job - last_job)
                continue
            length, minutes, blocks, mask, fresh, ladder, others, strand, skill, special = rows[job]
            if special:
                self._special(state, job)
                if ends[job] >= due[job] and self._miss(state, job) > most:
                    return False
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
                if count >= due[job] and self._miss(state, job) > most:
                    return False
                continue
            ends[job] = placed[-1]
            spots[job] = placed
            if placed[-1] >= due[job] and self._miss(state, job) > most:
                return False
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
        return True

    def goals_missed(self, state: State) -> Value:
        """Return pins dropped and all tiers but comfort, once all jobs have had their turn."""
        dropped = self.dropped(state) if self.asking else 0
        if not self.instance.noticed:
            return (dropped, *state.missed)
        return (dropped, *state.missed[:3], *self.moved(state), state.missed[3])

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
        """Return the blocks and reviews moved against the former plan, and how soon."""
        instance, count = self.instance, self.count
        moved = soon = 0
        for job, old in enumerate(instance.former):
            placed = state.spots[job]
            for number, practice in enumerate(old):
                now = placed[number] if number < len(placed) else count
                if now != practice >= instance.first_open:
                    moved += 1
                    soon += count - min(practice, now)
        for skill, expected in enumerate(instance.former_reviews):
            kept = state.reviews[skill]
            for practice in expected:
                if practice >= instance.first_open and practice not in kept:
                    moved += 1
                    soon += count - practice
        return moved, soon

    def timetable(self, state: State) -> Timetable:
        """Return the timetable of a state."""
        blocks = tuple(tuple(placed) for placed in state.spots)
        reviews = tuple(tuple(sorted(each)) for each in state.reviews)
        plan = Timetable(blocks, reviews)
        return replace(plan, dropped=dropped_pins(self.instance, plan))
