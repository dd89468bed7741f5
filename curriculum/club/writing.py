"""The text of the files that the program writes into a club folder; people may edit them."""

from collections.abc import Iterable
from itertools import groupby

from curriculum.models.club import ClubCurriculum, ClubSlots
from curriculum.models.skills import STAGES

LINE = 96
"""Columns of a line, as far as ids allow it."""


def slots_text(slots: ClubSlots) -> str:
    """Return `slots.toml`."""
    lines = [
        "# The club's weekly gym times, shared out by `curriculum club allocate`.",
        "# Edit it if you like; the next allocation changes as little of it as it can.",
        "",
    ]
    for _, times in groupby(slots.slot, key=lambda slot: slot.team):
        for slot in times:
            lines += [
                "[[slot]]",
                f'team = "{slot.team}"',
                f'weekday = "{slot.weekday}"',
                f"start = {slot.start:%H:%M:%S}",
                f"minutes = {slot.minutes}",
                f'gym = "{slot.gym}"',
                f"number = {slot.number}",
                f'court = "{slot.court}"',
                "",
            ]
    return "\n".join(lines)


def curriculum_text(curriculum: ClubCurriculum, names: dict[str, str]) -> str:
    """Return `curriculum.toml`; names: of the age groups, by id."""
    lines = [
        "# What each age group newly reaches by its season's end, beyond the younger groups.",
        "# A team's season takes its goals from here unless its own file states some.",
        "# After every change:  curriculum club curriculum",
        "",
    ]
    for reach in curriculum.reach:
        lines += [
            f"[[reach]]   # {names.get(reach.age_group, reach.age_group)}",
            f'age_group = "{reach.age_group}"',
            f'need = "{reach.need}"',
        ]
        for stage in STAGES:
            skills = getattr(reach, stage)
            if skills:
                lines += [f"{stage} = [", *_wrapped(skills), "]"]
        lines.append("")
    return "\n".join(lines)


def _wrapped(skills: Iterable[str]) -> list[str]:
    lines = [" "]
    for skill in skills:
        item = f' "{skill}",'
        if len(lines[-1]) + len(item) > LINE:
            lines.append(" ")
        lines[-1] += item
    return [f"  {line.strip()}" for line in lines]
