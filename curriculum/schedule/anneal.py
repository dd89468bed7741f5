"""From priority rules to a good order: the best rule's order, searched for goals, then comfort."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from curriculum.schedule.decode import Decoder
from curriculum.schedule.rules import in_order_of_needs, orders, pin_choices
from curriculum.schedule.search import Found, Search
from curriculum.schedule.state import Value
from curriculum.schedule.tables import Tables
from curriculum.schedule.timetable import Timetable, plan_value
from curriculum.schedule.windows import windows_of

Report = Callable[[int, Value], None]


@dataclass(frozen=True)
class Phase:
    """A part of a search: its share of the tries, how many tiers are strict, how warm it is.

    strict: -1 for all but comfort.
    """

    share: float
    strict: int
    warm: float
    cold: float


GOALS = (
    Phase(0.1, 0, 300.0, 50.0),
    Phase(0.1, 4, 200.0, 20.0),
)
"""Goals first, without reviews, so that nothing competes with them."""

COMFORT = Phase(0.8, -1, 200.0, 2.5)
"""Comfort last, no goal given up for it."""

ROUNDS = 4
"""How often goals are searched for at most, each time from another seed, while some are missed."""

IN_FRONT = 4
"""Entries of a value that such a round is for: pins, must-goals, days late, should-goals."""


@dataclass(frozen=True)
class Started:
    """The best way to fix pins, with the best order of a rule; tried: orders decoded."""

    decoder: Decoder
    order: tuple[int, ...]
    value: Value
    tried: int


def best_rule(tables: Tables) -> Started:
    """Decode the orders of all rules, for each way to give pins their numbers; keep the best."""
    windows = windows_of(tables)
    ranked = list(orders(tables, windows).values())
    found: Started | None = None
    tried = 0
    for pinned in pin_choices(tables.instance):
        decoder = Decoder(tables, pinned)
        for jobs in ranked:
            order = with_reviews(decoder, jobs)
            value = decoder.value(decoder.decode(order))
            tried += 1
            if found is None or value < found.value:
                found = Started(decoder, order, value, tried)
    if found is None:
        raise ValueError("an instance has at least one order of its jobs")
    return Started(found.decoder, found.order, found.value, tried)


def with_reviews(decoder: Decoder, order: Sequence[int]) -> tuple[int, ...]:
    """Return an order with the reviews of all skills at its end, those first reached first."""
    instance = decoder.instance
    jobs = [item for item in order if item < len(instance.minutes)]
    ends = decoder.decode(jobs).ends
    skills = sorted(
        range(len(instance.chains)), key=lambda skill: (ends[instance.chains[skill][-1]], skill)
    )
    return (*jobs, *(len(instance.minutes) + skill for skill in skills))


def anneal(
    decoder: Decoder,
    order: Sequence[int],
    tries: int,
    seed: int,
    report: Report | None = None,
) -> Found:
    """Search for goals, in several rounds if need be, then comfort; never worse than the rule."""
    rule = Found(tuple(order), decoder.value(decoder.decode(order)), 0)
    best = _goals_first(decoder, rule, tries, seed, report)
    items, tried, interrupted = with_reviews(decoder, best.order), best.tried, best.interrupted
    if not interrupted:
        told = _told(report, tried, rule.value, shown=True)
        found = _run(Search(decoder, seed), items, COMFORT, tries, told)
        items, tried, interrupted = found.order, tried + found.tried, found.interrupted
    value = decoder.value(decoder.decode(items))
    if rule.value <= value:
        return Found(rule.order, rule.value, tried, interrupted)
    return Found(tuple(items), value, tried, interrupted)


def _goals_first(
    decoder: Decoder, rule: Found, tries: int, seed: int, report: Report | None
) -> Found:
    """Search for goals from the rule's order, again from other seeds while some are missed."""
    count = len(decoder.instance.minutes)
    jobs = tuple(item for item in rule.order if item < count)
    best, tried = Found(jobs, rule.value, 0), 0
    for turn in range(ROUNDS):
        search = Search(decoder, seed + 1_000 * turn)
        found = Found(jobs, rule.value, 0)
        for phase in GOALS:
            told = _told(report, tried, rule.value, shown=False)
            found = _run(search, found.order, phase, tries, told)
            tried += found.tried
            if found.interrupted:
                break
        if turn == 0 or found.value[:IN_FRONT] < best.value[:IN_FRONT]:
            best = found
        if found.interrupted or not any(best.value[:IN_FRONT]):
            break
    return Found(best.order, best.value, tried, found.interrupted)


def made_comfortable(tables: Tables, plan: Timetable, tries: int, seed: int) -> Timetable:
    """Search from the order of a plan for a more comfortable one that misses no more; else it."""
    instance = tables.instance
    starts = [float(row[0]) if row else float(instance.practices) for row in plan.blocks]
    decoder = Decoder(tables)
    items = with_reviews(decoder, in_order_of_needs(instance, starts))
    found = _run(Search(decoder, seed), items, COMFORT, tries, None)
    better = decoder.timetable(decoder.decode(found.order))
    if found.interrupted or plan_value(instance, better) >= plan_value(instance, plan):
        return plan
    return better


def _run(
    search: Search, order: Sequence[int], phase: Phase, tries: int, report: Report | None
) -> Found:
    strict = phase.strict if phase.strict >= 0 else len(search.prices) - 1
    return search.run(order, int(tries * phase.share), report, phase.warm, phase.cold, strict)


def _told(report: Report | None, done: int, best: Value, *, shown: bool) -> Report | None:
    """Return a report that goes on counting, and does not show plans that lack reviews."""
    if report is None:
        return None

    def told(tried: int, value: Value) -> None:
        report(done + tried, min(best, value) if shown else best)

    return told
