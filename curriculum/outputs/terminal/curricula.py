"""A club's curriculum in the terminal: matrix, verdict, and where players and teams stand."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from rich.console import Group, RenderableType
from rich.text import Text

from curriculum.club.curricula.judge import Finding, Judgement
from curriculum.club.curricula.matrix import Cell, Matrix
from curriculum.club.curricula.typical import Proof
from curriculum.club.joiners import CheckItem, Standing
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
from curriculum.wording import counted

LEGEND = "U, G, L: newly reached unopposed, guided, live; small letters: reached before."
COLUMN = 6
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
