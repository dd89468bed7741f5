"""What a plan is worth: the tiers in which one plan is better than another, each smaller is better.

Worked out from the plan alone; days count from the season's start, which is day 0, and L is the
season's length in days, so that L stands for the day after its end.
"""

from collections.abc import Iterable
from itertools import combinations, pairwise

from curriculum.gym.practices import Gym
from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.referee.facts import Facts, Standing, read
from curriculum.workload import Target

TIERS = (
    "must-goals missed",
    "days late",
    "should-goals missed",
    "could-goals missed",
    "comfort",
)
"""Names of the tiers, strongest first."""

EARLY_RATE = 10
LATE_RATE = 4
PAIR_MINUTES = 2
FOCUS_SHARE = 10
"""The exchange rates of comfort: 10 × early + 4 × late + uneven, in which a pair of one strand
counts 2 minutes and a minute inside theme weeks a tenth of its weight."""


def tiers(plan: Plan, season: Season, library: Library, gym: Gym) -> tuple[int, ...]:
    """Return the values of `TIERS` for a plan."""
    return values(read(plan, season, library, gym))


def values(facts: Facts) -> tuple[int, ...]:
    """Return the values of `TIERS` for facts that are already laid out."""
    missed = [target for target in facts.workload.targets if not facts.met(target)]
    musts = [target for target in missed if target.goal.need == "must"]
    return (
        len(musts),
        sum(target.goal.weight * days_late(facts, target) for target in musts),
        _weight(missed, "should"),
        _weight(missed, "could"),
        EARLY_RATE * early(facts) + LATE_RATE * late(facts) + uneven(facts),
    )


def _weight(missed: Iterable[Target], need: str) -> int:
    return sum(target.goal.weight for target in missed if target.goal.need == need)


def days_late(facts: Facts, target: Target) -> int:
    """Return by how many days a missed goal is missed: at least 1, not reached counts as day L."""
    last = facts.reached(target.node)
    day = facts.length if last is None else facts.day(last.practice.date)
    return max(1, day - facts.day(target.due))


def early(facts: Facts) -> int:
    """Return the days on which skills reach their last asked stage, times their weight, summed.

    A skill that does not reach it counts with day L. The weight is that of the last asked stage.
    """
    total = 0
    for skill_id, ladder in facts.ladders.items():
        last = facts.finished(skill_id)
        day = facts.length if last is None else facts.day(last.practice.date)
        total += ladder[-1].weight * day
    return total


def late(facts: Facts) -> int:
    """Return the days by which reviews are late and gaps are too long, summed over skills."""
    return sum(_reviews_late(facts, each) + _gaps_long(facts, each) for each in facts.ladders)


def _reviews_late(facts: Facts, skill_id: str) -> int:
    """Return the late days of a skill's reviews.

    The first is due `review_after[0]` days after the skill is reached, each further one so many
    after the review really placed before it. A review due on day L or later is dropped with all
    after it; one that is not placed counts as placed on day L, and the count stops.
    """
    last = facts.finished(skill_id)
    if last is None:
        return 0
    reviews = facts.reviews.get(skill_id, ())
    placed = iter([facts.day(review.practice.date) for review in reviews])
    before, total = facts.day(last.practice.date), 0
    for after in facts.season.teaching.review_after:
        due = before + after
        if due >= facts.length:
            break
        day = next(placed, None)
        if day is None:
            total += facts.length - due
            break
        total += max(0, day - due)
        before = day
    return total


def _gaps_long(facts: Facts, skill_id: str) -> int:
    """Return the days beyond `stretch_days` between one introduce or build block and the next.

    The next one is that of the ladder, which may have been held before it.
    """
    most = facts.season.teaching.stretch_days
    lessons = [s for job in facts.ladders[skill_id] for s in facts.lessons[job.node]]
    return sum(max(0, gap_days(*pair) - most) for pair in pairwise(lessons))


def gap_days(before: Standing, standing: Standing) -> int:
    """Return the difference of the dates of two blocks."""
    return (standing.practice.date - before.practice.date).days


def uneven(facts: Facts) -> int:
    """Return how unevenly minutes and strands are spread; introduce and build blocks count.

    Minutes above the mean use per practice of the calendar (rounded up), summed over practices;
    plus 2 for each pair of blocks of one strand within a practice; less weight × minutes of blocks
    inside `[[focus]]` weeks of their strand, summed, a tenth of it rounded down.
    """
    held = len(facts.gym.practices)
    target = -(-facts.workload.minutes // held) if held else 0
    together: dict[str, list[Standing]] = {}
    for lessons in facts.lessons.values():
        for standing in lessons:
            together.setdefault(standing.practice.id, []).append(standing)
    above = pairs = focused = 0
    for blocks in together.values():
        strands = [facts.jobs[standing.node].strand for standing in blocks]
        above += max(0, sum(standing.block.minutes for standing in blocks) - target)
        pairs += sum(one == other for one, other in combinations(strands, 2))
        focused += sum(_focus(facts, standing) for standing in blocks)
    return above + PAIR_MINUTES * pairs - focused // FOCUS_SHARE


def _focus(facts: Facts, standing: Standing) -> int:
    strand, date = facts.jobs[standing.node].strand, standing.practice.date
    return standing.block.minutes * sum(
        focus.weight
        for focus in facts.season.focus
        if focus.strand == strand and focus.from_ <= date <= focus.until
    )
