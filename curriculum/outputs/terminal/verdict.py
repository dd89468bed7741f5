"""A plan in short: what it meets and misses, how good it is known to be, and what comes next."""

import datetime as dt
from collections import Counter
from collections.abc import Collection, Iterator

from rich.console import Group, RenderableType

from curriculum.models.season import Importance
from curriculum.outputs.terminal.render import FAINT, bullets, heading, say
from curriculum.outputs.terminal.season import entry_lines, goal_table, head
from curriculum.practice.agenda import Agenda, Entry
from curriculum.practice.goals import GoalLine
from curriculum.wording import counted, listed

NEAREST = 2
"""Practices that are shown."""

LESSER: tuple[Importance, ...] = ("should", "could")
"""Needs of goals that are only counted where they are met."""


def verdict_view(
    page: Agenda, *, every_miss: bool = True, told: Collection[str] = ()
) -> RenderableType:
    """Return what a plan decides about the goals: must-goals and what is missed, and why.

    every_miss: False only counts the could-goals that are missed. told: reasons that are told
    below, with what has changed.
    """
    parts: list[RenderableType] = [head(page)]
    if page.goals:
        kept = sum(goal.outcome != "missed" for goal in page.goals)
        parts += [say(""), heading("Goals", f"{kept} of {len(page.goals)} met")]
        shown = [goal for goal in page.goals if _worth_a_line(goal, every_miss=every_miss)]
        parts += [goal_table(shown)] if shown else []
        others = listed(list(_counts(page, shown)))
        parts += [say(f"{'and ' if shown else ''}{others}", FAINT)] if others else []
    # What would help stands with the clash, which is told next.
    whys = [miss.why for miss in page.misses if miss.why not in told]
    if whys and every_miss:
        parts += [say(""), heading("Not honoured"), bullets(whys, "!")]
    return Group(*parts)


def _worth_a_line(goal: GoalLine, *, every_miss: bool) -> bool:
    return goal.need == "must" or (
        goal.outcome == "missed" and (every_miss or goal.need != "could")
    )


def _counts(page: Agenda, shown: list[GoalLine]) -> Iterator[str]:
    """Yield how many goals are not shown, those met first."""
    hidden = [goal for goal in page.goals if goal not in shown]
    for outcome, missed in (("met", False), ("not reached", True)):
        found = Counter(goal.need for goal in hidden if (goal.outcome == "missed") is missed)
        words = [counted(found[need], f"{need}-goal") for need in LESSER if found[need]]
        if words:
            yield f"{listed(words)} {outcome}"


def nearest_view(page: Agenda, today: dt.date) -> RenderableType | None:
    """Return the next practices from a day on, with what stands between; None when none is left."""
    found: list[Entry] = []
    left = NEAREST
    for entry in (entry for week in page.weeks for entry in week.entries):
        if entry.date < today or not left:
            continue
        found.append(entry)
        left -= entry.kind == "practice"
    if left == NEAREST:
        return None
    return Group(heading("Next practices"), *entry_lines(found))


def proof_line(page: Agenda) -> RenderableType:
    """Return what is proved of a plan and what is not, in a sentence or two."""
    proved = [f"{tier.name} {tier.value}" for tier in page.tiers if tier.proved]
    open_ = [
        f"{tier.name} {tier.value}, at least {tier.bound}" for tier in page.tiers if not tier.proved
    ]
    said = [f"Proved best: {listed(proved)}."] if proved else []
    said += [f"Not proved: {'; '.join(open_)}."] if open_ else []
    needed = counted(page.practices_needed_at_least, "practice")
    said.append(f"Everything asked for needs at least {needed}; {page.practices} are there.")
    return say(" ".join(said))
