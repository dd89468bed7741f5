"""What was recorded of a practice in the terminal: one version, all versions, a conflict."""

import datetime as dt
from collections.abc import Iterator, Sequence
from functools import partial

from rich.console import Group, RenderableType

from curriculum.insight.follows import Follows
from curriculum.models.record import BlockRecord, Conflict, Entry, Saved
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.outputs.terminal.render import (
    FAINT,
    STRONG,
    bullets,
    facts,
    grid,
    heading,
    indented,
    kind_word,
    say,
)
from curriculum.practice.words import KIND_WORD, skill_name, stage_name
from curriculum.wording import clock, counted, long_date


def record_view(saved: Saved, season: Season, library: Library) -> RenderableType:
    """Return one version of what is recorded of a practice."""
    entry = saved.entry
    parts: list[RenderableType] = [
        heading(_when(entry.date, entry.start, entry.venue, season)),
        say(_status(entry), STRONG),
    ]
    if entry.blocks:
        parts.append(indented(_blocks(entry.blocks, library)))
    parts.append(facts(("Absent", ", ".join(entry.absent)), ("Note", entry.note)))
    return Group(*parts, say(_stamp(saved), FAINT))


def history_view(submissions: Sequence[Saved], season: Season, library: Library) -> RenderableType:
    """Return all submissions in the order in which they came."""
    if not submissions:
        return say("Nothing is recorded.")
    parts: list[RenderableType] = []
    for saved in submissions:
        parts += [record_view(saved, season, library), say("")]
    return Group(*parts, say(f"{counted(len(submissions), 'submission')}."))


def conflict_view(conflict: Conflict, season: Season, library: Library) -> RenderableType:
    """Return what stands instead of a submission that came too late, and what to do."""
    parts: list[RenderableType] = [
        heading("Not recorded: somebody else was first"),
        say("This stands:" if conflict.standing else "No version of this practice stands."),
    ]
    again = 0
    if conflict.standing:
        parts += [say(""), record_view(conflict.standing, season, library)]
        again = conflict.standing.version or 0
    return Group(
        *parts,
        say(""),
        say(
            "Yours is kept in the history and counts for nothing. If it is right all the same, "
            f"record it again with --version {again}."
        ),
    )


def follows_view(follows: Follows, library: Library) -> RenderableType:
    """Return what an entry asks of the next plan."""
    if follows.nothing:
        return say("All went as planned.")
    stage = partial(stage_name, library)
    lines = [f"{stage(node)}: one block more at this stage" for node in follows.more]
    lines += [f"{stage(node)}: this block is still to be held" for node in follows.due]
    lines += [f"{skill_name(library, skill)}: its review is due again" for skill in follows.reviews]
    return Group(heading("What follows"), bullets(lines))


def _when(date: dt.date, start: dt.time, venue: str, season: Season) -> str:
    name = next((each.name for each in season.venue if each.id == venue), venue)
    return f"{long_date(date)}, {clock(start)}, {name}"


def _status(entry: Entry) -> str:
    if entry.status == "lost":
        return f"Lost: {entry.reason}."
    if entry.status == "shortened":
        return f"Shortened: {entry.minutes_held} of {entry.minutes} minutes held."
    return f"Held, {entry.minutes} minutes."


def _stamp(saved: Saved) -> str:
    what = f"version {saved.version}" if saved.version else f"set aside, made over {saved.over}"
    by = f" by {saved.entry.by}" if saved.entry.by else ""
    return f"{what}, saved {saved.at:%Y-%m-%d %H:%M} UTC{by}"


def _blocks(blocks: Sequence[BlockRecord], library: Library) -> RenderableType:
    table = grid(2, 6, None, 9, 18)
    for number, block in enumerate(blocks, start=1):
        name = skill_name(library, block.skill)
        table.add_row(
            say(f"{number}"),
            kind_word(KIND_WORD[block.kind]),
            say(name if block.planned else f"{name} (beside the plan)"),
            say(block.stage),
            say(", ".join(_outcome(block))),
        )
    return table


def _outcome(block: BlockRecord) -> Iterator[str]:
    yield {"held": "held", "partly": "partly held", "not held": "not held"}[block.held]
    if block.went:
        yield block.went
