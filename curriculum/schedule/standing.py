"""Place jobs of which some blocks stand already: past, pinned, or where people expect them."""

from collections.abc import Sequence

from curriculum.schedule.instance import SHOULD
from curriculum.schedule.placing import Placing
from curriculum.schedule.state import Slots, State
from curriculum.schedule.tables import Tables, highest, lowest
from curriculum.schedule.timetable import late_reviews
from curriculum.schedule.windows import goal_limits, windows_of


class Standing(Placing):
    """Places jobs of one instance block by block, some blocks standing where they are.

    Every job is placed wholly or not at all, save for what is past or pinned. With `sticky` a block
    or review stands where people expect it, as long as there is room when its turn comes and the
    blocks after it can still be in time.
    """

    def __init__(self, tables: Tables, fixed: Slots | None = None, *, sticky: bool = False) -> None:
        super().__init__(tables, fixed, sticky=sticky)
        self.limits = _in_time(tables) if sticky else ()

    def _expected(self, state: State, skill: int) -> int:
        """Keep the reviews of a skill that people expect, as far as there is room.

        Returns the days by which its reviews come late then.
        """
        instance, tables = self.instance, self.reviews
        reached = state.ends[tables.ends[skill]]
        if reached >= self.count:
            return 0
        reviews = list(tables.held[skill])
        mask, minutes = tables.masks[skill], instance.review_minutes
        soonest = self.next_day[max(reviews, default=reached)]
        for practice in instance.former_reviews[skill]:
            fits = state.fits[self.review_length] & mask
            if practice >= max(soonest, instance.first_open) and fits >> practice & 1:
                self._occupy(state, practice, minutes)
                reviews.append(practice)
                soonest = self.next_day[practice]
        state.reviews[skill] = reviews
        return late_reviews(instance, instance.days[reached], tuple(reviews))

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
        latest = self._latest(state, job) if self.sticky else ()
        for number in range(1, instance.blocks[job] + 1):
            practice = taken.get((job, number), -1)
            if number <= past:
                practice = self.tables.masks[job][number - 1].bit_length() - 1
            elif practice >= start:
                kept = number if (job, number) in self.pinned else kept
            else:
                if practice >= 0:
                    self._take(state, job, number, practice, sign=-1)
                practice = self._spot(state, job, number, start, latest)
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

    def _latest(self, state: State, job: int) -> tuple[int, ...]:
        """Return for each block the last practice that leaves room for those after it.

        In time for the must- and should-goals behind it; where that cannot be, just in time for the
        season.
        """
        past, blocks = self.tables.past[job], self.instance.blocks[job]
        row = [self.count] * blocks
        end = self.limits[job]
        for number in range(blocks, past, -1):
            end = highest(self._open(state, job, number), end)
            if end < 0:
                return (self.count,) * blocks
            row[number - 1] = end
            end = self.tables.last_day[end]
        return tuple(row)

    def _open(self, state: State, job: int, number: int) -> int:
        """Return the practices in which there is room for a block, as bits."""
        mask = self.tables.masks[job][number - 1]
        mask &= state.fits[self.sizes.index(self.instance.minutes[job])]
        if number == 1 and self.instance.introduces[job]:
            mask &= state.fits[-1]
        return mask

    def _spot(self, state: State, job: int, number: int, start: int, latest: Sequence[int]) -> int:
        instance = self.instance
        mask = self._open(state, job, number)
        if self.sticky and number <= len(instance.former[job]):
            expected = instance.former[job][number - 1]
            if start <= expected <= latest[number - 1] and mask >> expected & 1:
                return expected
        return lowest(mask, start)


def _in_time(tables: Tables) -> tuple[int, ...]:
    """Return for each job the last practice in time for the must- and should-goals behind it."""
    last = tables.instance.practices - 1
    windows = windows_of(tables, limits=goal_limits(tables.instance, SHOULD))
    return tuple(
        latest[-1] if earliest[-1] <= latest[-1] else last
        for earliest, latest in zip(windows.first, windows.last, strict=True)
    )
