"""Plan again with as few changes as possible: blocks stand where people expect them.

The order of jobs is searched as ever, from the order in which they stood; but when its turn comes,
a block takes the place where people expect it if there is room, so that only what lost its place,
and what that displaces, has to move.
"""

from dataclasses import dataclass

from curriculum.schedule.anneal import Started, anneal
from curriculum.schedule.decode import Decoder
from curriculum.schedule.finish import with_expected_reviews
from curriculum.schedule.instance import Instance
from curriculum.schedule.rules import in_order_of_needs
from curriculum.schedule.search import Found, Search
from curriculum.schedule.tables import Tables
from curriculum.schedule.timetable import Timetable, plan_value

PHASES = ((0.4, 0, 400_000.0, 50_000.0), (0.6, 4, 100_000.0, 1_000.0))
"""Share of the tries, strict entries of the value, and how warm a search is: goals come first."""

GOALS = 4
"""Entries of a value that come before changes: pins, must-goals, days late, should-goals."""


@dataclass(frozen=True)
class Settled:
    """A plan close to the former one; tried: orders that were looked at."""

    plan: Timetable
    tried: int
    interrupted: bool = False


def settle(tables: Tables, started: Started, tries: int, seed: int) -> Settled:
    """Change the former plan as little as goals allow.

    Where goals are missed for it, a plan made afresh shows whether they could be had; then its
    order is searched too, since a goal outweighs any number of changes.
    """
    instance = tables.instance
    decoder = Decoder(tables, started.decoder.fixed, sticky=True)
    found = _searched(decoder, known_order(instance), tries, seed)
    plans = [decoder.timetable(decoder.decode(found.order))]
    tried, interrupted = found.tried, found.interrupted
    if any(found.value[:GOALS]) and not interrupted:
        fresh = anneal(started.decoder, started.order, tries, seed)
        tried, interrupted = tried + fresh.tried, fresh.interrupted
        if fresh.value[:GOALS] < found.value[:GOALS]:
            plans.append(started.decoder.timetable(started.decoder.decode(fresh.order)))
            again = _searched(decoder, fresh.order, 0 if interrupted else tries, seed)
            plans.append(decoder.timetable(decoder.decode(again.order)))
            tried, interrupted = tried + again.tried, interrupted or again.interrupted
    finished = [with_expected_reviews(tables, plan) for plan in plans]
    best = min(finished, key=lambda plan: plan_value(instance, plan))
    return Settled(best, tried, interrupted)


def _searched(decoder: Decoder, order: tuple[int, ...], tries: int, seed: int) -> Found:
    search = Search(decoder, seed)
    tried = 0
    for share, strict, warm, cold in PHASES:
        found = search.run(order, int(tries * share), None, warm, cold, strict)
        order, tried = found.order, tried + found.tried
        if found.interrupted:
            break
    return Found(order, found.value, tried, found.interrupted)


def known_order(instance: Instance) -> tuple[int, ...]:
    """Return the jobs in the order in which their first open blocks stood, then all reviews."""
    key = []
    for row in instance.former:
        stood = [practice for practice in row if practice >= instance.first_open]
        lost = any(practice < 0 for practice in row)
        key.append((min(stood) if stood else instance.practices) - 0.5 * lost)
    jobs = in_order_of_needs(instance, key)
    return (*jobs, *(len(instance.minutes) + skill for skill in range(len(instance.chains))))
