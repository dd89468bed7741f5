"""A club in the terminal: its curriculum, weekly gym times, clashes and the page of a week."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from curriculum.club.allocate.allocate import Allocation
from curriculum.club.clashes import TeamClash
from curriculum.club.curricula.judge import Finding, Judgement
from curriculum.club.curricula.matrix import Cell, Matrix
from curriculum.club.curricula.typical import Proof
from curriculum.club.joiners import CheckItem, Standing
from curriculum.club.page import ClubPage, Lesson, TightGoal
from curriculum.models.club import Club, TeamSlot
from curriculum.models.season import WEEKDAYS
from curriculum.outputs.terminal.render import (
    BAD,
    FAINT,
    STRONG,
    bullets,
    grid,
    heading,
    indented,
    say,
)
from curriculum.practice.words import STAGE_LETTER
from curriculum.spans import DAY
from curriculum.wording import counted, date_range, short_date

LEGEND = "U, G, L: newly reached unopposed, guided, live; small letters: reached before."
COLUMN = 6
MOST_REMEDIES = 8
MOST_NAMED = 5


def matrix_view(matrix: Matrix) -> RenderableType:
    """Return skills by age groups, strand by strand, with the legend."""
    parts: list[RenderableType] = [say(LEGEND, FAINT)]
    for strand, rows in groupby(matrix.rows, key=lambda row: row.strand):
        table = grid(None, *(COLUMN for _ in matrix.groups))
        table.add_row(heading(strand), *(say(group, FAINT) for group, _ in matrix.groups))
        for row in rows:
            table.add_row(say(f"  {row.name}"), *(_cell(cell) for cell in row.cells))
        parts += [say(""), table]
    return Group(*parts)


def _cell(cell: Cell | None) -> Text:
    if cell is None:
        return say("")
    letter = STAGE_LETTER[cell.stage]
    return say(letter, STRONG) if cell.new else say(letter.lower(), FAINT)


def judgement_view(judgement: Judgement, matrix: Matrix) -> RenderableType:
    """Return what a curriculum's hours hold, what is wrong with it, and what is never taught."""
    names = dict(matrix.groups)
    table = grid(12, 7, 12, 14, None)
    titles = ("", "goals", "min needed", "of min there", "all reached in a typical season")
    table.add_row(*(say(word, FAINT) for word in titles))
    for proof in judgement.proofs:
        table.add_row(say(names[proof.group]), *_hours(proof))
    parts: list[RenderableType] = [heading("Hours, by a scheduled season of each group"), table]
    parts.append(say(""))
    if judgement.findings:
        parts.append(heading("What does not fit"))
        parts += _findings(judgement.findings)
    else:
        parts.append(say("Needs, order, ages and hours all fit."))
    parts.append(say(""))
    if judgement.never:
        parts.append(say(f"Never taught: {_nodes(judgement.never)}."))
    else:
        parts.append(say("Every stage of the library is taught to somebody."))
    return Group(*parts)


def _hours(proof: Proof) -> tuple[Text, ...]:
    if not proof.asked:
        words = "nothing new"
    elif proof.late:
        words = f"no: {counted(len(proof.late), 'goal')} missed"
    else:
        words = f"by practice {proof.last} of {proof.practices}"
    used = f"{proof.usable} ({proof.share} %)"
    style = BAD if proof.late else ""
    return say(str(proof.asked)), say(str(proof.needed)), say(used), say(words, style)


def _findings(findings: Sequence[Finding]) -> Iterator[RenderableType]:
    """Yield findings as bullets; those of one published source stand together above it."""
    own = [each for each in findings if not each.source]
    if own:
        yield Group(*(_finding(each) for each in own))
    sourced = sorted((each for each in findings if each.source), key=lambda each: each.source)
    for source, group in groupby(sourced, key=lambda each: each.source):
        yield Group(*(_finding(each) for each in group))
        yield indented(say(source, FAINT), 6)


def _finding(finding: Finding) -> RenderableType:
    return bullets((f"{finding.group}: {finding.says}",), "!" if finding.error else "-")


def _nodes(nodes: Iterable[tuple[str, str]]) -> str:
    return ", ".join(f"{skill} ({stage})" for skill, stage in nodes)


