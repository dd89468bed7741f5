"""What happened in the first weeks of the sample season: shaky, lost, shortened, and absences."""

import datetime as dt

from curriculum.happened import season_after
from curriculum.models.record import Conflict, Promise, Record, Saved
from curriculum.models.skills import Stage
from curriculum.workload import workload_of
from tests.record_cases import NOW, block_record, entry, lost, of_practice
from tests.sample_plan import LIBRARY, PLAN, SEASON

TODAY = dt.date(2027, 1, 27)
FIRST, SECOND, THIRD, FOURTH = PLAN.practices[:4]

HELD = of_practice(
    FIRST,
    blocks=(
        block_record(FIRST.blocks[0], went="shaky"),
        block_record(FIRST.blocks[1], went="not yet"),
    ),
    absent=("Aoife", "Bran"),
    note="A loud hall; we needed longer to set up the four baskets than was planned for it.",
    by="Niamh",
)
LOST = lost(SECOND)
SHORTENED = of_practice(
    THIRD,
    status="shortened",
    minutes_held=50,
    blocks=(
        block_record(THIRD.blocks[0], went="solid"),
        block_record(THIRD.blocks[1], held="partly"),
        block_record(THIRD.blocks[2], held="not held"),
        block_record(FIRST.blocks[1], number=2, kind="build", went="solid", planned=False),
    ),
    absent=("Bran",),
)


def promise(skill: str, stage: Stage, day: str) -> Promise:
    """Return a promise by a date of 2027, written `01-15`."""
    return Promise(skill, stage, dt.date.fromisoformat(f"2027-{day}"))


RECORD = Record(
    practices=tuple(Saved(1, 0, NOW, each) for each in (HELD, LOST, SHORTENED)),
    promises=(
        promise("chest-pass", "unopposed", "01-15"),
        promise("lead-pass", "unopposed", "01-22"),
        promise("v-cut", "guided", "01-22"),
    ),
)
AFTER = season_after(SEASON, LIBRARY, RECORD)
WORKLOAD = workload_of(AFTER, LIBRARY)

LATE = entry("coach-0009", by="Ruairi", note="all solid")
CONFLICT = Conflict(Saved(1, 0, NOW, HELD), Saved(None, 0, NOW, LATE))
