"""The ledger counts only upward, and survives its own loss."""

import datetime as dt
import subprocess
import sys
from pathlib import Path

import pytest

from curriculum import turns
from curriculum.ledger import (
    Ledger,
    Published,
    Sent,
    Shown,
    change_ledger,
    ledger_bytes,
    read_ledger,
    sent,
    stamp,
)
from curriculum.problems import FaultyInputError

NOW = dt.datetime(2027, 1, 5, 9, 0, tzinfo=dt.UTC)
EMPTY = Ledger(season="kestrel-quay-test")
ROOT = Path(__file__).parent.parent


def shown(fingerprint: str = "one", **changes: object) -> Shown:
    """Return a practice as a feed shows it."""
    day = dt.date(2027, 1, 13)
    plain = {"kind": "practice", "id": "2027-01-13-north-gym-1730", "summary": "practice"}
    return Shown.model_validate(
        {**plain, "date": day, "until": day, "fingerprint": fingerprint, **changes}
    )


def book(ledger: Ledger, feed: str = "coach") -> tuple[int, dt.datetime, dt.datetime]:
    """Return the bookkeeping of the one entry in a feed."""
    entry = ledger.feed(feed)["uid"]
    return entry.sequence, entry.created, entry.last_modified


def test_a_new_entry_begins_at_the_first_sequence() -> None:
    """Sequence 0, created and modified now, without fractions of a second."""
    after = stamp(EMPTY, "coach", {"uid": shown()}, NOW + dt.timedelta(microseconds=7))

    assert after.feeds == {
        "coach": {
            "uid": Published(**shown().model_dump(), sequence=0, created=NOW, last_modified=NOW)
        }
    }


def test_the_same_fingerprint_changes_nothing() -> None:
    """An entry that shows what it showed keeps everything, however late it is."""
    first = stamp(EMPTY, "coach", {"uid": shown()}, NOW)

    assert stamp(first, "coach", {"uid": shown()}, NOW + dt.timedelta(days=9)) == first


@pytest.mark.parametrize(
    ("now", "modified"),
    [
        (NOW + dt.timedelta(hours=1), NOW + dt.timedelta(hours=1)),
        (NOW, NOW + dt.timedelta(seconds=1)),
        (NOW - dt.timedelta(days=1), NOW + dt.timedelta(seconds=1)),
    ],
)
def test_a_change_is_always_newer(now: dt.datetime, modified: dt.datetime) -> None:
    """One more in sequence and at least a second later, even when the clock was set back."""
    first = stamp(EMPTY, "coach", {"uid": shown()}, NOW)

    assert book(stamp(first, "coach", {"uid": shown("two")}, now)) == (1, NOW, modified)


def test_feeds_count_each_for_itself() -> None:
    """A change that only one feed shows leaves the other as it was."""
    ledger = stamp(EMPTY, "coach", {"uid": shown()}, NOW)
    ledger = stamp(ledger, "families", {"uid": shown()}, NOW)
    ledger = stamp(ledger, "coach", {"uid": shown("two")}, NOW)

    assert [book(ledger, feed)[0] for feed in ("coach", "families")] == [1, 0]


def test_a_time_without_zone_is_refused() -> None:
    """Stamps are in UTC, so a time must say what it means."""
    with pytest.raises(ValueError, match="time zone"):
        stamp(EMPTY, "coach", {}, dt.datetime(2027, 1, 5, 9, 0))  # noqa: DTZ001


def test_the_file_gives_back_the_ledger(tmp_path: Path) -> None:
    """What is written is read back whole, with its feeds and servers."""
    ledger = stamp(EMPTY, "coach", {"uid": shown(start=dt.time(17, 30), end=dt.time(18, 45))}, NOW)
    ledger = sent(ledger, "https://example.org/x/", "uid", Sent(etag='"1"', content="one"))
    path = tmp_path / "published.json"
    path.write_bytes(ledger_bytes(ledger))

    assert read_ledger(path, "kestrel-quay-test", NOW, 1) == (ledger, ())


def test_the_file_does_not_depend_on_the_order_of_publishing() -> None:
    """Equal ledgers are equal files."""
    both = {"a": shown("one"), "b": shown("two")}
    one = stamp(EMPTY, "coach", both, NOW)
    other = stamp(EMPTY, "coach", dict(reversed(both.items())), NOW)

    assert ledger_bytes(one) == ledger_bytes(other)


