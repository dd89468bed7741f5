"""Records of practices: builders with every field defaulted, and random ones over a plan."""

import datetime as dt
from typing import Any

from hypothesis import strategies as st

from curriculum.models.plan import Block, Plan, PlannedPractice
from curriculum.models.record import BlockRecord, Entry, Record, Saved

NOW = dt.datetime(2027, 1, 13, 20, 0, tzinfo=dt.UTC)


def block_record(block: Block, **others: Any) -> BlockRecord:
    """Return a block as it was planned and held; nobody said how it went."""
    planned = block.model_dump(exclude={"drill", "pinned"})
    return BlockRecord(**{**planned, **others})


def entry(client: str = "coach-0001", **others: Any) -> Entry:
    """Return the entry of a practice that was held on Wednesday 13 January, without blocks."""
    plain: dict[str, Any] = {
        "client": client,
        "practice": "2027-01-13-north-gym-1730",
        "date": dt.date(2027, 1, 13),
        "start": dt.time(17, 30),
        "venue": "north-gym",
        "minutes": 75,
        "status": "held",
    }
    return Entry(**{**plain, **others})


def of_practice(planned: PlannedPractice, **others: Any) -> Entry:
    """Return the entry of a planned practice, held as planned unless said otherwise."""
    begin, end = (
        dt.datetime.combine(planned.date, moment) for moment in (planned.start, planned.end)
    )
    plain = {
        "practice": planned.id,
        "date": planned.date,
        "start": planned.start,
        "venue": planned.venue,
        "minutes": int((end - begin).total_seconds()) // 60,
        "blocks": tuple(block_record(block) for block in planned.blocks),
    }
    return entry(f"coach-{planned.id}"[:64], **{**plain, **others})


def lost(planned: PlannedPractice, reason: str = "the hall was flooded") -> Entry:
    """Return the entry of a planned practice that was lost with all its blocks."""
    blocks = tuple(block_record(block, held="not held") for block in planned.blocks)
    return of_practice(planned, status="lost", reason=reason, blocks=blocks)


def record_of(*entries: Entry) -> Record:
    """Return the record in which these entries stand, each as the first version."""
    return Record(tuple(Saved(1, 0, NOW, each) for each in entries))


OUTCOMES: tuple[tuple[str, str | None], ...] = (
    ("held", None),
    ("held", "solid"),
    ("held", "shaky"),
    ("held", "not yet"),
    ("partly", None),
    ("partly", "solid"),
    ("partly", "shaky"),
    ("not held", None),
)


@st.composite
def records(draw: st.DrawFn, plan: Plan, until: dt.date) -> Record:
    """Draw what happened up to a date, itself included: some practices are not recorded."""
    entries = []
    for planned in plan.practices:
        what = draw(st.sampled_from(["nothing", "held", "held", "held", "lost", "shortened"]))
        if what == "nothing" or planned.date > until:
            continue
        if what == "lost":
            entries.append(lost(planned))
            continue
        blocks = []
        for block in planned.blocks:
            held, went = draw(st.sampled_from(OUTCOMES))
            blocks.append(block_record(block, held=held, went=went))
        left = {"minutes_held": 10} if what == "shortened" else {}
        entries.append(of_practice(planned, status=what, blocks=tuple(blocks), **left))
    return record_of(*entries)
