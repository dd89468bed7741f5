"""Sends submissions to a record, as a coach's phone does: again until they are recorded.

Run as `python -m tests.record_worker PATH FIRST COUNT`; it prints the client id of each submission
once that is recorded, at once.
"""

import datetime as dt
import sys
from pathlib import Path

from curriculum.models.record import Conflict, Entry
from curriculum.records.database import open_record, practice_record, record_practice
from tests.record_cases import NOW, entry

PRACTICES = 10
"""So many practices share the submissions, so that coaches get into each other's way."""


def entry_of(number: int, attempt: int) -> Entry:
    """Return a submission; each attempt after a conflict has a client id of its own."""
    day = dt.date(2027, 1, 11 + number % PRACTICES)
    return entry(
        f"coach-{number:04}-{attempt}", practice=f"{day}-gym-1730", date=day, note=f"{number}"
    )


def send(path: Path, number: int) -> None:
    """Record one submission over the newest version, once more after each conflict."""
    attempt = 0
    while True:
        sent = entry_of(number, attempt)
        with open_record(path) as db:
            seen = practice_record(db, sent.practice)
            kept = record_practice(db, sent, NOW, (seen.version or 0) if seen else 0)
        if not isinstance(kept, Conflict):
            return
        attempt += 1


def main(path: Path, first: int, count: int) -> None:
    """Send submissions one after the other."""
    for number in range(first, first + count):
        send(path, number)
        print(number, flush=True)


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]))
