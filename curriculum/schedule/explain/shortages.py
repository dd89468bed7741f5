"""What a stage asks of a gym and no practice has: players, baskets, a full court, minutes."""

from collections.abc import Sequence

from curriculum.gym.practices import Gym, Practice
from curriculum.schedule.explain.limits import Limits
from curriculum.schedule.explain.words import Names
from curriculum.wording import counted
from curriculum.workload import Job, Workload


def shortage(limits: Limits, gym: Gym, workload: Workload, names: Names, goal: int) -> str:
    """Return what no practice before a goal's date has for it or its needs; empty for nothing."""
    wanted = limits.instance.goals[goal]
    practices = [gym.practices[index] for index in limits.open_before(wanted.limit)]
    for index in sorted(limits.needed[wanted.job]):
        job = workload.jobs[index]
        lacks = lacking(job, practices) if limits.blocks_left(index) else ""
        if lacks and index == wanted.job:
            return lacks
        if lacks:
            return f"waits for {names.stage(job.node)}, which {lacks}"
    return ""


def lacking(job: Job, practices: Sequence[Practice]) -> str:
    """Return what a stage needs and none of these practices has; empty when one has it all."""
    if not practices or any(suits(job, practice) for practice in practices):
        return ""
    players = max(practice.expected for practice in practices)
    if players < job.players:
        verb = "comes" if players == 1 else "come"
        return f"needs {counted(job.players, 'player')}, {players} usually {verb}"
    baskets = max(practice.baskets for practice in practices)
    if baskets < job.baskets:
        return f"needs {counted(job.baskets, 'basket')}, the gym has {baskets}"
    if job.full_court and all(practice.court != "full" for practice in practices):
        have = "the practice has" if len(practices) == 1 else "the practices have"
        return f"needs a full court, {have} half of one"
    longest = max(practice.usable_minutes - practice.changeover for practice in practices)
    if longest < job.minutes:
        alone = len(practices) == 1
        have = "the practice has" if alone else "no practice has more than"
        return f"takes {job.minutes} minutes at a time, {have} {max(0, longest)}"
    return "needs more players, baskets, court or minutes at once than any practice has"


def suits(job: Job, practice: Practice) -> bool:
    """Whether a practice that held nothing else would do for a block of a stage."""
    return (
        practice.expected >= job.players
        and practice.baskets >= job.baskets
        and (practice.court == "full" or not job.full_court)
        and practice.usable_minutes >= job.minutes + practice.changeover
    )
