"""Serial list scheduling: jobs in a given order, each block at the earliest practice that fits."""

from collections.abc import Mapping, Sequence

from curriculum.schedule.instance import COULD, Instance
from curriculum.schedule.tables import Tables
from curriculum.schedule.timetable import Timetable

Slots = Mapping[tuple[int, int], int]
"""Blocks that stand where they are, (job, number) to practice."""


class Occupancy:
    """What is still free in each practice while a timetable grows."""

    def __init__(self, instance: Instance) -> None:
        self.free = list(instance.usable)
        self.room = [instance.most_blocks] * instance.practices
        self.new = [instance.most_new] * instance.practices
        self.changeover = instance.changeover

    def take(self, practice: int, minutes: int, introduces: bool, sign: int = 1) -> None:
        """Occupy a practice with a block, or free it again with sign -1."""
        self.free[practice] -= sign * (minutes + self.changeover[practice])
        self.room[practice] -= sign
        if introduces:
            self.new[practice] -= sign

    def fits(self, practice: int, minutes: int, introduces: bool) -> bool:
        """Whether one more block fits by minutes, number of blocks and introductions."""
        return (
            self.room[practice] > 0
            and self.free[practice] >= minutes + self.changeover[practice]
            and (not introduces or self.new[practice] > 0)
        )


class Serial:
    """One run of the scheme over one order of jobs."""

    def __init__(self, tables: Tables, pinned: Slots) -> None:
        self.tables = tables
        self.instance = instance = tables.instance
        self.occupied = Occupancy(instance)
        self.placed: list[list[int]] = [[] for _ in instance.minutes]
        self.fixed: dict[tuple[int, int], int] = {}
        self.past: set[tuple[int, int]] = set()
        self.dropped: set[tuple[int, int]] = set()
        for job, number, practice in instance.held:
            self.fixed[job, number] = practice
            self.past.add((job, number))
            self._take(job, number, practice)
        for _, practice in instance.reviews_held:
            self.occupied.take(practice, instance.review_minutes, introduces=False)
        for (job, number), practice in sorted(pinned.items(), key=lambda entry: entry[1]):
            if (job, number) in self.fixed:
                continue
            if self._may_stand(job, number, practice):
                self.fixed[job, number] = practice
                self._take(job, number, practice)
            else:
                self.dropped.add((job, number))

    def _introduces(self, job: int, number: int) -> bool:
        return number == 1 and self.instance.introduces[job]

    def _take(self, job: int, number: int, practice: int, sign: int = 1) -> None:
        minutes = self.instance.minutes[job]
        self.occupied.take(practice, minutes, self._introduces(job, number), sign)

    def _may_stand(self, job: int, number: int, practice: int) -> bool:
        introduces = self._introduces(job, number)
        return (
            practice >= self.instance.first_open
            and bool(self.instance.allowed[job] >> practice & 1)
            and not (introduces and self.instance.quiet[practice])
            and self.occupied.fits(practice, self.instance.minutes[job], introduces)
        )

    def earliest(self, job: int) -> int:
        """Return the first practice in which a job may start, the count of practices for never."""
        instance, start = self.instance, 0
        for needed in instance.needs[job]:
            blocks = self.placed[needed]
            if len(blocks) < instance.blocks[needed]:
                return instance.practices
            ladder = instance.skill[needed] == instance.skill[job]
            if ladder:
                after = self.tables.next_day[blocks[-1]]
            else:
                after = blocks[-1] + (not instance.within)
            start = max(start, after)
        return start

    def place(self, job: int) -> None:
        """Put all blocks of a job at their earliest practices; could-jobs wholly or not at all."""
        instance, start = self.instance, self.earliest(job)
        for number in range(1, instance.blocks[job] + 1):
            practice = self._spot(job, number, start)
            if practice < 0:
                break
            self.placed[job].append(practice)
            start = max(start, self.tables.next_day[practice])
        if len(self.placed[job]) < instance.blocks[job]:
            self._drop_pins_behind(job)
            if self.tables.importance[job] == COULD:
                self._withdraw(job)

    def _spot(self, job: int, number: int, start: int) -> int:
        if (job, number) in self.past:
            return self.fixed[job, number]
        fixed = self.fixed.get((job, number))
        if fixed is not None:
            if fixed >= start:
                return fixed
            self._drop(job, number)
        for practice in range(max(start, self.instance.first_open), self.instance.practices):
            if self._may_stand(job, number, practice):
                self._keep_order(job, number, practice)
                self._take(job, number, practice)
                return practice
        return -1

    def _keep_order(self, job: int, number: int, practice: int) -> None:
        """Give up later pins of the job that a block has overtaken."""
        for later in range(number + 1, self.instance.blocks[job] + 1):
            fixed = self.fixed.get((job, later))
            if fixed is not None and self.tables.next_day[practice] > fixed:
                self._drop(job, later)

    def _drop(self, job: int, number: int) -> None:
        self._take(job, number, self.fixed.pop((job, number)), sign=-1)
        self.dropped.add((job, number))

    def _drop_pins_behind(self, job: int) -> None:
        for number in range(len(self.placed[job]) + 1, self.instance.blocks[job] + 1):
            if (job, number) in self.fixed and (job, number) not in self.past:
                self._drop(job, number)

    def _withdraw(self, job: int) -> None:
        keep = [n for n in range(1, len(self.placed[job]) + 1) if (job, n) in self.past]
        for number in range(len(keep) + 1, len(self.placed[job]) + 1):
            self._take(job, number, self.placed[job][number - 1], sign=-1)
            if (job, number) in self.fixed:
                del self.fixed[job, number]
                self.dropped.add((job, number))
        del self.placed[job][len(keep) :]


def schedule_in_order(tables: Tables, jobs: Sequence[int], pinned: Slots) -> Serial:
    """Run the scheme over jobs in an order of their needs and return its state."""
    run = Serial(tables, pinned)
    for job in jobs:
        run.place(job)
    return run


def freeze(run: Serial, reviews: Sequence[Sequence[int]], dropped: Sequence[int]) -> Timetable:
    """Return the timetable that a run has come to."""
    return Timetable(
        blocks=tuple(tuple(placed) for placed in run.placed),
        reviews=tuple(tuple(each) for each in reviews),
        dropped=tuple(dropped),
    )
