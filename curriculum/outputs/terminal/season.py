"""The season in the terminal: week by week, its goals, its misses and its proof."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from curriculum.gym.practices import Gym
from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.outputs.terminal.render import (
    BAD,
    FAINT,
    bullets,
    grid,
    heading,
    indented,
    kind_word,
    say,
)
from curriculum.practice.agenda import Agenda, BlockLine, Entry, MissLine, Week, agenda
from curriculum.practice.goals import GoalLine
from curriculum.wording import counted

STAGE_WIDTH = 9
TAUGHT_WIDTH = 16


def season_view(plan: Plan, season: Season, library: Library, gym: Gym) -> RenderableType:
    """Return the whole season, with every goal and every reason."""
    page = agenda(plan, season, library, gym)
    parts: list[RenderableType] = [head(page), say("")]
    for week in page.weeks:
        parts += [week_lines(week), say("")]
    if page.goals:
        parts += [heading("Goals"), goal_table(page.goals)]
    if page.misses:
        parts += [say(""), heading("Not honoured"), *_misses(page.misses)]
    parts += [say(""), heading("How good this plan is"), proof_lines(page)]
    return Group(*parts)


def head(page: Agenda) -> Table:
    """Return team, season, dates, counts and the status in words."""
    table = grid(None)
    table.add_row(heading(page.team, page.season))
    held = f"{counted(page.practices, 'practice')}, {counted(page.games, 'game')}"
    table.add_row(say(f"{page.dates}: {held}. Plan revision {page.revision}."))
    table.add_row(say(f"Plan: {page.status_words}."))
    return table


def week_lines(week: Week) -> RenderableType:
    """Return a week with everything that stands in it."""
    return Group(heading(f"Week {week.number}", week.dates), *entry_lines(week.entries))


def entry_lines(entries: Sequence[Entry]) -> Iterator[RenderableType]:
    """Yield dates, each practice with its blocks."""
    for entry in entries:
        yield entry_line(entry)
        if entry.blocks:
            yield block_table(entry.blocks)
        if entry.note:
            yield indented(say(entry.note, FAINT), 6)


def entry_line(entry: Entry) -> RenderableType:
    """Return one date: a practice with its minutes, a game, a closure or a date not held."""
    right = ""
    words = entry.text
    style = ""
    if entry.kind == "practice":
        right = f"{entry.used} of {entry.usable} min"
        words = words if entry.blocks else f"{words}: no blocks, play and recall"
    elif entry.kind == "game":
        words, style = f"GAME {words} ({entry.game})", "bold"
    elif entry.kind == "closed":
        words, style = f"closed: {words}", FAINT
    else:
        words, style = ": ".join(part for part in ("no practice", words) if part), FAINT
    table = grid(max(16, len(entry.when)), None, len(right))
    table.add_row(say(entry.when, style), say(words, style), say(right))
    return indented(table)


def block_table(blocks: Sequence[BlockLine]) -> RenderableType:
    """Return one line a block: what kind, skill, stage, which of how many, minutes."""
    table = grid(6, None, STAGE_WIDTH, 5, 6)
    for block in blocks:
        table.add_row(
            kind_word(block.kind),
            say(block.skill + (" (pinned)" if block.pinned else "")),
            say(block.stage),
            say(block.count),
            Text(f"{block.minutes} min", justify="right"),
        )
    return indented(table, 6)


def goal_table(goals: Sequence[GoalLine]) -> RenderableType:
    """Return one line a goal, under the date or game by which it is due.

    A line is outcome, skill, stage, need, taught by, slack.
    """
    head = _goal_grid()
    head.add_row(
        *(say(word, FAINT) for word in ("", "skill", "stage", "need", "taught by", "slack"))
    )
    parts: list[RenderableType] = [head]
    for due, together in groupby(goals, key=lambda goal: goal.due):
        parts.append(say(f"{due[0].upper()}{due[1:]}"))
        table = _goal_grid()
        for goal in together:
            table.add_row(
                say("MISSED" if goal.outcome == "missed" else goal.outcome, _style(goal)),
                say(goal.skill),
                say(goal.stage),
                say(goal.need),
                say(goal.taught_by),
                say(_slack(goal.slack_days)),
            )
        parts.append(table)
    return Group(*parts)


def _goal_grid() -> Table:
    return grid(6, None, STAGE_WIDTH, 6, TAUGHT_WIDTH, 8)


def _style(goal: GoalLine) -> str:
    return BAD if goal.outcome == "missed" else ""


def _slack(days: int | None) -> str:
    if days is None or days >= 0:
        return "" if days is None else f"{days} d"
    return f"{-days} d late" if days > -10 else f"{-days}d late"


def _misses(misses: Sequence[MissLine]) -> Iterator[RenderableType]:
    for miss in misses:
        yield bullets((miss.why,), "!")
        if miss.remedies:
            yield bullets(tuple(f"would help: {remedy}" for remedy in miss.remedies), indent=6)


def proof_lines(page: Agenda) -> RenderableType:
    """Return each tier with its bound, and what the season needs at the very least."""
    table = grid(None, 24, 16)
    for tier in page.tiers:
        bound = "proved best" if tier.proved else "not proved"
        reached = f"{tier.value}, at least {tier.bound}" if not tier.proved else f"{tier.value}"
        table.add_row(say(tier.name), say(reached), say(bound))
    needed = counted(page.practices_needed_at_least, "practice")
    chain = counted(page.critical_path_practices, "practice")
    words = (
        f"Everything asked for needs at least {needed}; {page.practices} are there.",
        f"The longest chain of blocks that wait for each other takes {chain}.",
    )
    return Group(table, *(say(line) for line in words))
