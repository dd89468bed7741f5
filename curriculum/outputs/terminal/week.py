"""One week in the terminal, minute by minute."""

from rich.console import Group, RenderableType

from curriculum.gym.practices import Gym
from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.outputs.terminal.render import (
    FAINT,
    STRONG,
    grid,
    heading,
    indented,
    kind_word,
    say,
)
from curriculum.outputs.terminal.season import entry_line
from curriculum.practice.agenda import block_lines, weeks
from curriculum.practice.layout import layout
from curriculum.wording import clock


def week_view(
    plan: Plan, season: Season, library: Library, gym: Gym, number: int
) -> RenderableType:
    """Return a week of the season; a week in which nothing stands says so.

    Raises FaultyInputError when the blocks of a practice do not fit into its gym time.
    """
    week = next((each for each in weeks(plan, season, library, gym) if each.number == number), None)
    if week is None:
        return say(f"Week {number} of {season.season.name}: nothing stands in it.")
    parts: list[RenderableType] = [heading(f"Week {number}", week.dates)]
    for entry in week.entries:
        parts += [say(""), entry_line(entry)]
        if entry.practice:
            parts.append(_minutes(plan, library, gym, entry.practice))
        if entry.note:
            parts.append(indented(say(entry.note, FAINT), 4))
    return Group(*parts)


def _minutes(plan: Plan, library: Library, gym: Gym, practice_id: str) -> RenderableType:
    planned = next(each for each in plan.practices if each.id == practice_id)
    practice = next((each for each in gym.practices if each.id == practice_id), None)
    if practice is None:
        return say("      not in the gym calendar any more: plan again", STRONG)
    lines = block_lines(planned, library)
    table = grid(5, 6, 6, None, 9, 5)
    for part in layout(practice, planned, library):
        minutes = f"{part.minutes:2} min"
        if part.block is None:
            row = (say(""), say(part.title), say(""), say(""))
        else:
            line = lines[part.block]
            row = (kind_word(line.kind), say(line.skill), say(line.stage), say(line.count))
        table.add_row(say(clock(part.start)), say(minutes), *row)
    return indented(table, 4)
