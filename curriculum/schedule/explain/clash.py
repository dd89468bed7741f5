"""When not all must-goals and pins can be kept: a smallest set of requirements that clash."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from curriculum.gym.practices import Gym
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.schedule.explain.limits import limits_of, overload
from curriculum.schedule.explain.misses import Reader, overload_words
from curriculum.schedule.explain.pins import pin_of, pin_words
from curriculum.schedule.explain.requirements import (
    RULES,
    Requirement,
    asks_of,
    only,
    requirement_words,
    rules_of,
    without,
)
from curriculum.schedule.explain.words import names_of
from curriculum.schedule.feasible import Effort, Verdict, decide
from curriculum.schedule.instance import Instance
from curriculum.schedule.timetable import Timetable
from curriculum.wording import short_date
from curriculum.workload import Workload

MOST_UNDECIDED: dict[Effort, int] = {"quick": 0, "normal": 2, "long": 5}
"""Exact searches without an answer in one explanation; after them only quick checks are made."""


@dataclass(frozen=True)
class Clash:
    """Requirements that no plan keeps all of.

    says: the clash in one sentence.
    requirements: what clashes, in the coach's words, goals and pins first.
    minimal: dropping any one of them removes the clash; False when that is not proven.
    proven: whether it is certain that no plan keeps them all.
    kept: the same requirements as data.
    """

    says: str
    requirements: tuple[str, ...]
    minimal: bool
    proven: bool
    kept: tuple[Requirement, ...]


def clash_of(
    season: Season,
    library: Library,
    gym: Gym,
    workload: Workload,
    instance: Instance,
    effort: Effort = "normal",
) -> Clash | None:
    """Return why the must-goals and pins cannot all be kept; None when a plan keeps them all."""
    names = names_of(library)
    filter_ = Filter(instance, effort)
    if filter_.verdict == "reachable":
        return None
    kept = filter_.smallest() if filter_.verdict == "unreachable" else asks_of(instance)
    words = tuple(requirement_words(each, season, gym, workload, names, instance) for each in kept)
    proven = filter_.verdict == "unreachable"
    minimal = proven and filter_.certain
    says = _says(season, library, gym, workload, instance, kept)
    if not proven:
        says = "no plan was found that keeps all of these; that there is none is not proven"
    return Clash(says, words, minimal, proven, tuple(kept))


class Filter:
    """Drops requirements in a fixed order for as long as the rest still clashes.

    certain: every question so far was answered; what could not be decided is kept as needed.
    """

    def __init__(self, instance: Instance, effort: Effort) -> None:
        self.instance = instance
        self.effort: Effort = effort
        self.certain = True
        self.undecided = 0
        self.asks = list(asks_of(instance))
        self.rules = list(rules_of(instance))
        self.verdict: Verdict = self._decided([*self.asks, *self.rules])

    def _decided(self, kept: Sequence[Requirement]) -> Verdict:
        smaller = only(self.instance, frozenset(kept))
        quick = decide(smaller, "quick").verdict
        if quick != "unknown" or self.undecided >= MOST_UNDECIDED[self.effort]:
            return quick
        verdict = decide(smaller, self.effort).verdict
        self.undecided += verdict == "unknown"
        return verdict

    def _clashes(self, kept: Sequence[Requirement]) -> bool:
        """Whether requirements surely clash; not to know counts as no, and is remembered."""
        verdict = self._decided(kept)
        self.certain = self.certain and verdict != "unknown"
        return verdict == "unreachable"

    def smallest(self) -> list[Requirement]:
        """Return a smallest set of clashing requirements: goals first, then rules, then minutes."""
        asks = self._fewest_asks()
        rules = [self._in_reach(rule, asks) for rule in self.rules]
        for kind in RULES:
            rest = [rule for rule in rules if rule.kind != kind]
            if len(rest) < len(rules) and self._clashes([*asks, *rest]):
                rules = rest
        courts = [rule for rule in rules if rule.kind == "court"]
        others = without(rules, courts)
        rules = [*self._fewest(courts, [*asks, *others]), *others]
        rules = [
            self._shortest(rule, [*asks, *without(rules, [rule])])
            if rule.kind == "minutes"
            else rule
            for rule in rules
        ]
        return [*asks, *rules]

    def _in_reach(self, rule: Requirement, asks: Sequence[Requirement]) -> Requirement:
        """Return a rule about minutes without the practices after the last date asked for."""
        if rule.kind != "minutes":
            return rule
        goals, pins = self.instance.goals, self.instance.pins
        last = max(
            goals[ask.first].limit - 1 if ask.kind == "goal" else max(pins[ask.first].practices)
            for ask in asks
        )
        return replace(rule, second=max(rule.first, last))

    def _fewest_asks(self) -> list[Requirement]:
        """Return the fewest goals and pins: a single one, else those of the shortest prefix."""
        for ask in self.asks:
            if self._surely([ask, *self.rules]):
                return [ask]
        low, high = 1, len(self.asks)
        while low < high:
            middle = (low + high) // 2
            if self._surely([*self.asks[:middle], *self.rules]):
                high = middle
            else:
                low = middle + 1
        return self._fewest(self.asks[:high], self.rules)

    def _surely(self, kept: Sequence[Requirement]) -> bool:
        """Whether requirements surely clash, where not to know does no harm to the answer."""
        return self._decided(kept) == "unreachable"

    def _fewest(
        self, several: Sequence[Requirement], others: Sequence[Requirement]
    ) -> list[Requirement]:
        """Drop what is not needed beside the others, in ever smaller parts."""
        left = list(several)
        size = max(1, len(left) // 2)
        while left:
            place = 0
            while place < len(left):
                rest = [*left[:place], *left[place + size :]]
                drop = self._clashes if size == 1 else self._surely
                if drop([*others, *rest]):
                    left = rest
                else:
                    place += size
            if size == 1:
                break
            size = max(1, size // 2)
        return left

    def _shortest(self, minutes: Requirement, others: Sequence[Requirement]) -> Requirement:
        """Shrink the practices whose minutes count, from the right and then from the left.

        Only as far as can be seen at once: all of them are one requirement, short or long.
        """
        low, high = minutes.first, minutes.second
        while low < high:
            middle = (low + high) // 2
            if self._plainly([*others, replace(minutes, second=middle)]):
                high = middle
            else:
                low = middle + 1
        last = high
        low, high = minutes.first, last
        while low < high:
            middle = (low + high + 1) // 2
            if self._plainly([*others, replace(minutes, first=middle, second=last)]):
                low = middle
            else:
                high = middle - 1
        return replace(minutes, first=low, second=last)

    def _plainly(self, kept: Sequence[Requirement]) -> bool:
        """Whether it can be seen at once that requirements clash."""
        smaller = only(self.instance, frozenset(kept))
        return decide(smaller, "quick").verdict == "unreachable"


def _says(
    season: Season,
    library: Library,
    gym: Gym,
    workload: Workload,
    instance: Instance,
    kept: Sequence[Requirement],
) -> str:
    """Return a clash in one sentence: the chain that is too long or the minutes that lack."""
    smaller = only(instance, frozenset(kept))
    goals = [each.first for each in kept if each.kind == "goal"]
    pins = [each.first for each in kept if each.kind == "pin"]
    if len(goals) == 1 and not pins:
        reader = Reader(season, library, gym, workload, smaller)
        if not reader.possible(goals[0]):
            return reader.alone(goals[0])
    if len(pins) == 1 and not goals:
        pin = pin_of(season, gym, workload, pins[0])
        nothing = Timetable(tuple(() for _ in instance.blocks), ())
        # By all rules, as where the pin is told of as given up: the clash needs some of them only.
        limits = limits_of(instance)
        return pin_words(limits, gym, workload, names_of(library), pins[0], pin, nothing)
    found = None if pins else overload(smaller, goals)
    if found is not None:
        many = len(goals) > 1
        who = f"these {len(goals)} must-goals need" if many else "this must-goal needs"
        return overload_words(found, gym.practices, smaller, who)
    if len(goals) == 1 and not pins:
        name = names_of(library).goal(workload.targets[goals[0]])
        return f"{name} {_too_soon(smaller, gym, goals[0])}"
    return f"no plan keeps all of these {len(kept)}"


def _too_soon(instance: Instance, gym: Gym, index: int) -> str:
    """Return from when on a single goal can be reached when nothing else is taught."""
    goal = instance.goals[index]
    low, high = goal.limit + 1, instance.practices + 1
    while low < high:
        middle = (low + high) // 2
        eased = replace(goal, limit=middle)
        goals = (*instance.goals[:index], eased, *instance.goals[index + 1 :])
        if decide(replace(instance, goals=goals), "quick").verdict == "reachable":
            high = middle
        else:
            low = middle + 1
    if low > instance.practices:
        return "cannot be reached this season even if nothing else is taught"
    day = short_date(gym.practices[low - 1].date)
    return f"is too soon: with nothing else taught, a plan reaches it on {day}"
