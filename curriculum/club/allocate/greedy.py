"""Share out the hours without a solver: team by team, then team by team again, keeping the best."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations, product

from curriculum.club.allocate.score import Score, conflict, cost_of, score
from curriculum.club.allocate.week import Option, Week

BEST_OF_DAY = 2
"""Choices of each day that are tried together with those of other days."""


def greedy(week: Week, rounds: int) -> tuple[Option, ...]:
    """Return an allocation that keeps every rule; the same for the same week.

    Teams choose in turn: those with the fewest choices first, the youngest among them. Then, for
    some rounds, every team gives its times back, alone and together with each other team, and
    chooses anew; what is better is kept.
    """
    teams = sorted(
        range(len(week.asks)),
        key=lambda ask: (len(week.options[ask]), -week.asks[ask].rank, week.asks[ask].team),
    )
    chosen: tuple[Option, ...] = ()
    for ask in teams:
        chosen = (*chosen, *_choose(week, ask, chosen))
    best = score(week, chosen)
    for _ in range(rounds):
        before = best
        for group in _groups(teams):
            best, chosen = _again(week, group, chosen, best)
        if best == before:
            break
    return tuple(sorted(chosen, key=lambda option: (option.ask, option.day)))


def polished(week: Week, chosen: Sequence[Option]) -> tuple[Option, ...]:
    """Return an allocation after every team chose anew by itself, until none gains by it."""
    best, trial = score(week, chosen), tuple(chosen)
    while True:
        before = best
        for ask in range(len(week.asks)):
            best, trial = _again(week, (ask,), trial, best)
        if best == before:
            return trial


def _groups(teams: Sequence[int]) -> Iterator[tuple[int, ...]]:
    for ask in teams:
        yield (ask,)
    for one, other in combinations(teams, 2):
        yield one, other
        yield other, one


def _again(
    week: Week, group: Iterable[int], chosen: tuple[Option, ...], best: Score
) -> tuple[Score, tuple[Option, ...]]:
    members = tuple(group)
    trial = tuple(option for option in chosen if option.ask not in members)
    for ask in members:
        trial = (*trial, *_choose(week, ask, trial))
    reached = score(week, trial)
    return (reached, trial) if reached < best else (best, chosen)


def _choose(week: Week, ask: int, others: Sequence[Option]) -> tuple[Option, ...]:
    """Return a team's best choice of days beside what the others hold."""
    by_day: dict[int, list[Option]] = {}
    for option in beside(week, ask, others):
        by_day.setdefault(option.day, []).append(option)
    good = {
        day: sorted(options, key=lambda o: (o.cut, not o.kept, o.cost, o.start, o.court))
        for day, options in sorted(by_day.items())
    }
    wanted = min(week.asks[ask].practices, len(good))
    choices = (
        choice
        for days in combinations(sorted(good), wanted)
        for choice in product(*(good[day][:BEST_OF_DAY] for day in days))
    )
    return min(choices, key=_worth, default=())


def beside(week: Week, ask: int, others: Sequence[Option]) -> list[Option]:
    """Return the choices of a team that none of the others' practices excludes."""
    load: dict[tuple[object, int], list[Option]] = {}
    for option in others:
        load.setdefault((option.court, option.day), []).append(option)
    rivals = [o for o in others if set(week.asks[o.ask].coaches) & set(week.asks[ask].coaches)]
    return [
        option
        for option in week.options[ask]
        if _fits(option, load.get((option.court, option.day), ()))
        and not any(conflict(week, option, each) for each in rivals)
    ]


def _worth(choice: tuple[Option, ...]) -> tuple[int, int, int]:
    kept = sum(option.kept for option in choice)
    return sum(option.cut for option in choice), -kept, cost_of(choice)


def _fits(option: Option, there: Sequence[Option]) -> bool:
    """Whether a court still has room for a practice."""
    moments = [option.start, *(o.start for o in there if option.start < o.start < option.end)]
    return all(
        option.units + sum(o.units for o in there if o.start <= moment < o.end) <= 2
        for moment in moments
    )
