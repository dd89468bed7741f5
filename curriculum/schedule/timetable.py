"""Where every block and review stands, by practice index, and the tiers by which it is judged."""

from dataclasses import dataclass
from itertools import pairwise

from curriculum.schedule.instance import COULD, MUST, SHOULD, Instance, Pin

EARLY_RATE = 10
LATE_RATE = 4
PAIR_RATE = 2
FOCUS_SHARE = 10
"""Comfort = 10 x early + 4 x late + uneven, where uneven = minutes above the season's mean
+ 2 x same-strand pairs - focus minutes / 10: a strict order of early before late leaves skills
untouched for weeks to win half a day."""

Tiers = tuple[int, ...]
"""Values of all tiers in their order, named by `tier_names`; smaller is better in each."""


COMFORT = "comfort"
"""The name of the last tier."""


def tier_names(*, noticed: bool) -> tuple[str, ...]:
    """Return the names of the tiers; once people know a plan, changes to it count before could."""
    changes = ("blocks moved", "nearness of moves") if noticed else ()
    return (
        "must-goals missed",
        "days late",
        "should-goals missed",
        *changes,
        "could-goals missed",
        COMFORT,
    )


@dataclass(frozen=True)
class Timetable:
    """A schedule in numbers.

    blocks: for each job the practices of its blocks, in number order; shorter than the job's number
    of blocks when not all of them fit.
    reviews: for each skill the practices of its reviews, in order.
    dropped: pins (by index in the instance) that could not be honoured.
    """

    blocks: tuple[tuple[int, ...], ...]
    reviews: tuple[tuple[int, ...], ...]
    dropped: tuple[int, ...] = ()

    def reached(self, instance: Instance, job: int) -> int:
        """Return the practice in which a job's last block stands, -1 when it is not reached."""
        placed = self.blocks[job]
        return placed[-1] if len(placed) == instance.blocks[job] else -1


def dropped_pins(instance: Instance, timetable: Timetable) -> tuple[int, ...]:
    """Return the pins, by index, that no block of their job honours; past ones ask for nothing.

    A pin without a number is honoured by a review of its stage too.
    """
    return tuple(
        index
        for index, pin in enumerate(instance.pins)
        if instance.asks(pin)
        and not any(
            practice in pin.practices and pin.number in (0, number)
            for number, practice in enumerate(timetable.blocks[pin.job], start=1)
        )
        and not _reviewed(instance, timetable, pin)
    )


def _reviewed(instance: Instance, timetable: Timetable, pin: Pin) -> bool:
    if pin.number or not instance.last[pin.job] or not timetable.reviews:
        return False
    return not set(pin.practices).isdisjoint(timetable.reviews[instance.skill[pin.job]])


def tiers(instance: Instance, timetable: Timetable) -> Tiers:
    """Return the values of all tiers, in their order."""
    must, days, should, could = goal_tiers(instance, timetable)
    changes = moved(instance, timetable) if instance.noticed else ()
    return (must, days, should, *changes, could, comfort(instance, timetable))


def moved(instance: Instance, timetable: Timetable) -> tuple[int, int]:
    """Return how many blocks have left the practice where people expect them, and how soon.

    The second number adds, for each of them, the practices from the nearer of its old and its new
    place to the season's end, so that changes far ahead are preferred. Past practices, blocks whose
    practice is gone and blocks that nobody has seen do not count.
    """
    count = soon = 0
    for job, old in enumerate(instance.former):
        placed = timetable.blocks[job]
        for number, practice in enumerate(old):
            now = placed[number] if number < len(placed) else instance.practices
            if practice >= instance.first_open and now != practice:
                count += 1
                soon += instance.practices - min(practice, now)
    for old, now_held in zip(instance.former_reviews, timetable.reviews, strict=False):
        for practice in old:
            if practice >= instance.first_open and practice not in now_held:
                count += 1
                soon += instance.practices - practice
    return count, soon


def goal_tiers(instance: Instance, timetable: Timetable) -> tuple[int, int, int, int]:
    """Return must-goals missed, their weighted days late, and the weights of the other misses."""
    missed = [0, 0, 0]
    late = 0
    for goal in instance.goals:
        if goal.job < 0:
            continue
        reached = timetable.reached(instance, goal.job)
        if 0 <= reached < goal.limit:
            continue
        if goal.importance == MUST:
            day = instance.days[reached] if reached >= 0 else instance.horizon
            late += goal.weight * max(1, day - goal.due)
            missed[MUST] += 1
        else:
            missed[goal.importance] += goal.weight
    return missed[MUST], late, missed[SHOULD], missed[COULD]


def comfort(instance: Instance, timetable: Timetable) -> int:
    """Return the comfort of a timetable: early, late and uneven at their published rates."""
    return (
        EARLY_RATE * early(instance, timetable)
        + LATE_RATE * late(instance, timetable)
        + uneven(instance, timetable)
    )


def early(instance: Instance, timetable: Timetable) -> int:
    """Return the weighted days until each skill's last asked stage is reached."""
    total = 0
    for job, is_last in enumerate(instance.last):
        if is_last:
            reached = timetable.reached(instance, job)
            day = instance.days[reached] if reached >= 0 else instance.horizon
            total += instance.weight[job] * day
    return total


def late(instance: Instance, timetable: Timetable) -> int:
    """Return the days by which reviews come late and by which gaps stretch too far."""
    total = 0
    for skill, chain in enumerate(instance.chains):
        days = [instance.days[p] for job in chain for p in timetable.blocks[job]]
        for first, second in pairwise(days):
            total += max(0, second - first - instance.stretch)
        if timetable.reached(instance, chain[-1]) >= 0:
            total += late_reviews(instance, days[-1], timetable.reviews[skill])
    return total


def late_reviews(instance: Instance, reached: int, reviews: tuple[int, ...]) -> int:
    """Return the days by which a skill's reviews come late after the day on which it is reached."""
    total, day = 0, reached
    for number, after in enumerate(instance.review_after):
        due = day + after
        if due >= instance.horizon:
            break
        if number >= len(reviews):
            total += instance.horizon - due
            break
        day = instance.days[reviews[number]]
        total += max(0, day - due)
    return total


def uneven(instance: Instance, timetable: Timetable) -> int:
    """Return minutes above the mean, same-strand pairs, and the credit for focus weeks."""
    load = [0] * instance.practices
    strands: dict[tuple[int, int], int] = {}
    focus = 0
    for job, placed in enumerate(timetable.blocks):
        minutes, strand = instance.minutes[job], instance.strand[job]
        for practice in placed:
            load[practice] += minutes
            strands[practice, strand] = strands.get((practice, strand), 0) + 1
            focus += instance.focus[practice][strand] * minutes
    over = sum(max(0, minutes - instance.target) for minutes in load)
    pairs = sum(count * (count - 1) // 2 for count in strands.values())
    return over + PAIR_RATE * pairs - focus // FOCUS_SHARE


def plan_value(instance: Instance, plan: Timetable) -> tuple[int, ...]:
    """Return pins dropped and all tiers of a plan: what decides between two plans."""
    return (len(dropped_pins(instance, plan)), *tiers(instance, plan))
