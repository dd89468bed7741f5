"""The record for other programs: a table of what stands, and all submissions as data."""

import csv
import io
from collections.abc import Iterable, Iterator

from curriculum.models.record import BlockRecord, Entry, Saved

COLUMNS = (
    "practice",
    "date",
    "start",
    "venue",
    "status",
    "reason",
    "minutes_planned",
    "minutes_held",
    "absent",
    "note",
    "by",
    "version",
    "saved",
    "skill",
    "stage",
    "kind",
    "number",
    "of",
    "block_minutes",
    "planned",
    "held",
    "went",
)
"""The columns of the table: those of the practice, then those of one block."""

FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""What makes a spreadsheet take a text for a formula (OWASP, "CSV Injection")."""


def csv_text(practices: Iterable[Saved]) -> str:
    """Return a table with a row for each block, and one for a practice without any.

    A text that a spreadsheet would take for a formula gets an apostrophe before it. Lines end in
    CR LF (RFC 4180).
    """
    page = io.StringIO()
    writer = csv.writer(page, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for saved in practices:
        for block in saved.entry.blocks or (None,):
            writer.writerow([_safe(each) for each in (*_practice(saved), *_block(block))])
    return page.getvalue()


def history_data(submissions: Iterable[Saved]) -> list[dict[str, object]]:
    """Return submissions as plain data, as `record.db` holds them."""
    return [saved_data(saved) for saved in submissions]


def saved_data(saved: Saved) -> dict[str, object]:
    """Return one submission as plain data; version is null when it was set aside."""
    return {
        "version": saved.version,
        "over": saved.over,
        "saved": saved.at.isoformat(),
        "entry": saved.entry.model_dump(mode="json"),
    }


def _practice(saved: Saved) -> Iterator[str]:
    entry: Entry = saved.entry
    yield from (entry.practice, f"{entry.date}", f"{entry.start:%H:%M}", entry.venue)
    yield from (entry.status, entry.reason or "", f"{entry.minutes}", f"{entry.really}")
    yield from (", ".join(entry.absent), entry.note, entry.by or "")
    yield from (f"{saved.version or ''}", saved.at.isoformat())


def _block(block: BlockRecord | None) -> Iterator[str]:
    if block is None:
        yield from [""] * 9
        return
    yield from (block.skill, block.stage, block.kind, f"{block.number}", f"{block.of}")
    yield from (f"{block.minutes}", "yes" if block.planned else "no", block.held, block.went or "")


def _safe(text: str) -> str:
    return f"'{text}" if text.startswith(FORMULA) else text
