"""The record for other programs: a table no spreadsheet can misread, and everything as data."""

import csv
import io
import json

import pytest

from curriculum.models.record import Entry, Saved
from curriculum.records.export import COLUMNS, csv_text, history_data
from tests.record_cases import NOW, block_record, entry
from tests.sample_plan import PLAN

WEDNESDAY = PLAN.practices[0]
BLOCKS = (
    block_record(WEDNESDAY.blocks[0], went="shaky"),
    block_record(WEDNESDAY.blocks[1], held="not held"),
)


def rows(*entries: Entry) -> list[list[str]]:
    """Return the table of entries, read back as a spreadsheet does."""
    text = csv_text(Saved(1, 0, NOW, each) for each in entries)
    return list(csv.reader(io.StringIO(text, newline="")))


def test_the_table_has_a_row_for_each_block() -> None:
    """The practice's cells stand in each of its rows, the block's behind them."""
    full = entry(blocks=BLOCKS, absent=("Aoife", "Bran"), note="a loud, cold hall", by="Niamh")
    practice = [
        "2027-01-13-north-gym-1730",
        "2027-01-13",
        "17:30",
        "north-gym",
        "held",
        "",
        "75",
        "75",
        "Aoife, Bran",
        "a loud, cold hall",
        "Niamh",
        "1",
        "2027-01-13T20:00:00+00:00",
    ]

    first = ["chest-pass", "unopposed", "introduce", "1", "2", "8", "yes", "held", "shaky"]
    second = ["strong-lay-up", "unopposed", "introduce", "1", "2", "9", "yes", "not held", ""]
    assert rows(full) == [list(COLUMNS), [*practice, *first], [*practice, *second]]


def test_a_practice_without_blocks_has_a_row() -> None:
    """A lost practice stands in the table with no minutes and no block."""
    _, row = rows(entry(status="lost", reason="the hall was flooded"))

    assert (row[4:8], row[13:]) == (["lost", "the hall was flooded", "75", "0"], [""] * 9)


@pytest.mark.parametrize("text", ["=1+1", "+353 1 234", "-1", "@cmd", "=cmd|' /C calc'!A1"])
def test_no_cell_is_a_formula(text: str) -> None:
    """A note that a spreadsheet would calculate gets an apostrophe before it (OWASP)."""
    _, row = rows(entry(note=text, by=text.replace(",", "").replace(";", "")))

    assert (row[9], row[10]) == (f"'{text}", f"'{text}")


def test_a_note_of_several_lines_stays_in_its_cell() -> None:
    """Line ends, quotes and commas do not tear the table."""
    note = 'First line, "quoted"\nsecond line'

    assert rows(entry(note=note))[1][9] == note


def test_the_data_hold_every_submission() -> None:
    """Versions and those set aside stand in order, each with its entry, and survive JSON."""
    late = entry("coach-0002", note="set aside")
    data = history_data([Saved(1, 0, NOW, entry(blocks=BLOCKS)), Saved(None, 0, NOW, late)])

    read = json.loads(json.dumps(data))
    entries = [Entry.model_validate_json(json.dumps(each["entry"])) for each in read]
    assert entries == [entry(blocks=BLOCKS), late]
    assert [(each["version"], each["over"], each["saved"]) for each in read] == [
        (1, 0, "2027-01-13T20:00:00+00:00"),
        (None, 0, "2027-01-13T20:00:00+00:00"),
    ]
