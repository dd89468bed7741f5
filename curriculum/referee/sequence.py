"""The rules that look along the season: the ladder of each skill, and needs that come first.

A breach is laid at the door of the later block; where that one is past, it is none.
"""

from collections.abc import Iterator
from itertools import pairwise

from curriculum.graph import Node
from curriculum.referee.facts import Facts, Standing
from curriculum.referee.verdict import LADDER, NEEDS_COME_FIRST, Breach
from curriculum.wording import counted, dated


def ladder(facts: Facts) -> Iterator[Breach]:
    """Check that blocks of a skill are held in stage and number order, `gap_days` apart.

    The order is that of the skill's stages in the workload, numbers 1, 2, 3 without holes; what is
    past stands in the order in which it was held, and what it left out comes first. The gap is a
    difference of dates and holds between any two blocks of a skill, reviews included. A review
    stands after the last block of the skill's last asked stage, at that stage.
    """
    for skill_id in sorted(facts.reviews):
        breaches = [*_gaps(facts, skill_id), *_steps(facts, skill_id), *_early(facts, skill_id)]
        for standing, says in sorted(breaches, key=lambda breach: breach[0].when):
            if not facts.past(standing.practice.date):
                yield standing.breach(LADDER, says)


def _gaps(facts: Facts, skill_id: str) -> Iterator[tuple[Standing, str]]:
    least = facts.season.teaching.gap_days
    blocks = (standing for standing in facts.blocks if standing.block.skill == skill_id)
    for before, standing in pairwise(blocks):
        gap = (standing.practice.date - before.practice.date).days
        if gap < least:
            says = (
                f"{facts.title(standing)} comes {counted(gap, 'day')} after {facts.title(before)}"
            )
            yield standing, f"{says}, at least {counted(least, 'day')} must lie between"


def _steps(facts: Facts, skill_id: str) -> Iterator[tuple[Standing, str]]:
    jobs = facts.ladders.get(skill_id, ())
    lessons = facts.ladder_lessons(skill_id)
    held = {(s.node, s.block.number) for s in lessons if facts.past(s.practice.date)}
    due = [
        (job, number)
        for job in jobs
        for number in range(1, job.blocks + 1)
        if (job.node, number) not in held
    ]
    places = {(job.node, number): place for place, (job, number) in enumerate(due)}
    next_place = 0
    for standing in lessons:
        if facts.past(standing.practice.date):
            continue
        # A block that stands here again after it was held is due nowhere.
        place = places.get((standing.node, standing.block.number), -1)
        if place != next_place:
            if next_place < len(due):
                job, number = due[next_place]
                awaited = f"{facts.name(job.node)} {number} of {job.blocks} is due"
            else:
                awaited = "no further block is due"
            yield standing, f"{facts.title(standing)} stands where {awaited}"
        next_place = place + 1 if place >= 0 else next_place


def _early(facts: Facts, skill_id: str) -> Iterator[tuple[Standing, str]]:
    last = facts.finished(skill_id)
    if last is None:
        return
    for standing in facts.reviews[skill_id]:
        if standing.when < last.when:
            says = f"{facts.title(standing)} stands before {facts.name(last.node)} is reached"
            yield standing, f"{says} on {dated(last.practice.date)}"
        if standing.node != last.node:
            yield standing, f"{facts.title(standing)} should come back to {facts.name(last.node)}"


def needs_come_first(facts: Facts) -> Iterator[Breach]:
    """Check that a stage starts in a practice after the one where what it needs is reached.

    Two practices on one date are ordered by their start. With `build_within_practice` the needed
    block may also stand earlier in the same practice. Known stages count as reached; the lower
    stages of the skill itself are the ladder's concern.
    """
    for standing, needed in _starts(facts):
        reached = facts.reached(needed)
        says = f"{facts.title(standing)} starts, but {facts.name(needed)} is "
        if reached is None:
            yield standing.breach(NEEDS_COME_FIRST, says + "never reached")
        elif reached.held > standing.held:
            same_day = reached.practice.date == standing.practice.date
            when = "later that day" if same_day else f"on {dated(reached.practice.date)}"
            yield standing.breach(NEEDS_COME_FIRST, f"{says}reached only {when}")
        elif reached.held == standing.held:
            within = facts.season.teaching.build_within_practice
            if not within:
                yield standing.breach(NEEDS_COME_FIRST, says + "reached only in this practice")
            elif reached.place > standing.place:
                yield standing.breach(NEEDS_COME_FIRST, says + "reached only later in it")


def _starts(facts: Facts) -> Iterator[tuple[Standing, Node]]:
    """Yield the first block of each stage, unless it is past, with each stage that it needs."""
    firsts = (lessons[0] for lessons in facts.lessons.values() if lessons)
    for standing in sorted(firsts, key=lambda first: first.when):
        if not facts.past(standing.practice.date):
            for needed in facts.jobs[standing.node].after:
                if needed[0] != standing.block.skill:
                    yield standing, needed
