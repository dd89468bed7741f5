"""The plan itself: whether it is a plan of this season at all, before any rule is asked.

What is past is left as it was: neither its practices nor its blocks are compared.
"""

from collections import Counter
from collections.abc import Iterator
from typing import TypeVar

from curriculum.gym.practices import Practice
from curriculum.models.base import Model
from curriculum.models.plan import NotHeld, PlannedGame, PlannedPractice
from curriculum.referee.facts import Facts, Standing
from curriculum.referee.verdict import THE_PLAN_ITSELF, Breach
from curriculum.wording import counted, dated

Dated = TypeVar("Dated", NotHeld, PlannedGame)


def the_plan_itself(facts: Facts) -> Iterator[Breach]:
    """Yield what is malformed.

    The season's id and time zone, its practices, games and dates not held are those of the plan;
    ids stand once; every block names a stage that the season asks for, with the number, count,
    kind and minutes that follow from it; reviews are of finished skills.
    """
    yield from _heading(facts)
    yield from _practices(facts)
    yield from _beside(facts)
    for standing in facts.blocks:
        if not facts.past(standing.practice.date):
            yield from _block(facts, standing)


def _breach(says: str, practice: str | None = None) -> Breach:
    return Breach(THE_PLAN_ITSELF, practice, None, None, says)


def _heading(facts: Facts) -> Iterator[Breach]:
    plan, frame = facts.plan, facts.season.season
    if plan.season != frame.id:
        yield _breach(f"the plan is of season {plan.season}, not of {frame.id}")
    if plan.timezone != frame.timezone:
        yield _breach(f"the plan's time zone is {plan.timezone}, the season's {frame.timezone}")


def _practices(facts: Facts) -> Iterator[Breach]:
    for practice_id, times in Counter(practice.id for practice in facts.plan.practices).items():
        if times > 1:
            yield _breach(
                f"the practice {practice_id} stands {times} times in the plan", practice_id
            )
    for planned in sorted(facts.plan.practices, key=lambda each: (each.date, each.start, each.id)):
        if not facts.past(planned.date):
            yield from _practice(planned, facts.calendar.get(planned.id))
    listed = {practice.id for practice in facts.plan.practices}
    for practice in facts.gym.practices:
        if practice.id not in listed and not facts.past(practice.date):
            yield _breach(
                f"{dated(practice.date)}: the practice at {practice.start:%H:%M} stands in the "
                "calendar, but not in the plan",
                practice.id,
            )


def _practice(planned: PlannedPractice, practice: Practice | None) -> Iterator[Breach]:
    if practice is None:
        yield _breach(
            f"{dated(planned.date)}: the practice at {planned.start:%H:%M} is not in the calendar",
            planned.id,
        )
        return
    found = planned.model_dump(mode="json", exclude={"blocks"})
    due = planned.model_copy(update={key: getattr(practice, key) for key in found}).model_dump(
        mode="json", exclude={"blocks"}
    )
    for key, value in found.items():
        if value != due[key]:
            yield _breach(
                f"{dated(planned.date)}: the practice's {key.replace('_', ' ')} is {value}, "
                f"in the calendar {due[key]}",
                planned.id,
            )


def _beside(facts: Facts) -> Iterator[Breach]:
    games = tuple(PlannedGame(**game.model_dump()) for game in facts.gym.games)
    for game in _surplus(facts, facts.plan.games, games):
        yield _breach(f"{dated(game.date)}: the game {game.id} is not as the season has it")
    for game in _surplus(facts, games, facts.plan.games):
        yield _breach(f"{dated(game.date)}: the game {game.id} of the season is not in the plan")
    for lost in _surplus(facts, facts.plan.not_held, facts.gym.not_held):
        yield _breach(f"{dated(lost.date)}: not held ({lost.why}) is not in the calendar")
    for lost in _surplus(facts, facts.gym.not_held, facts.plan.not_held):
        yield _breach(f"{dated(lost.date)}: not held ({lost.why}) is not in the plan")


def _surplus(facts: Facts, mine: tuple[Dated, ...], others: tuple[Dated, ...]) -> Iterator[Dated]:
    """Yield what stands in the first list and not in the second, from today on."""
    left = Counter(_written(each) for each in others)
    for entry in sorted(mine, key=lambda each: (each.date, each.id)):
        left[_written(entry)] -= 1
        if left[_written(entry)] < 0 and not facts.past(entry.date):
            yield entry


def _written(value: Model) -> str:
    """Return a value as a plan file holds it, so that a plan read back compares equal."""
    return value.model_dump_json()


def _block(facts: Facts, standing: Standing) -> Iterator[Breach]:
    block, name = standing.block, facts.name(standing.node)
    skill = facts.skills.get(block.skill)
    if skill is None:
        yield standing.breach(THE_PLAN_ITSELF, f"{name}: the library has no skill {block.skill}")
    elif block.stage not in skill.stages:
        yield standing.breach(THE_PLAN_ITSELF, f"{skill.name} has no stage {block.stage}")
    elif standing.review:
        yield from _review(facts, standing)
    elif standing.node not in facts.jobs:
        yield standing.breach(THE_PLAN_ITSELF, f"{name} is not asked for by the season")
    else:
        yield from _lesson(facts, standing)


def _review(facts: Facts, standing: Standing) -> Iterator[Breach]:
    block, title = standing.block, facts.title(standing)
    if block.skill not in facts.ladders:
        yield standing.breach(THE_PLAN_ITSELF, f"{title}: the season does not ask for this skill")
    elif facts.finished(block.skill) is None:
        last = facts.name(facts.ladders[block.skill][-1].node)
        yield standing.breach(
            THE_PLAN_ITSELF, f"{title}: {last} is never reached, so there is nothing to review"
        )
    reviews = facts.reviews[block.skill]
    number, of = reviews.index(standing) + 1, len(reviews)
    if (block.number, block.of) != (number, of):
        yield standing.breach(THE_PLAN_ITSELF, f"{title}: by date it is number {number} of {of}")
    yield from _minutes(facts, standing, facts.season.teaching.review_minutes)


def _lesson(facts: Facts, standing: Standing) -> Iterator[Breach]:
    block, title, job = standing.block, facts.title(standing), facts.jobs[standing.node]
    if block.number > job.blocks or block.of != job.blocks:
        yield standing.breach(
            THE_PLAN_ITSELF, f"{title}: this stage has {counted(job.blocks, 'block')}"
        )
    kind = "introduce" if facts.introduces(standing) else "build"
    if block.kind != kind:
        yield standing.breach(
            THE_PLAN_ITSELF, f"{title}: the kind is {block.kind}, it should be {kind}"
        )
    yield from _minutes(facts, standing, job.minutes)


def _minutes(facts: Facts, standing: Standing, due: int) -> Iterator[Breach]:
    found = standing.block.minutes
    if found != due:
        yield standing.breach(
            THE_PLAN_ITSELF, f"{facts.title(standing)}: {found} minutes, it takes {due}"
        )