def _few(nodes: Sequence[tuple[str, str]]) -> str:
    more = len(nodes) - MOST_NAMED
    return _nodes(nodes[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


def allocation_view(club: Club, allocation: Allocation) -> RenderableType:
    """Return the weekly gym times day by day, what is lacking and why, and the proof."""
    parts: list[RenderableType] = []
    for number, weekday in enumerate(WEEKDAYS):
        slots = [slot for slot in allocation.slots.slot if slot.weekday == weekday]
        if slots:
            parts += [heading(WEEKDAYS[number].capitalize()), _slots(club, slots), say("")]
    if allocation.lacks:
        parts.append(heading("Not all that was asked for"))
        parts.append(bullets(_lacks(allocation), "!"))
    if allocation.clash is not None:
        parts += _clash(allocation)
    if allocation.lacks or allocation.clash is not None:
        parts.append(say(""))
    if allocation.added or allocation.dropped:
        parts.append(heading("Against last term"))
        names = {team.id: team.name for team in club.team}
        parts.append(bullets((_slot(names, slot) for slot in allocation.dropped), "-"))
        parts.append(bullets((_slot(names, slot) for slot in allocation.added), "+"))
        parts.append(say(""))
    parts.append(heading("Proof"))
    parts.append(_proof(allocation))
    return Group(*parts)


def _slots(club: Club, slots: Sequence[TeamSlot]) -> RenderableType:
    names = {team.id: team.name for team in club.team}
    gyms = {gym.id: gym for gym in club.gym}
    table = grid(11, None, 28, 10)
    order = [gym.id for gym in club.gym]
    for slot in sorted(slots, key=lambda s: (order.index(s.gym), s.number, s.start, s.team)):
        court = f", court {slot.number}" if gyms[slot.gym].courts > 1 else ""
        table.add_row(
            say(_slot_hours(slot)),
            say(names[slot.team]),
            say(f"{gyms[slot.gym].name}{court}"),
            say("half court" if slot.court == "half" else ""),
        )
    return indented(table)


def _slot_hours(slot: TeamSlot) -> str:
    end = slot.start.hour * 60 + slot.start.minute + slot.minutes
    return f"{slot.start:%H:%M}-{end // 60:02}:{end % 60:02}"


def _slot(names: dict[str, str], slot: TeamSlot) -> str:
    return f"{names.get(slot.team, slot.team)}: {slot.weekday.capitalize()} {_slot_hours(slot)}"


def _lacks(allocation: Allocation) -> Iterator[str]:
    for lack in allocation.lacks:
        practices = f"{counted(lack.practices, 'practice')} too few" if lack.practices else ""
        minutes = f"{counted(lack.minutes, 'minute')} too short" if lack.minutes else ""
        yield f"{lack.name}: {', '.join(part for part in (practices, minutes) if part)}"


def _clash(allocation: Allocation) -> Iterator[RenderableType]:
    clash = allocation.clash
    if clash is None:
        return
    words = "these teams cannot all have what they ask for"
    any_fewer = ", and without any one of them the others could" if clash.smallest else ""
    yield say(f"Why: {words}{any_fewer}:")
    yield bullets(clash.teams)
    yield say(f"{clash.why[:1].upper()}{clash.why[1:]}.")
    if clash.remedies:
        shown = [
            f"{each.words}{'' if each.everyone else ' (others in the club still lack something)'}"
            for each in clash.remedies[:MOST_REMEDIES]
        ]
        more = len(clash.remedies) - len(shown)
        yield say("Each of these was tried, and by itself lets all of them have it:")
        yield bullets((*shown, *([f"and {more} more"] if more else [])))


def _proof(allocation: Allocation) -> Table:
    table = grid(None, 14, 18)
    for tier in allocation.tiers:
        words = "proved best" if tier.proved else f"gap at most {tier.gap} %"
        value = f"{tier.value}" if tier.proved else f"{tier.value}, bound {tier.bound}"
        table.add_row(say(tier.name), say(value), say(words))
    if allocation.engine == "greedy":
        table.add_row(say("found without a solver; bounds come from counting alone", FAINT))
    return table


def clashes_view(clashes: Sequence[TeamClash]) -> RenderableType:
    """Return clashes between teams, one a bullet."""
    if not clashes:
        return say("No two teams clash: no court is taken twice, no coach is in two places.")
    number = counted(len(clashes), "clash").replace("clashs", "clashes")
    return Group(heading(number), bullets((clash.words for clash in clashes), "!"))


def page_view(page: ClubPage) -> RenderableType:
    """Return a club's week: practices day by day, goals in danger, gyms and load."""
    dates = date_range(page.monday, page.monday + 6 * DAY)
    parts: list[RenderableType] = [heading(page.club, dates)]
    for day, lessons in groupby(page.lessons, key=lambda lesson: lesson.date):
        parts += [say(""), heading(short_date(day)), *(_lesson(lesson) for lesson in lessons)]
    if not page.lessons:
        parts += [say(""), say("No practice and no home game this week.")]
    parts += _dangers(page)
    parts += [say(""), heading("Gyms this week")]
    table = grid(None, 30)
    for use in page.gyms:
        table.add_row(say(use.gym), say(f"{use.used} of {use.there} court min, {use.share} %"))
    parts.append(indented(table))
    if page.load:
        parts += [say(""), heading("Load"), bullets(page.load, "!")]
    if page.without_plan:
        parts += [say(""), say(f"Without a plan yet: {', '.join(page.without_plan)}.")]
    return Group(*parts)


def _dangers(page: ClubPage) -> Iterator[RenderableType]:
    """Yield the goals that are missed and those at risk, with what was tried."""
    missed = [goal for goal in page.tight if goal.days is None or goal.days < 0]
    yield from (say(""), heading("Goals missed"))
    yield bullets((_goal(goal) for goal in missed), "!") if missed else say("  None.")
    if page.tried is None:
        return
    checked, remaining = page.tried
    of = f"each of {remaining}" if checked == remaining else f"{checked} of {remaining}"
    yield from (say(""), heading("At risk", f"tried: the loss of {of} practices"))
    for team, risks in groupby(page.risks, key=lambda risk: risk.team):
        yield indented(say(team))
        yield bullets((risk.says for risk in risks), "!", indent=4)
    if not page.risks:
        yield say("  No goal is missed when a single practice is lost.")
    if checked < remaining:
        words = "The nearest were tried first; `curriculum plan` looks further into one team's."
        yield say(f"  {words}", FAINT)


def _lesson(lesson: Lesson) -> RenderableType:
    court = f", court {lesson.number}" if lesson.number else ""
    table = grid(11, 16, 14, None)
    table.add_row(
        say(lesson.hours),
        say(lesson.team),
        say(", ".join(lesson.coaches), FAINT),
        say(f"{lesson.gym}{court}", FAINT),
    )
    if not lesson.what:
        return indented(table)
    return Group(indented(table), indented(say("; ".join(lesson.what)), 14))


def _goal(goal: TightGoal) -> str:
    taught = (
        "not in the plan"
        if goal.days is None
        else f"taught {counted(goal.days, 'day')} before"
        if goal.days >= 0
        else f"taught {counted(-goal.days, 'day')} late"
    )
    due = short_date(goal.by)
    return f"{goal.team}: {goal.skill}, {goal.stage} ({goal.need}), due {due}, {taught}"


def joiner_view(group: str, items: Sequence[CheckItem]) -> RenderableType:
    """Return what to check with a player who joins an age group."""
    if not items:
        return say("Nothing to catch up: the club's younger groups reach nothing more.")
    parts: list[RenderableType] = [
        heading(f"To check with a player who joins {group}", counted(len(items), "skill"))
    ]
    for item in items:
        table = grid(1, None, 10, 16)
        effort = f"{counted(item.blocks, 'block')}, {item.minutes} min"
        table.add_row(say("□"), say(item.name), say(item.stage), say(effort, FAINT))
        parts.append(table)
        if item.cues:
            parts.append(indented(say("; ".join(item.cues), FAINT), 4))
    return Group(*parts)


def standing_view(standings: Sequence[tuple[str, Standing]]) -> RenderableType:
    """Return where teams stand against their age groups, one line a team."""
    if not standings:
        return say("No team has a plan yet; `curriculum club plan` makes them.")
    table = grid(18, None)
    for name, each in standings:
        words = [f"{each.asked - len(each.behind)} of {each.asked} stages of its age group"]
        words += [f"behind: {_few(each.behind)}"] if each.behind else []
        words += [f"ahead: {_few(each.ahead)}"] if each.ahead else []
        words += [f"again from new: {_few(each.again)}"] if each.again else []
        table.add_row(say(name), say("; ".join(words)))
    return table
