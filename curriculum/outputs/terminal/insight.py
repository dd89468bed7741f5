"""Progress and load in the terminal."""

import datetime as dt
from collections.abc import Iterator, Sequence

from rich.console import Group, RenderableType

from curriculum.insight.absences import Missed
from curriculum.insight.load import Asks, Load, WeekLoad
from curriculum.insight.progress import Progress, StageProgress, StrandMinutes
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.outputs.terminal.render import BAD, FAINT, bullets, facts, grid, heading, say
from curriculum.practice.words import skill_name
from curriculum.wording import counted, short_date


def progress_view(
    page: Progress, missed: Sequence[Missed], season: Season, library: Library
) -> RenderableType:
    """Return how far each skill is, the minutes by strand, and who missed an introduction."""
    title = f"{season.team.name}, {season.season.name}, before {short_date(page.before)}"
    parts: list[RenderableType] = [heading("Progress", title), say(page.recorded.says)]
    shown = [each for each in page.stages if each.planned or each.held]
    strand = ""
    for stage in shown:
        if stage.strand != strand:
            strand = stage.strand
            parts += [say(""), heading(strand), _stage_head()]
        parts.append(_stage(stage))
    waiting = len(page.stages) - len(shown)
    if waiting:
        parts += [say(""), say(f"{counted(waiting, 'stage')} still to come.", FAINT)]
    parts += [say(""), heading("Minutes taught", "a block partly held counts half")]
    parts.append(_minutes(page.strands))
    if missed:
        aside = "for the coach alone"
        parts += [say(""), heading("Missed an introduction", aside), _missed(missed, library)]
    return Group(*parts)


_WIDTHS = (None, 9, 7, 5, 7, 10, 10, 4)


def _stage_head() -> RenderableType:
    table = grid(*_WIDTHS)
    words = ("skill", "stage", "", "held", "last", "promised", "now", "days")
    table.add_row(*(say(word, FAINT) for word in words))
    return table


def _stage(stage: StageProgress) -> RenderableType:
    table = grid(*_WIDTHS)
    late = stage.late or 0
    table.add_row(
        say(stage.name),
        say(stage.stage),
        say(stage.state),
        say(f"{stage.held}/{stage.asked}"),
        say(stage.went or ""),
        say(_date(stage.promised)),
        say(_date(stage.now) or "no date"),
        say(f"{late:+}" if late else "", BAD if late > 0 else ""),
    )
    return table


def _date(day: dt.date | None) -> str:
    return short_date(day) if day else ""


def _minutes(strands: Sequence[StrandMinutes]) -> RenderableType:
    table = grid(None, 14, 8, 8)
    words = ("strand", "planned so far", "taught", "to come")
    table.add_row(*(say(word, FAINT) for word in words))
    for each in strands:
        numbers = (each.planned, each.taught, each.to_come)
        table.add_row(say(each.strand), *(say(f"{number:>4}") for number in numbers))
    return table


def _missed(missed: Sequence[Missed], library: Library) -> RenderableType:
    table = grid(12, None, 10, 22)
    for each in missed:
        since = f"there on {short_date(each.since)}" if each.since else "not yet, by the record"
        name = skill_name(library, each.skill)
        table.add_row(say(each.player), say(name), say(short_date(each.date)), say(since))
    return table


def load_view(page: Load, season: Season) -> RenderableType:
    """Return the load of each week, what is asked by whom, and the caution that belongs to it."""
    title = f"{season.team.name}, {season.season.name}; the youngest player is {page.youngest}"
    parts: list[RenderableType] = [heading("Weekly load", title)]
    if page.asks is None:
        parts.append(say("The rules chosen say nothing of this age."))
    else:
        parts.append(
            facts(
                ("Asked for", f"{page.asks.says}."),
                ("Source", page.asks.source + "."),
                ("Known how", page.asks.certainty + "."),
            )
        )
    parts += [say(""), _weeks(page.weeks), say("")]
    if page.asks:
        over = sum(bool(week.faults) for week in page.weeks)
        kept = "Every week keeps what is asked for."
        parts.append(say(f"{counted(over, 'week')} to look at." if over else kept))
    if page.months:
        parts.append(say(f"{page.months[:1].upper()}{page.months[1:]}."))
    if page.conflicts:
        parts += [say(""), heading("Bodies differ at this age"), bullets(page.conflicts)]
    if page.others:
        parts += [say(""), heading("The others"), bullets(_sources(page.others))]
    parts += [say(""), heading("Care"), bullets(page.cautions)]
    return Group(*parts)


def _sources(others: Sequence[Asks]) -> Iterator[str]:
    for each in others:
        yield f"{each.source}. Known how: {each.certainty}."


def _weeks(weeks: Sequence[WeekLoad]) -> RenderableType:
    table = grid(4, 10, 6, 7, 22, None)
    words = ("week", "Monday", "hours", "without", "what", "")
    table.add_row(*(say(word, FAINT) for word in words))
    for week in weeks:
        what = [
            counted(number, noun)
            for number, noun in ((week.practices, "practice"), (week.games, "game"))
            if number
        ]
        how = f"{week.recorded} of {week.practices} recorded" if week.past else "to come"
        table.add_row(
            say(f"{week.number:>3}"),
            say(short_date(week.monday)),
            say(f"{week.minutes // 60}:{week.minutes % 60:02}"),
            say(counted(week.rest, "day")),
            say(", ".join(what) or "nothing"),
            say("; ".join(week.faults), BAD) if week.faults else say(how, FAINT),
        )
    return table
