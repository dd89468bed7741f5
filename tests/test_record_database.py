"""The record's file: added to, never changed, one version after another, whole after anything."""

import datetime as dt
import sqlite3
from pathlib import Path

import pytest

from curriculum.models.record import Conflict, Promise, Record, Saved
from curriculum.problems import FaultyInputError
from curriculum.records.database import (
    backup,
    history,
    open_record,
    practice_record,
    read_record,
    record_practice,
    standing,
)
from curriculum.records.schema import MIGRATIONS, VERSION
from tests.record_cases import NOW, entry

VERSION_1 = Path(__file__).parent / "cases" / "record" / "version-1.sql"
LATER = NOW + dt.timedelta(hours=1)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Return where a record is kept."""
    return tmp_path / "record.db"


def test_what_is_recorded_stands(path: Path) -> None:
    """An entry becomes the first version and is read back as it was sent."""
    with open_record(path) as db:
        saved = record_practice(db, entry(), NOW, 0)

    assert saved == Saved(1, 0, NOW, entry())
    assert read_record(path) == (Record((saved,) if isinstance(saved, Saved) else ()), ())


def test_reading_makes_no_file(path: Path) -> None:
    """A season without a record has an empty one, and none is made for it."""
    assert read_record(path) == (Record(), ())
    assert not path.exists()


def test_a_submission_sent_twice_is_recorded_once(path: Path) -> None:
    """The second time gives what was recorded the first time, also over an older version."""
    with open_record(path) as db:
        first = record_practice(db, entry(), NOW, 0)
        again = record_practice(db, entry(), LATER, 0)

        assert again == first
        assert len(history(db)) == 1


def test_one_client_id_is_one_submission(path: Path) -> None:
    """A client id with other contents is misuse: nothing is written over what was recorded."""
    with open_record(path) as db:
        record_practice(db, entry(), NOW, 0)

        with pytest.raises(ValueError, match="stands for another submission"):
            record_practice(db, entry(note="another"), LATER, 1)
        assert [saved.entry for saved in history(db)] == [entry()]


def test_a_correction_keeps_history(path: Path) -> None:
    """The newest version counts, and the ones before it stay."""
    corrected = entry("coach-0002", status="lost", reason="the hall was flooded")
    with open_record(path) as db:
        record_practice(db, entry(), NOW, 0)
        record_practice(db, corrected, LATER, 1)

        assert practice_record(db, entry().practice) == Saved(2, 1, LATER, corrected)
        assert [saved.version for saved in history(db, entry().practice)] == [1, 2]
        assert standing(db).entries == (corrected,)


def test_the_second_coach_sees_the_first_ones_version(path: Path) -> None:
    """A submission over a version that is not the newest is set aside, and counts for nothing."""
    late = entry("coach-0002", note="we worked on passing", by="Niamh")
    with open_record(path) as db:
        first = record_practice(db, entry(), NOW, 0)
        told = record_practice(db, late, LATER, 0)

        aside = Saved(None, 0, LATER, late)
        assert told == Conflict(first if isinstance(first, Saved) else None, aside)
        assert record_practice(db, late, LATER, 0) == told
        assert history(db) == (first, aside)
        assert standing(db).entries == (entry(),)


def test_a_version_that_was_never_there_is_a_conflict(path: Path) -> None:
    """Whoever claims to have seen a version that no one recorded is told that none stands."""
    with open_record(path) as db:
        told = record_practice(db, entry(), NOW, 3)

    assert told == Conflict(None, Saved(None, 3, NOW, entry()))


def test_practices_do_not_disturb_each_other(path: Path) -> None:
    """Each practice counts its own versions; what stands is in order of date."""
    friday = entry("coach-0002", practice="2027-01-15-hall-1800", date=dt.date(2027, 1, 15))
    with open_record(path) as db:
        record_practice(db, friday, NOW, 0)
        record_practice(db, entry(), NOW, 0)

        assert standing(db).entries == (entry(), friday)


def test_a_promise_is_kept_once(path: Path) -> None:
    """What was first planned stays, whatever later plans say; set aside, it promises nothing."""
    early = Promise("give-and-go", "live", dt.date(2027, 2, 12))
    late = Promise("give-and-go", "live", dt.date(2027, 2, 19))
    new = Promise("v-cut", "guided", dt.date(2027, 2, 3))
    with open_record(path) as db:
        record_practice(db, entry(), NOW, 0, [early])
        record_practice(db, entry("coach-0002", note="two"), NOW, 1, [late, new])
        record_practice(db, entry("coach-0003"), NOW, 0, [Promise("x", "live", NOW.date())])

        assert standing(db).promises == (early, new)


@pytest.mark.parametrize("statement", ["DELETE FROM submission", "UPDATE submission SET over = 9"])
def test_the_record_is_only_added_to(path: Path, statement: str) -> None:
    """Not even by hand can a submission be changed or taken out by mistake."""
    with open_record(path) as db:
        record_practice(db, entry(), NOW, 0)

    with sqlite3.connect(path) as db, pytest.raises(sqlite3.IntegrityError, match="only added"):
        db.execute(statement)
    db.close()


def test_a_time_needs_a_zone(path: Path) -> None:
    """A moment that names no zone is misuse."""
    with open_record(path) as db, pytest.raises(ValueError, match="time zone"):
        record_practice(db, entry(), NOW.replace(tzinfo=None), 0)


def test_a_full_disk_leaves_nothing_behind(path: Path) -> None:
    """When a submission cannot be written whole, none of it is, and later it can be."""
    promises = [Promise(f"skill-{n}", "guided", dt.date(2027, 2, 3)) for n in range(500)]
    with open_record(path) as db:
        (pages,) = db.execute("PRAGMA page_count").fetchone()
        db.execute(f"PRAGMA max_page_count = {pages + 1}")
        with pytest.raises(sqlite3.OperationalError, match="full"):
            record_practice(db, entry(), NOW, 0, promises)
        nothing = standing(db)
        db.execute("PRAGMA max_page_count = 1000000")

        assert nothing == Record()
        assert record_practice(db, entry(), NOW, 0, promises) == Saved(1, 0, NOW, entry())


def test_only_the_owner_reads_it(path: Path) -> None:
    """Children's names stand in it, so no one else on the machine may read it."""
    with open_record(path):
        pass

    assert path.stat().st_mode & 0o777 == 0o600


