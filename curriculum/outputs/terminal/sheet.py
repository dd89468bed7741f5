"""One practice in the terminal, as its sheet says it."""

from collections.abc import Sequence

from rich.console import Group, RenderableType

from curriculum.outputs.terminal.render import (
    FAINT,
    STRONG,
    bullets,
    facts,
    grid,
    heading,
    indented,
    say,
)
from curriculum.practice.exercise import Exercise, Version
from curriculum.practice.goals import GoalLine
from curriculum.practice.rows import Row
from curriculum.practice.sheet import Sheet
from curriculum.wording import counted

TIME = 12
LABEL = 13


def sheet_view(sheet: Sheet) -> RenderableType:
    """Return a sheet to be read in the gym from a phone or a laptop."""
    place = ", ".join(words for words in (sheet.venue, sheet.address, sheet.court) if words)
    parts: list[RenderableType] = [
        heading(sheet.title),
        say(f"{sheet.team}: practice {sheet.number} of {sheet.of}, week {sheet.week}"),
        say(f"{sheet.day}, {sheet.start} to {sheet.end}, {sheet.minutes} min"),
        say(f"{place}. {sheet.expected} players expected."),
    ]
    if sheet.note:
        parts.append(say(sheet.note, STRONG))
    if sheet.kit:
        parts.append(say(f"Bring {', '.join(sheet.kit)}."))
    if sheet.aims:
        parts += [say(""), heading("Today we want to see"), bullets(sheet.aims, "□")]
    for row in sheet.rows:
        parts += [say(""), _row(row)]
    change = max((row.changeover for row in sheet.rows), default=0)
    if change:
        parts += [say(""), say(f"+{change} min: time to change over", FAINT)]
    parts += [say(""), facts(*_ahead(sheet))]
    parts += [say(""), facts(("Adults", sheet.supervision), ("Care", " ".join(sheet.cautions)))]
    return Group(*parts)


def _row(row: Row) -> RenderableType:
    minutes = f"{row.minutes} min" + (f" +{row.changeover}" if row.changeover else "")
    table = grid(5, TIME, 9, None)
    title = row.title if row.number is None else f"{row.number}  {row.title}"
    table.add_row(say(row.clock, STRONG), say(minutes), say(row.kind, STRONG), say(title, STRONG))
    lines = [say(line) for line in _words(row)]
    told = facts(
        *(_drill(row.drill) if row.drill else [("Drill", row.own_drill)]),
        ("Coach it", "; ".join(row.cues)),
        ("Watch for", "; ".join(row.faults)),
        ("Catch up", row.catch_up),
        ("Source", row.source),
        width=LABEL,
    )
    return Group(table, indented(Group(*lines, told), 5 + TIME + 2))


def _words(row: Row) -> Sequence[str]:
    if row.number is None:
        return (" ".join(row.tells),) if row.tells else ()
    why = f" {' '.join(row.tells)}" if row.tells else ""
    stage = f"{row.stage}: {row.stage_means}; {row.count}"
    return (stage, f"{row.strand or 'no strand'}; {row.last_time}.{why}")


def _drill(drill: Exercise) -> list[tuple[str, str]]:
    told = [
        ("Drill", f"{drill.name} ({drill.numbers})"),
        ("", drill.how),
        ("Rule", drill.rule),
        ("Groups", drill.groups),
        ("Rotate", drill.rotation),
        ("Coaches", drill.coaches),
        ("Bring", ", ".join(drill.kit.words)),
    ]
    told += [_version(version) for version in drill.versions]
    return [*told, ("Care", ". ".join(drill.cautions))]


def _version(version: Version) -> tuple[str, str]:
    if not version.group:
        return version.level.capitalize(), version.words
    words = f"{version.level}: {version.words}" if version.words else version.level
    return version.group, words


def _ahead(sheet: Sheet) -> list[tuple[str, str]]:
    lines = [("Goals", "; ".join(_goal(goal) for goal in sheet.goals))]
    if sheet.next_game:
        game = sheet.next_game
        # The date of the game has just been said; only one that comes before it is worth a word.
        due = "; ".join(
            f"{_asked(goal)}: {goal.promise}" if goal.by == game.date else _goal(goal)
            for goal in game.goals
        )
        lines.append(("Next game", f"{game.when}, {game.against}, in {counted(game.days, 'day')}"))
        lines.append(("Due by then", due))
    if sheet.next_practice:
        following = sheet.next_practice
        words = "; ".join(following.blocks) or "no blocks"
        lines.append(("Next time", f"{following.when}: {words}"))
    return lines


def _goal(goal: GoalLine) -> str:
    return f"{_asked(goal)}, {goal.due}: {goal.promise}"


def _asked(goal: GoalLine) -> str:
    return f"{goal.skill}, {goal.stage}, {goal.need}"
