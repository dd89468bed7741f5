"""Why a skill is taught when it is: each block with what keeps it from earlier practices."""

from collections.abc import Iterator, Sequence

from rich.console import Group, RenderableType

from curriculum.models.skills import Library
from curriculum.outputs.terminal.render import FAINT, bullets, heading, indented, say
from curriculum.practice.words import KIND_WORD, skill_name
from curriculum.schedule.explain.costs import Waiting
from curriculum.schedule.explain.why import BlockWhy, Earlier, Why
from curriculum.wording import date_range, short_date


def why_view(found: Why, library: Library) -> RenderableType:
    """Return the answer about a skill: its blocks, what waits for it, what losing it costs."""
    parts: list[RenderableType] = [heading(found.name)]
    if found.note:
        parts.append(say(f"{found.note}."))
    for block in found.blocks:
        parts += [say(""), *_block(block)]
    if found.unlocks:
        parts += [say(""), heading("Waits for it"), bullets(_unlocked(found.unlocks, library))]
    if found.losing:
        parts += [say(""), heading("Without it"), bullets(found.losing)]
    return Group(*parts)


def _block(block: BlockWhy) -> Iterator[RenderableType]:
    kind = KIND_WORD[block.kind].lower()
    title = f"{short_date(block.date)}: {block.stage}, block {block.number} of {block.of} ({kind})"
    yield say(title)
    if not block.earlier:
        yield indented(say("It stands in the first practice that is left.", FAINT))
    else:
        yield indented(say("Why not earlier?", FAINT))
        yield bullets((_reason(each) for each in block.earlier), indent=4)


def _reason(each: Earlier) -> str:
    """Return the dates, the rule, what it says there, and what came of trying it."""
    dates = date_range(each.first, each.last)
    rule = f" {each.rule}:" if each.rule else ""
    tried = f"; {each.tried}" if each.tried else ""
    return f"{dates}:{rule} {each.says}{tried}."


def _unlocked(waiting: Sequence[Waiting], library: Library) -> Iterator[str]:
    """Yield one line a skill: its stages that wait, each with the date on which it starts."""
    stages: dict[str, list[str]] = {}
    for each in waiting:
        when = f"from {short_date(each.date)}" if each.date else "not taught in this plan"
        stages.setdefault(each.node[0], []).append(f"{each.node[1]} {when}")
    for skill, lines in stages.items():
        yield f"{skill_name(library, skill)}: {', '.join(lines)}"
