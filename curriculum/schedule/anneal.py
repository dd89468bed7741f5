"""From priority rules to a good order: the best rule's order, searched in three phases."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from curriculum.schedule.decode import Decoder
from curriculum.schedule.rules import orders, pin_choices
from curriculum.schedule.search import Found, Search
from curriculum.schedule.state import Value
from curriculum.schedule.tables import Tables
from curriculum.schedule.windows import windows_of

Report = Callable[[int, Value], None]


@dataclass(frozen=True)
class Phase:
    """A part of a search: its share of the tries, how many tiers are strict, how warm it is."""

    share: float
    strict: int
    warm: float
    cold: float
    reviews: bool


PHASES = (
    Phase(0.1, 0, 300.0, 50.0, reviews=False),
    Phase(0.1, 4, 200.0, 20.0, reviews=False),
    Phase(0.8, -1, 200.0, 2.5, reviews=True),
)
"""Goals first, without reviews, so that nothing competes with them; comfort last."""


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
    """Search in phases, each from the best order of the one before."""
    count = len(decoder.instance.minutes)
    best = Found(tuple(order), decoder.value(decoder.decode(order)), 0)
    items: Sequence[int] = [item for item in order if item < count]
    search = Search(decoder, seed)
    tried = 0
    for phase in PHASES:
        items = with_reviews(decoder, items) if phase.reviews else items
        strict = phase.strict if phase.strict >= 0 else len(best.value) - 1
        told = _told(report, tried, best.value, phase)
        found = search.run(items, int(tries * phase.share), told, phase.warm, phase.cold, strict)
        tried += found.tried
        items = found.order
        if found.interrupted:
            break
    whole = items if len(items) > count else with_reviews(decoder, items)
    value = decoder.value(decoder.decode(whole))
    if value < best.value:
        best = Found(tuple(whole), value, tried)
    return Found(best.order, best.value, tried, found.interrupted)


def _told(report: Report | None, done: int, best: Value, phase: Phase) -> Report | None:
    """Return a report that goes on counting, and does not show plans that lack reviews."""
    if report is None:
        return None

    def told(tried: int, value: Value) -> None:
        report(done + tried, min(best, value) if phase.reviews else best)

    return told