def test_it_is_logged_ahead_and_synced(path: Path) -> None:
    """Readers go on while one writes, and a written entry has reached the disk."""
    with open_record(path) as db:
        modes = [
            db.execute(f"PRAGMA {name}").fetchone()[0] for name in ("journal_mode", "synchronous")
        ]

    assert modes == ["wal", 2]


def test_a_record_of_version_1_is_brought_up_to_date(path: Path) -> None:
    """Nothing of an older file is lost, and what the new version adds is there."""
    db = sqlite3.connect(path)
    db.executescript(VERSION_1.read_text(encoding="utf-8"))
    db.close()

    promise = Promise("chest-pass", "unopposed", dt.date(2027, 1, 15))
    with open_record(path) as db:
        before = history(db)
        saved = record_practice(db, entry("coach-0004"), LATER, 2, [promise])

        assert [(each.version, each.over, each.entry.client) for each in before] == [
            (1, 0, "coach-0001"),
            (None, 0, "coach-0002"),
            (2, 1, "coach-0003"),
        ]
        assert before[0].entry.blocks[0].went == "shaky"
        assert standing(db) == Record((saved,) if isinstance(saved, Saved) else (), (promise,))
        assert db.execute("PRAGMA user_version").fetchone() == (VERSION,)
        assert _tables(db) == _tables_of_a_new_one(path.with_name("new.db"))


def _tables(db: sqlite3.Connection) -> set[tuple[str, str]]:
    rows = db.execute("SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL")
    return {(name, " ".join(sql.split())) for name, sql in rows}


def _tables_of_a_new_one(path: Path) -> set[tuple[str, str]]:
    with open_record(path) as db:
        return _tables(db)


def test_the_first_version_stays_as_it_was_published() -> None:
    """The kept file of version 1 is what the first migration makes, so that it is never edited."""
    db = sqlite3.connect(":memory:")
    for statement in MIGRATIONS[0]:
        db.execute(statement)
    kept = sqlite3.connect(":memory:")
    kept.executescript(VERSION_1.read_text(encoding="utf-8"))

    assert _tables(db) == _tables(kept)
    db.close()
    kept.close()


def test_a_newer_record_is_left_alone(path: Path) -> None:
    """A file of a later program is refused with what to do, and not written."""
    with open_record(path) as db:
        db.execute("PRAGMA user_version = 99")

    _, problems = read_record(path)

    assert [(each.says, each.found, each.way_out) for each in problems] == [
        (
            "this record was written by a newer version of the program",
            "version 99",
            "bring this program up to date",
        )
    ]


def test_a_database_of_another_program_is_left_alone(path: Path) -> None:
    """A SQLite file that is no record is refused and stays as it is."""
    with sqlite3.connect(path) as db:
        db.execute("CREATE TABLE notes (text)")
    db.close()
    before = path.read_bytes()

    _, problems = read_record(path)

    assert [(each.says, each.found) for each in problems] == [
        ("this record cannot be used", "a database of another program")
    ]
    assert path.read_bytes() == before


def test_what_is_no_database_is_told(path: Path) -> None:
    """A text file under the record's name is a located problem, no traceback."""
    path.write_text("hello, this is a note and no database at all" * 20, encoding="utf-8")

    record, problems = read_record(path)

    assert record == Record()
    assert [(each.file, each.says, each.found) for each in problems] == [
        (str(path), "this record cannot be used", "file is not a database")
    ]


def test_a_backup_is_a_record_by_itself(path: Path, tmp_path: Path) -> None:
    """A copy made while the record is open holds all of it, in one file."""
    target = tmp_path / "copies" / "record.db.2027-01-13"
    target.parent.mkdir()
    with open_record(path) as db:
        record_practice(db, entry(), NOW, 0)
        backup(path, target)

    assert [each.name for each in target.parent.iterdir()] == [target.name]
    assert read_record(target) == read_record(path)
    assert target.stat().st_mode & 0o777 == 0o600


def test_a_backup_overwrites_nothing(path: Path, tmp_path: Path) -> None:
    """Where something stands already, nothing is written."""
    target = tmp_path / "kept"
    target.write_text("kept", encoding="utf-8")
    with open_record(path):
        pass

    with pytest.raises(FaultyInputError, match="is not overwritten"):
        backup(path, target)
    assert target.read_text(encoding="utf-8") == "kept"


def test_a_backup_of_nothing_says_so(path: Path, tmp_path: Path) -> None:
    """Without a record there is nothing to copy."""
    with pytest.raises(FaultyInputError, match="there is no record to back up"):
        backup(path, tmp_path / "copy")
    assert list(tmp_path.iterdir()) == []
