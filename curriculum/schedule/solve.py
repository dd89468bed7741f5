"""The one entrance of the engine: an instance in, a result out."""

from dataclasses import dataclass
from typing import Literal

from curriculum.schedule.bounds import critical_path, practices_needed, tier_bounds
from curriculum.schedule.instance import Instance
from curriculum.schedule.oldreviews import review
from curriculum.schedule.rules import orders, pin_choices
from curriculum.schedule.serial import Serial, freeze, schedule_in_order
from curriculum.schedule.tables import Tables, tables_of
from curriculum.schedule.timetable import Tiers, Timetable, tiers
from curriculum.schedule.windows import windows_of

Status = Literal["optimal", "feasible", "partial"]


@dataclass(frozen=True)
class Result:
    """What the engine found.

    status: "partial" when a must-goal or a pin is missed, "optimal" when every tier is proven.
    tiers, bounds: value reached and valid lower bound of each tier, in order.
    effort: how many timetables were tried.
    """

    status: Status
    tiers: Tiers
    bounds: Tiers
    timetable: Timetable
    practices_needed: int
    critical_path: int
    effort: int


def solve(instance: Instance) -> Result:
    """Schedule an instance by every priority rule and keep the best plan by the tiers in order."""
    tables = tables_of(instance)
    windows = windows_of(tables)
    best: tuple[tuple[int, Tiers], Timetable] | None = None
    effort = 0
    for pinned in pin_choices(instance):
        for jobs in orders(tables, windows).values():
            timetable = _timetable(tables, schedule_in_order(tables, jobs, pinned))
            value = (len(timetable.dropped), tiers(instance, timetable))
            effort += 1
            if best is None or value < best[0]:
                best = (value, timetable)
    if best is None:
        raise ValueError("an instance has at least one order of its jobs")
    (dropped, reached), timetable = best
    bounds = tier_bounds(tables, windows)
    status: Status = "feasible"
    if dropped or reached[0]:
        status = "partial"
    elif reached == bounds:
        status = "optimal"
    return Result(
        status=status,
        tiers=reached,
        bounds=bounds,
        timetable=timetable,
        practices_needed=practices_needed(tables),
        critical_path=critical_path(tables),
        effort=effort,
    )


def _timetable(tables: Tables, run: Serial) -> Timetable:
    reviews = review(run, fill=True)
    return freeze(run, reviews, _dropped(tables.instance, run, reviews))


def _dropped(instance: Instance, run: Serial, reviews: list[list[int]]) -> tuple[int, ...]:
    """Return the pins that no block of their stage honours; past ones are no longer asked for.

    A pin without a number is honoured by a review of its stage too.
    """
    return tuple(
        index
        for index, pin in enumerate(instance.pins)
        if pin.practices[-1] >= instance.first_open
        and not any(
            practice in pin.practices and pin.number in (0, number)
            for number, practice in enumerate(run.placed[pin.job], start=1)
        )
        and not (
            pin.number == 0
            and instance.last[pin.job]
            and any(practice in pin.practices for practice in reviews[instance.skill[pin.job]])
        )
    )
