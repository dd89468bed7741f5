"""Why goals are missed and pins are given up: one sentence each, with the numbers."""

import datetime as dt
from collections import Counter
from functools import cached_property

from curriculum.gym.practices import Gym, Practice
from curriculum.models.plan import Miss
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.schedule.explain.limits import Limits, Overload, limits_of, overload
from curriculum.schedule.explain.pins import pin_of, pin_words
from curriculum.schedule.explain.shortages import shortage
from curriculum.schedule.explain.words import Names, names_of
from curriculum.schedule.instance import COULD, GoalLimit, Instance
from curriculum.schedule.solve import Result
from curriculum.schedule.timetable import Timetable
from curriculum.spans import DAY
from curriculum.wording import counted, named, short_date
from curriculum.workload import Workload

RANKS = ("must-goals", "must- and should-goals", "goals")
"""What is asked for up to each importance."""

MOST_NAMED = 3
"""Names in one sentence; more are counted."""


def misses_of(
    season: Season,
    library: Library,
    gym: Gym,
    workload: Workload,
    instance: Instance,
    result: Result,
) -> tuple[Miss, ...]:
    """Return a miss for every goal not met, in the order of the season file, then for every pin.

    instance must have been built from the same season, gym and workload, and result from it.
    """
    reader = Reader(season, library, gym, workload, instance)
    timetable = result.timetable
    goals = [
        Miss(skill=target.goal.skill, stage=target.goal.stage, why=reader.goal(index, timetable))
        for index, target in enumerate(workload.targets)
        if not met(instance, index, timetable)
    ]
    pins = []
    for index in timetable.dropped:
        pin = pin_of(season, gym, workload, index)
        why = pin_words(reader.limits, gym, workload, reader.names, index, pin, timetable)
        pins.append(Miss(skill=pin.skill, stage=pin.stage, why=why))
    return (*goals, *pins)


def met(instance: Instance, index: int, timetable: Timetable) -> bool:
    """Whether a timetable meets a goal; a known one is met."""
    goal = instance.goals[index]
    return goal.job < 0 or 0 <= timetable.reached(instance, goal.job) < goal.limit


