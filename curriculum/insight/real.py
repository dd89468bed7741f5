"""Blocks as they really were, practice by practice: the record where it speaks, else the plan."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass

from curriculum.models.plan import Plan
from curriculum.models.record import BlockRecord, Record


@dataclass(frozen=True)
class Real:
    """One block of a past practice. recorded: False where it only counts as held as planned."""

    date: dt.date
    practice: str
    block: BlockRecord
    recorded: bool


def real_blocks(record: Record, plan: Plan | None, before: dt.date) -> tuple[Real, ...]:
    """Return the blocks of the practices before a date, in order of time.

    Those that were planned and not held are among them.
    """
    found = sorted(
        _blocks(record, plan, before), key=lambda each: (each[0], each[1], each[2].practice)
    )
    return tuple(real for _, _, real in found)


def _blocks(
    record: Record, plan: Plan | None, before: dt.date
) -> Iterator[tuple[dt.date, dt.time, Real]]:
    for entry in record.entries:
        if entry.date < before:
            for block in entry.blocks:
                real = Real(entry.date, entry.practice, block, recorded=True)
                yield entry.date, entry.start, real
    for practice in plan.practices if plan else ():
        if practice.date < before and record.of(practice.id) is None:
            for planned in practice.blocks:
                block = BlockRecord(**planned.model_dump(exclude={"drill", "pinned"}))
                real = Real(practice.date, practice.id, block, recorded=False)
                yield practice.date, practice.start, real
