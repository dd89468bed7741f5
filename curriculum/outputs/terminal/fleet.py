"""The planning of many teams in the terminal: a line for each as it is done, then a summary."""

from collections.abc import Sequence

from rich.console import Group, RenderableType

from curriculum.club.outcome import Outcome
from curriculum.outputs.terminal.render import bullets, heading, say
from curriculum.wording import counted

WORDS = {
    "planned": "planned",
    "unchanged": "planned, nothing changed",
    "stands": "stands, nothing to do",
    "faulty": "its files are wrong",
    "failed": "failed",
}


def outcome_line(outcome: Outcome, number: int, of: int) -> str:
    """Return one line for a team that is done: `[3/12] u12-girls: planned, 1 must-goal missed`."""
    must, should = outcome.missed
    words = [WORDS[outcome.state]]
    words += [f"{counted(must, 'must-goal')} missed"] if must else []
    words += [f"{counted(should, 'should-goal')} missed"] if should else []
    words += [] if outcome.sound or not outcome.problems else [outcome.problems[0]]
    return f"[{number:{len(str(of))}}/{of}] {outcome.team}: {', '.join(words)}"


def outcomes_summary(outcomes: Sequence[Outcome]) -> RenderableType:
    """Return how many teams have a plan, and all problems of those that have none."""
    sound = [each for each in outcomes if each.sound]
    partial = sum(each.status == "partial" for each in sound)
    words = f"{len(sound)} of {counted(len(outcomes), 'team')} have a plan"
    if partial:
        words += f"; {partial} of these {'misses' if partial == 1 else 'miss'} a must-goal or a pin"
    parts: list[RenderableType] = [say(f"{words}.")]
    for each in outcomes:
        if not each.sound:
            parts += [heading(each.team), bullets(each.problems, "!")]
    return Group(*parts)
