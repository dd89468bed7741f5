"""Problems and differences between plans in the terminal."""

import datetime as dt
from collections.abc import Iterable, Sequence

from rich.console import Group, RenderableType

from curriculum.outputs.terminal.render import (
    BAD,
    FAINT,
    STRONG,
    bullets,
    facts,
    grid,
    heading,
    say,
)
from curriculum.practice.difference import (
    BlockChange,
    PracticeChange,
    WordedDifference,
)
from curriculum.practice.soon import sooner, whole
from curriculum.problems import Problem, errors
from curriculum.wording import counted


def problems_view(problems: Iterable[Problem]) -> RenderableType:
    """Return every problem with its place, what was found and the way out; then how many."""
    found = sorted(problems)
    if not found:
        return say("No problems found.")
    parts: list[RenderableType] = []
    for problem in found:
        place = f"{problem.file}:{problem.line}" if problem.line else problem.file
        label = problem.level.upper() if problem.level == "error" else problem.level
        line = say(f"{label}  ", BAD if problem.level == "error" else STRONG)
        line.append_text(say(" ".join(words for words in (place, problem.key) if words)))
        parts += [
            line,
            facts(
                ("", problem.says + "."),
                ("  found", problem.found),
                ("  way out", problem.way_out),
                width=9,
            ),
            say(""),
        ]
    wrong = len(errors(found))
    counts = (counted(wrong, "error"), counted(len(found) - wrong, "warning"))
    parts.append(say(", ".join(words for words in counts if not words.startswith("0 ")), STRONG))
    return Group(*parts)


def difference_view(found: WordedDifference, today: dt.date | None = None) -> RenderableType:
    """Return what changes from one plan to the next; today: as in `difference_parts`."""
    title = heading(f"Revision {found.old_revision} to {found.new_revision}")
    if not found.changes and found.old_revision < found.new_revision:
        # What raises a revision is more than what is compared: a sheet tells an order, too.
        return Group(title, say("Every block keeps its practice; sheets differ in order or words."))
    return Group(title, *difference_parts(found, today))


def difference_parts(found: WordedDifference, today: dt.date | None) -> list[RenderableType]:
    """Return each kind of change under its heading; what matters most stands last, in sight.

    today: from when on what comes soon is told in full and what comes later counted; None tells
    everything.
    """
    if not found.changes:
        return [say("Nothing changes.")]
    parts: list[RenderableType] = []
    told = sooner(found, today) if today else whole(found)
    for name, every, changes, more in (
        ("Practices", found.practices, told.practices, told.practices_words),
        ("Blocks", found.blocks, told.blocks, told.blocks_words),
    ):
        if every:
            parts += [say(""), heading(name, counted(len(every), "change")), _changes(changes)]
            parts += [say(f"and {more}: `curriculum plan --all` shows them", FAINT)] if more else []
    for name, goals, sign in (
        ("Goals won", found.goals_won, "-"),
        ("No longer at risk", found.safe_again, "-"),
        ("Newly at risk", found.newly_at_risk, "!"),
        ("Goals lost", found.goals_lost, "!"),
    ):
        if goals:
            parts += [say(""), heading(name), bullets(goals, sign)]
    return parts


def _changes(changes: Sequence[BlockChange | PracticeChange]) -> RenderableType:
    table = grid(5, None)
    for change in changes:
        dates = " to ".join(words for words in (change.was, change.now) if words)
        block = f"{change.block}: " if isinstance(change, BlockChange) else ""
        table.add_row(say(change.what, STRONG), say(f"{block}{dates}"))
    return table
