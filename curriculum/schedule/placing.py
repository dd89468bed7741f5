"""The room that an instance offers, and how reviews and single blocks take it."""

from collections.abc import Sequence

from curriculum.schedule.instance import MUST, SHOULD
from curriculum.schedule.reviews import review_tables
from curriculum.schedule.state import Missed, Row, Slots, State
from curriculum.schedule.tables import Tables


class Placing:
    """Keeps account of room while jobs of one instance are placed.

    fixed: blocks that stand where they are. With `sticky` every job is looked at block by block.
    """

    def __init__(self, tables: Tables, fixed: Slots | None = None, *, sticky: bool = False) -> None:
        self.tables = tables
        self.sticky = sticky
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
        if sticky:
            self.special = set(range(len(instance.minutes)))
        self.jobs = tuple(self._row(job) for job in range(len(instance.minutes)))
        self.goals = tuple(goal for goal in instance.goals if goal.job >= 0)
        self.due = [count + 1] * len(instance.minutes)
        for goal in self.goals:
            self.due[goal.job] = min(self.due[goal.job], goal.limit)
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
        if number == 1 and self.instance.introduces[job]:
            state.new[practice] -= sign
        self._occupy(state, practice, self.instance.minutes[job], sign)

    def _occupy(self, state: State, practice: int, minutes: int, sign: int = 1) -> None:
        state.free[practice] -= sign * (minutes + self.instance.changeover[practice])
        state.room[practice] -= sign
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

    def _miss(self, state: State, job: int) -> Missed:
        """Count the goals that a job, now placed, misses; return all that are missed by now."""
        end = state.ends[job]
        must, overdue, should, could = state.missed
        for goal in self.goals:
            if goal.job != job or end < goal.limit:
                continue
            if goal.importance == MUST:
                must += 1
                overdue += goal.weight * max(1, self.days[end] - goal.due)
            elif goal.importance == SHOULD:
                should += goal.weight
            else:
                could += goal.weight
        state.missed = (must, overdue, should, could)
        return state.missed

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
