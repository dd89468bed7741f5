"""What stands in the way of goals, in numbers: shortages, chains of needs, minutes that lack."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from curriculum.schedule.instance import Instance
from curriculum.schedule.rules import open_closures
from curriculum.schedule.tables import Tables, tables_of
from curriculum.schedule.windows import Windows, windows_of

Kind = Literal["minutes", "blocks", "introductions"]

KINDS: tuple[Kind, ...] = ("minutes", "blocks", "introductions")


@dataclass(frozen=True)
class Overload:
    """Practices that lack room for what must stand in them.

    first, last: the practices, by index, both included.
    need, room: minutes with changeovers, blocks or introductions, as `kind` says.
    goals: those (by index) that ask for what does not fit.
    """

    kind: Kind
    first: int
    last: int
    need: int
    room: int
    goals: tuple[int, ...]


@dataclass(frozen=True)
class Limits:
    """Tables of an instance for questions about its goals; windows know nothing of capacity.

    needed: for each job everything that still has to be reached with it, itself included.
    """

    instance: Instance
    tables: Tables
    windows: Windows
    needed: tuple[frozenset[int], ...]

    def open_before(self, limit: int) -> range:
        """Return the practices still open among the first `limit`."""
        return range(min(self.instance.first_open, limit), limit)

    def blocks_left(self, job: int) -> int:
        """Return how many blocks of a job are not past."""
        return self.instance.blocks[job] - sum(held[0] == job for held in self.instance.held)

    def chain(self, job: int) -> tuple[int, ...]:
        """Return the chain of jobs up to this one that takes most practices, first to last."""
        best: dict[int, tuple[int, int]] = {}
        for each in sorted(self.needed[job]):
            leads = [(best[lead][0], lead) for lead in self.instance.needs[each] if lead in best]
            top, lead = max(leads, key=lambda entry: (entry[0], -entry[1]), default=(0, -1))
            best[each] = (top + self._steps(lead, each), lead)
        chain = [job]
        while (lead := best[chain[0]][1]) >= 0:
            chain.insert(0, lead)
        return tuple(chain)

    def practices_of(self, chain: Sequence[int]) -> int:
        """Return how many practices a chain of jobs takes at least."""
        leads = (-1, *chain[:-1])
        return sum(self._steps(lead, job) for lead, job in zip(leads, chain, strict=True))

    def _steps(self, lead: int, job: int) -> int:
        left, instance = self.blocks_left(job), self.instance
        apart = lead < 0 or not instance.within or instance.skill[lead] == instance.skill[job]
        shares = not apart and left > 0 and self.blocks_left(lead) > 0
        return left - shares


def limits_of(instance: Instance) -> Limits:
    """Work out the limits of an instance."""
    tables = tables_of(instance)
    return Limits(instance, tables, windows_of(tables), open_closures(instance))


def overload(instance: Instance, goals: Iterable[int]) -> Overload | None:
    """Return a stretch of practices that cannot hold what these goals need there; None for none.

    Of several, one from the first open practice on is preferred, then one that ends with a goal's
    date, then minutes before blocks before introductions, then the shortest. None does not mean
    that the goals can all be met.
    """
    chosen = sorted(goal for goal in set(goals) if instance.goals[goal].job >= 0)
    if not chosen:
        return None
    lesser = replace(instance, goals=tuple(instance.goals[goal] for goal in chosen))
    tables = tables_of(lesser)
    needed = open_closures(lesser)
    jobs = sorted(frozenset().union(*(needed[goal.job] for goal in lesser.goals)))
    # Nothing else puts a limit on them, though it may wait for the same stages.
    windows = windows_of(tables, required=[job in jobs for job in range(len(lesser.minutes))])
    past = {(job, number) for job, number, _ in lesser.held}
    blocks = [
        (job, number, windows.first[job][number], windows.last[job][number])
        for job in jobs
        for number in range(lesser.blocks[job])
        if (job, number + 1) not in past
    ]
    starts = {first for _, _, first, _ in blocks if first < lesser.practices}
    dues = {goal.limit - 1 for goal in lesser.goals}
    for first in dict.fromkeys([lesser.first_open, *sorted(starts)]):
        found = [row for kind in KINDS for row in _overloads_from(lesser, blocks, first, kind)]
        if found:
            kind, last, need, room = min(
                found, key=lambda row: (row[1] not in dues, KINDS.index(row[0]), row[1])
            )
            inside = {job for job, _, start, end in blocks if start >= first and end <= last}
            asking = tuple(goal for goal in chosen if inside & needed[instance.goals[goal].job])
            return Overload(kind, first, last, need, room, asking)
    return None


def _overloads_from(
    instance: Instance, blocks: Sequence[tuple[int, int, int, int]], first: int, kind: Kind
) -> Iterator[tuple[Kind, int, int, int]]:
    """Yield (kind, last practice, need, room) of every overload that starts at a practice."""
    changeover = min(instance.changeover[first:], default=0)
    ending: dict[int, int] = {}
    for job, number, start, end in blocks:
        if start >= first and end >= first:
            ending[end] = ending.get(end, 0) + _size(instance, job, number, kind, changeover)
    need = room = 0
    for practice in range(first, instance.practices):
        need += ending.get(practice, 0)
        room += _room(instance, practice, kind)
        if need > room:
            yield kind, practice, need, room


def _size(instance: Instance, job: int, number: int, kind: Kind, changeover: int) -> int:
    if kind == "minutes":
        return instance.minutes[job] + changeover
    return 1 if kind == "blocks" else int(number == 0 and instance.introduces[job])


def _room(instance: Instance, practice: int, kind: Kind) -> int:
    if kind == "minutes":
        return max(0, instance.usable[practice])
    if kind == "blocks":
        return instance.most_blocks
    return 0 if instance.quiet[practice] else instance.most_new
