"""When reviews are due, and what the calendar alone makes of it: tables for the decoder."""

from dataclasses import dataclass

from curriculum.schedule.instance import Instance
from curriculum.schedule.tables import Tables


@dataclass(frozen=True)
class ReviewTables:
    """What can be known of reviews before anything stands.

    ends: for each skill the job after which its reviews come.
    masks: the practices in which each skill may be reviewed, as bits.
    held: for each skill the practices of the reviews that are past, in order of time.
    due: for each number of a review (from 0) and each practice of what it follows, its due day, -1
    when none is due any more. first: the first practice to try. then: the days by which the review
    after it must be late if it stands in a practice itself, as far as the calendar tells.
    """

    ends: tuple[int, ...]
    masks: tuple[int, ...]
    held: tuple[tuple[int, ...], ...]
    due: tuple[tuple[int, ...], ...]
    first: tuple[tuple[int, ...], ...]
    then: tuple[tuple[int, ...], ...]


def review_tables(tables: Tables) -> ReviewTables:
    """Work out the review tables of an instance."""
    instance = tables.instance
    ends = tuple(chain[-1] for chain in instance.chains)
    opened = sum(1 << p for p in range(instance.first_open, instance.practices))
    held: list[list[int]] = [[] for _ in ends]
    for skill, practice in instance.reviews_held:
        held[skill].append(practice)
    due, first = _due(tables)
    last = (0,) * instance.practices
    then = [_late(instance, due[n], first[n]) for n in range(1, len(due) - 1)]
    return ReviewTables(
        ends=ends,
        masks=tuple(opened & instance.allowed[end] for end in ends),
        held=tuple(tuple(sorted(each)) for each in held),
        due=due,
        first=first,
        then=(*then, last, last),
    )


def _due(tables: Tables) -> tuple[tuple[tuple[int, ...], ...], tuple[tuple[int, ...], ...]]:
    """Return due days and first practices; one more number than there are reviews, never due."""
    instance, count = tables.instance, tables.instance.practices
    due, first = [], []
    for after in instance.review_after:
        days = [day + after if day + after < instance.horizon else -1 for day in instance.days]
        places = [
            next(
                (
                    p
                    for p in range(max(tables.next_day[at], instance.first_open), count)
                    if instance.days[p] >= day
                ),
                count,
            )
            for at, day in enumerate(days)
        ]
        due.append(tuple(days))
        first.append(tuple(places))
    due.append((-1,) * count)
    first.append((count,) * count)
    return tuple(due), tuple(first)


def _late(instance: Instance, due: tuple[int, ...], first: tuple[int, ...]) -> tuple[int, ...]:
    days = (*instance.days, instance.horizon)
    return tuple(
        max(0, days[place] - day) if day >= 0 else 0 for day, place in zip(due, first, strict=True)
    )