class Reader:
    """Reads reasons off one season; what several sentences need is worked out once."""

    def __init__(
        self, season: Season, library: Library, gym: Gym, workload: Workload, instance: Instance
    ) -> None:
        self.season = season
        self.gym = gym
        self.workload = workload
        self.instance = instance
        self.names: Names = names_of(library)
        self.limits: Limits = limits_of(instance)

    @cached_property
    def overloads(self) -> tuple[Overload | None, ...]:
        """What is too much for the gym up to each importance, on its own."""
        goals = self.instance.goals
        return tuple(
            overload(
                self.instance,
                (i for i, goal in enumerate(goals) if goal.importance <= rank and self.possible(i)),
            )
            for rank in range(len(RANKS))
        )

    def possible(self, index: int) -> bool:
        """Whether a goal could be met if nothing else were taught."""
        goal = self.instance.goals[index]
        return goal.job < 0 or self.limits.windows.first[goal.job][-1] < goal.limit

    def goal(self, index: int, timetable: Timetable) -> str:
        """Return why a timetable misses a goal."""
        if not self.possible(index):
            return self.alone(index)
        name = self.names.goal(self.workload.targets[index])
        found = self._overload_words(index)
        if found:
            return f"{name}: {found}"
        return f"{name} is {self._crowded(index, timetable)}"

    def alone(self, index: int) -> str:
        """Return why a goal could not be met even if nothing else were taught."""
        goal, limits = self.instance.goals[index], self.limits
        name = self.names.goal(self.workload.targets[index])
        if not limits.open_before(goal.limit):
            return f"{name}: no practice is left before then"
        lacking = shortage(limits, self.gym, self.workload, self.names, index)
        if lacking:
            return f"{name} {lacking}"
        chain = limits.chain(goal.job)
        needed, left = limits.practices_of(chain), len(limits.open_before(goal.limit))
        if needed > left:
            return f"{name} needs {self._needed(chain, needed)}; {self._left(index, left)}"
        first = limits.windows.first[goal.job][-1]
        when = (
            f"before {short_date(self.gym.practices[first].date)}"
            if first < self.instance.practices
            else "this season"
        )
        return f"{name} cannot be reached {when} even if nothing else is taught{self._slow(chain)}"

    def _needed(self, chain: tuple[int, ...], needed: int) -> str:
        skills = list(dict.fromkeys(self.workload.jobs[job].skill for job in chain))
        if len(skills) == 1:
            days = "on different days" if needed > 1 else ""
            return f"{counted(needed, 'practice')} {days}".strip()
        names = [self.names.skills.get(skill, skill) for skill in skills]
        way = " > ".join(names if len(names) <= 4 else [*names[:1], "…", *names[-2:]])
        return f"{counted(needed, 'practice')} one after another ({way})"

    def _left(self, index: int, left: int) -> str:
        """Return how many practices are left, and what has taken others away."""
        target = self.workload.targets[index]
        open_practices = self.gym.practices[self.instance.first_open :]
        start = self.season.season.start
        if self.instance.first_open:
            start = self.gym.practices[self.instance.first_open - 1].date + DAY
        lost = self._lost(start, target.due)
        only = f"only {left} {'is' if left == 1 else 'are'} left"
        if not open_practices or not lost:
            return only
        reasons = named(list(lost), most=MOST_NAMED)
        return f"{only} ({counted(sum(lost.values()), 'date')} lost: {reasons})"

    def _lost(self, first: dt.date, last: dt.date) -> Counter[str]:
        held = {(practice.id, practice.date) for practice in self.gym.practices}
        return Counter(
            each.why.partition(": ")[2] or each.why
            for each in self.gym.not_held
            if first <= each.date <= last and (each.id, each.date) not in held
        )

    def _slow(self, chain: tuple[int, ...]) -> str:
        """Return which rules spread a chain over more practices than it has blocks."""
        teaching = self.season.teaching
        reasons = []
        if self.instance.gap > 1:
            reasons.append(f"{counted(self.instance.gap, 'day')} between two blocks of a skill")
        introduces = any(self.instance.introduces[job] for job in chain)
        if introduces and teaching.quiet_before_game and any(self.instance.quiet):
            reasons.append("nothing new just before a game")
        return f" ({named(reasons)})" if reasons else ""

    def _overload_words(self, index: int) -> str:
        """Return which stretch of practices is overfull with goals no less important."""
        rank = self.instance.goals[index].importance
        found = self.overloads[rank]
        if found is None or index not in found.goals:
            return ""
        who, until = f"the {RANKS[rank]} need", self.instance.goals[index].limit - 1
        return overload_words(found, self.gym.practices, self.instance, who, until)

    def _crowded(self, index: int, timetable: Timetable) -> str:
        """Return what has taken its place, and when it is reached instead."""
        goal, target = self.instance.goals[index], self.workload.targets[index]
        reached = timetable.reached(self.instance, goal.job)
        if reached < 0:
            when = "not reached this season"
        else:
            day = self.gym.practices[reached].date
            late = (day - target.due).days
            days = f", {counted(late, 'day')} late" if late else ", after the game"
            when = f"reached on {short_date(day)}{days}"
        if self._stood(goal):
            return (
                "given up for fewer changes to the plan that people know, which come before "
                f"could-goals; it is {when}; as a should-goal, or with plan --fresh, it comes first"
            )
        others = self._instead(index, timetable)
        return f"crowded out by {named(others, most=MOST_NAMED)}; it is {when}" if others else when

    def _stood(self, goal: GoalLimit) -> bool:
        """Whether the plan that people know works from now on toward a could-goal."""
        instance = self.instance
        if goal.importance != COULD or not instance.noticed:
            return False
        chain = instance.chains[instance.skill[goal.job]]
        return any(
            practice >= instance.first_open for job in chain for practice in instance.former[job]
        )

    def _instead(self, index: int, timetable: Timetable) -> list[str]:
        """Return the goals with most minutes in the practices where this one would have stood."""
        goal, instance = self.instance.goals[index], self.instance
        own = self.limits.needed[goal.job]
        placed = {
            job: sum(practice < goal.limit for practice in row) * instance.minutes[job]
            for job, row in enumerate(timetable.blocks)
            if job not in own
        }
        minutes: dict[tuple[int, str], int] = {}
        for other, each in enumerate(instance.goals):
            better = (each.importance, -each.weight) <= (goal.importance, -goal.weight)
            if each.job < 0 or each.job in own or not better or other == index:
                continue
            spent = sum(placed.get(job, 0) for job in self.limits.needed[each.job])
            if spent:
                key = each.importance, self.names.stage(self.workload.targets[other].node)
                minutes[key] = max(minutes.get(key, 0), spent)
        ranked = sorted(minutes, key=lambda key: (key[0], -minutes[key], key[1]))
        return [name for _, name in ranked]


def overload_words(
    found: Overload,
    practices: tuple[Practice, ...],
    instance: Instance,
    who_need: str,
    until: int = -1,
) -> str:
    """Return an overload in a sentence.

    Its shape: `by Sun 31 Jan the must-goals need 412 minutes, the 9 practices have 350`. until: the
    practice whose date the reader knows already, so that it need not be said again.
    """
    last = short_date(practices[found.last].date)
    number = found.last - found.first + 1
    whole = found.first <= instance.first_open
    if whole:
        when = "until then " if found.last == until else f"by {last} "
    else:
        first = short_date(practices[found.first].date)
        when = f"from {first} to {last} " if number > 1 else f"on {last} "
    left = " left" if instance.first_open else ""
    have = f"the practice{left} has" if number == 1 else f"the {number} practices{left} have"
    if found.kind == "minutes":
        what, room = f"{found.need} minutes", f"{have} {found.room}"
    else:
        noun = "block" if found.kind == "blocks" else "new skill"
        what, room = counted(found.need, noun), f"{have} room for {found.room}"
    return f"{when}{who_need} {what}, {room}"
