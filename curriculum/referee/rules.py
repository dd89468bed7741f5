"""The rules that look at one practice at a time: minutes, small bites, games, players.

Each rule is a function from the facts to its breaches, practices in order of date. Practices that
are past, and those that the calendar lacks, are left alone: the former happened, the latter are
reported with the plan itself.
"""

from collections.abc import Iterator

from curriculum.gym.practices import Practice
from curriculum.referee.facts import Facts, Standing
from curriculum.referee.verdict import (
    ENOUGH_OF_ALL,
    INSIDE_THE_GYM_TIME,
    NEW_IN_SMALL_BITES,
    QUIET_BEFORE_A_GAME,
    Breach,
)
from curriculum.wording import counted, dated


def inside_the_gym_time(facts: Facts) -> Iterator[Breach]:
    """Check that the blocks, each with a changeover, fit the usable minutes of a practice."""
    for practice, blocks in _practices(facts):
        used = sum(standing.block.minutes + practice.changeover for standing in blocks)
        if used > practice.usable_minutes:
            yield _of_practice(
                INSIDE_THE_GYM_TIME,
                practice,
                f"{counted(len(blocks), 'block')} and their changeovers take {used} minutes, "
                f"{practice.usable_minutes} are usable",
            )


def new_in_small_bites(facts: Facts) -> Iterator[Breach]:
    """Check that a practice has at most `new_skills` introductions and `blocks` blocks.

    Reviews count as blocks.
    """
    teaching = facts.season.teaching
    for practice, blocks in _practices(facts):
        new = sum(facts.introduces(standing) for standing in blocks)
        if new > teaching.new_skills:
            yield _of_practice(
                NEW_IN_SMALL_BITES,
                practice,
                f"{counted(new, 'skill')} introduced, at most {teaching.new_skills} may be",
            )
        if len(blocks) > teaching.blocks:
            yield _of_practice(
                NEW_IN_SMALL_BITES,
                practice,
                f"{counted(len(blocks), 'block')} planned, at most {teaching.blocks} may be",
            )


def quiet_before_a_game(facts: Facts) -> Iterator[Breach]:
    """Check that nothing is introduced in a practice that the calendar marks as before a game."""
    for practice, blocks in _practices(facts):
        for standing in blocks:
            if practice.before_game and facts.introduces(standing):
                yield standing.breach(
                    QUIET_BEFORE_A_GAME,
                    f"{facts.title(standing)} introduces a skill in the last practice before a "
                    "game",
                )


def enough_of_all(facts: Facts) -> Iterator[Breach]:
    """Check that players, baskets and court suffice for each stage, reviews included."""
    for practice, blocks in _practices(facts):
        for standing in blocks:
            for lack in _lacks(facts, practice, standing):
                yield standing.breach(ENOUGH_OF_ALL, f"{facts.title(standing)} needs {lack}")


def _lacks(facts: Facts, practice: Practice, standing: Standing) -> Iterator[str]:
    job = facts.jobs.get(standing.node)
    if job is None:
        return
    if practice.expected < job.players:
        yield f"{counted(job.players, 'player')}, {practice.expected} are expected"
    if practice.baskets < job.baskets:
        yield f"{counted(job.baskets, 'basket')}, there are {practice.baskets}"
    if job.full_court and practice.court != "full":
        yield f"a full court, there is a {practice.court} one"


def _practices(facts: Facts) -> Iterator[tuple[Practice, tuple[Standing, ...]]]:
    """Yield the practices that are still to come, with their blocks in the order held."""
    together: dict[str, list[Standing]] = {}
    for standing in facts.blocks:
        if not facts.past(standing.practice.date):
            together.setdefault(standing.practice.id, []).append(standing)
    for practice_id, blocks in together.items():
        practice = facts.calendar.get(practice_id)
        if practice is not None:
            yield practice, tuple(blocks)


def _of_practice(rule: str, practice: Practice, says: str) -> Breach:
    return Breach(rule, practice.id, None, None, f"{dated(practice.date)}: {says}")
