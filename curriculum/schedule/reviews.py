"""Reviews: those that are due, then extra ones in what is left of the gym time."""

import heapq

from curriculum.schedule.serial import Serial


class Reviewer:
    """Adds reviews to a run whose teaching blocks all stand."""

    def __init__(self, run: Serial) -> None:
        self.run = run
        self.instance = instance = run.instance
        self.reached: list[int] = []
        self.touched: list[set[int]] = []
        self.reviews: list[list[int]] = [[] for _ in instance.chains]
        for chain in instance.chains:
            placed = run.placed[chain[-1]]
            complete = len(placed) == instance.blocks[chain[-1]]
            self.reached.append(placed[-1] if complete else -1)
            self.touched.append({p for job in chain for p in run.placed[job]})
        for skill, practice in instance.reviews_held:
            self.reviews[skill].append(practice)
            self.touched[skill].add(practice)

    def _cost(self, practice: int) -> int:
        return self.instance.review_minutes + self.instance.changeover[practice]

    def _allows(self, skill: int, practice: int) -> bool:
        return bool(self.instance.allowed[self.instance.chains[skill][-1]] >> practice & 1)

    def _clear_of_others(self, skill: int, practice: int) -> bool:
        days, gap = self.instance.days, self.instance.gap
        return all(abs(days[practice] - days[other]) >= gap for other in self.touched[skill])

    def _add(self, skill: int, practice: int) -> None:
        self.run.occupied.take(practice, self.instance.review_minutes, introduces=False)
        self.reviews[skill].append(practice)
        self.reviews[skill].sort()
        self.touched[skill].add(practice)

    def due(self) -> None:
        """Place the due reviews, the earliest due first, each at the first practice that fits."""
        instance = self.instance
        waiting: list[tuple[int, int, int]] = []
        for skill, reached in enumerate(self.reached):
            if reached >= 0 and instance.review_after:
                self._queue(waiting, skill, 0, instance.days[reached])
        while waiting:
            due, skill, number = heapq.heappop(waiting)
            if number < len(self.reviews[skill]):
                practice = self.reviews[skill][number]
            else:
                practice = self._first(skill, due)
            if practice >= 0:
                self._queue(waiting, skill, number + 1, instance.days[practice])

    def _queue(
        self, waiting: list[tuple[int, int, int]], skill: int, number: int, day: int
    ) -> None:
        if number < len(self.instance.review_after):
            due = day + self.instance.review_after[number]
            if due < self.instance.horizon:
                heapq.heappush(waiting, (due, skill, number))

    def _first(self, skill: int, due: int) -> int:
        instance, free = self.instance, self.run.occupied
        for practice in range(instance.first_open, instance.practices):
            if (
                instance.days[practice] >= due
                and free.fits(practice, instance.review_minutes, introduces=False)
                and self._allows(skill, practice)
                and self._clear_of_others(skill, practice)
            ):
                self._add(skill, practice)
                return practice
        return -1

    def fill(self) -> None:
        """Fill what is left with extra reviews: least recently held first, one per skill there."""
        instance, free = self.instance, self.run.occupied
        for practice in range(instance.first_open, instance.practices):
            while free.fits(practice, instance.review_minutes, introduces=False):
                skill = self._stalest(practice)
                if skill < 0:
                    break
                self._add(skill, practice)

    def _stalest(self, practice: int) -> int:
        best = (self.instance.practices, -1)
        for skill, reached in enumerate(self.reached):
            if 0 <= reached < practice and self._allows(skill, practice):
                last = max(each for each in self.touched[skill] if each <= practice)
                if (last, skill) < best and self._clear_of_others(skill, practice):
                    best = (last, skill)
        return best[1]


def review(run: Serial, fill: bool) -> list[list[int]]:
    """Return the practices of each skill's reviews; with `fill`, extra ones until none fits."""
    reviewer = Reviewer(run)
    reviewer.due()
    if fill:
        reviewer.fill()
    return reviewer.reviews