@pytest.mark.parametrize(("revision", "first"), [(1, 0), (2, int(NOW.timestamp()) // 60)])
def test_a_missing_ledger_counts_from_above_what_may_be_lost(
    tmp_path: Path, revision: int, first: int
) -> None:
    """Beside a first plan nothing can be lost; beside a later one sequences begin high."""
    ledger, problems = read_ledger(tmp_path / "none.json", "x", NOW, revision)

    assert (ledger, problems) == (Ledger(season="x", first_sequence=first), ())


def test_an_unreadable_ledger_is_begun_afresh_with_a_warning(tmp_path: Path) -> None:
    """A broken file costs nothing but a sentence; sequences begin above the lost ones."""
    path = tmp_path / "published.json"
    path.write_text('{"format": 1,')
    ledger, problems = read_ledger(path, "x", NOW, 1)

    assert ledger == Ledger(season="x", first_sequence=int(NOW.timestamp()) // 60)
    assert [(p.file, p.level) for p in problems] == [(str(path), "warning")]


def test_a_ledger_of_another_season_is_an_error(tmp_path: Path) -> None:
    """A copied file would mix two seasons on the phones."""
    path = tmp_path / "published.json"
    path.write_bytes(ledger_bytes(EMPTY))
    _, problems = read_ledger(path, "another", NOW, 1)

    assert [(p.key, p.found, p.level) for p in problems] == [
        ("season", "kestrel-quay-test", "error")
    ]


def test_practices_are_told_once_as_last_shown() -> None:
    """Of two feeds the one that was published later is believed; games are left out."""
    ledger = stamp(EMPTY, "coach", {"uid": shown(), "game": shown(kind="game", id="cup")}, NOW)
    moved = shown("two", venue="south-gym")
    ledger = stamp(ledger, "families", {"uid": moved}, NOW + dt.timedelta(days=1))

    assert [(p.id, p.venue) for p in ledger.practices] == [
        ("2027-01-13-north-gym-1730", "south-gym")
    ]


def test_a_state_on_a_server_can_be_forgotten() -> None:
    """What was deleted there is not remembered here."""
    ledger = sent(EMPTY, "https://example.org/x/", "uid", Sent(sending="one"))

    gone = sent(ledger, "https://example.org/x/", "uid", None)
    assert gone.servers == {"https://example.org/x/": {}}


WRITER = """
import sys
from pathlib import Path
from curriculum.ledger import change_ledger, stamp
from tests.test_ledger import NOW, shown

def publish(kept):
    return None, stamp(kept, sys.argv[2], {"uid": shown(f"{number}")}, NOW)

for number in range(int(sys.argv[3])):
    change_ledger(Path(sys.argv[1]), "kestrel-quay-test", NOW, 1, publish)
"""


def test_writers_at_once_lose_nothing(tmp_path: Path) -> None:
    """Three processes publish 25 changes each to a feed of their own: every one is counted."""
    path, feeds, changes = tmp_path / "published.json", ("coach", "families", "gym"), 25
    writers = [
        subprocess.Popen([sys.executable, "-c", WRITER, path, feed, f"{changes}"], cwd=ROOT)
        for feed in feeds
    ]

    assert [writer.wait() for writer in writers] == [0, 0, 0]
    ledger, problems = read_ledger(path, "kestrel-quay-test", NOW, 1)
    assert ({feed: book(ledger, feed)[0] for feed in feeds}, problems) == (
        dict.fromkeys(feeds, changes - 1),
        (),
    )


def test_a_change_that_fails_leaves_the_file(tmp_path: Path) -> None:
    """What raises in its turn writes nothing, and the next one has its turn."""
    path = tmp_path / "published.json"

    def broken(_: Ledger) -> tuple[None, Ledger]:
        raise RuntimeError("in the middle")

    with pytest.raises(RuntimeError):
        change_ledger(path, "kestrel-quay-test", NOW, 1, broken)
    assert not path.exists()
    assert change_ledger(path, "kestrel-quay-test", NOW, 1, lambda kept: (7, kept)) == (7, EMPTY)
    assert path.read_bytes() == ledger_bytes(EMPTY)


def test_who_waits_too_long_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """While another one does not end, nothing is published, and a sentence says so."""
    path = tmp_path / "published.json"
    monkeypatch.setattr(turns, "TURN_SECONDS", 0)

    def outer(kept: Ledger) -> tuple[None, Ledger]:
        with pytest.raises(FaultyInputError, match=r"nothing is published \(found .*locked"):
            change_ledger(path, "kestrel-quay-test", NOW, 1, outer)
        return None, kept

    assert change_ledger(path, "kestrel-quay-test", NOW, 1, outer) == (None, EMPTY)


def test_another_seasons_ledger_is_not_changed(tmp_path: Path) -> None:
    """Where the file belongs to another season, nothing is written over it."""
    path = tmp_path / "published.json"
    path.write_bytes(ledger_bytes(EMPTY))

    with pytest.raises(FaultyInputError, match="another season"):
        change_ledger(path, "another", NOW, 1, lambda kept: (None, kept))
    assert path.read_bytes() == ledger_bytes(EMPTY)
