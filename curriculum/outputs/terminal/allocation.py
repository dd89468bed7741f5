"""A club's weekly gym times in the terminal, what they lack and why."""

from collections.abc import Iterator, Sequence

from rich.console import Group, RenderableType
from rich.table import Table

from curriculum.club.allocate.allocate import Allocation
from curriculum.models.club import Club, TeamSlot
from curriculum.models.gymtimes import WEEKDAYS
from curriculum.outputs.terminal.render import (
    FAINT,
    bullets,
    grid,
    heading,
    indented,
    say,
)
from curriculum.wording import counted

MOST_REMEDIES = 8


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
