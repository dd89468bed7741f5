"""Many coaches at once: each submission counts exactly once, also across a kill and a restart."""

import os
import signal
import sqlite3
import subprocess
import sys
from collections import Counter
from pathlib import Path

from curriculum.records.database import history, open_record, standing

ROOT = Path(__file__).parent.parent
SUBMISSIONS = 200
WORKERS = 4
SHARE = SUBMISSIONS // WORKERS
KILLED_AFTER = 5
"""Submissions of the first worker after which all are killed."""


def start(path: Path) -> list[subprocess.Popen[str]]:
    """Start the workers, each with its share of the submissions."""
    return [
        subprocess.Popen(
            [sys.executable, "-m", "tests.record_worker", str(path), str(first), str(SHARE)],
            cwd=ROOT,
            stdout=subprocess.PIPE,
            text=True,
        )
        for first in range(0, SUBMISSIONS, SHARE)
    ]


def killed(workers: list[subprocess.Popen[str]]) -> set[int]:
    """Kill the workers in the middle of their work, and return what they were told is recorded."""
    told = set()
    out = workers[0].stdout
    assert out is not None
    for _ in range(KILLED_AFTER):
        told.add(int(out.readline()))
    for worker in workers:
        os.kill(worker.pid, signal.SIGKILL)
    for worker in workers:
        rest, _ = worker.communicate()
        told |= {int(line) for line in rest.splitlines(keepends=True) if line.endswith("\n")}
    return told


def test_each_submission_counts_once_across_a_kill(tmp_path: Path) -> None:
    """200 submissions of four processes, killed with -9 and sent again: none lost, none twice.

    What was told to be recorded before the kill is there afterwards, before anything is sent again.
    """
    path = tmp_path / "record.db"
    told = killed(start(path))
    with open_record(path) as db:
        survived = {int(saved.entry.note) for saved in history(db) if saved.version}

    codes = []
    for worker in start(path):
        worker.communicate()
        codes.append(worker.returncode)

    with open_record(path) as db:
        counted = [saved for saved in history(db) if saved.version is not None]
        versions = Counter(saved.entry.practice for saved in counted)
        newest = {saved.entry.practice: saved.version for saved in standing(db).practices}
        check = db.execute("PRAGMA integrity_check").fetchone()
    assert told <= survived
    assert len(survived) < SUBMISSIONS
    assert codes == [0] * WORKERS
    assert sorted(int(saved.entry.note) for saved in counted) == list(range(SUBMISSIONS))
    assert newest == dict(versions)
    assert check == ("ok",)


def test_readers_go_on_while_one_writes(tmp_path: Path) -> None:
    """A reader sees the last whole state and does not wait for the writer."""
    path = tmp_path / "record.db"
    with open_record(path) as writer, open_record(path) as reader:
        writer.execute("BEGIN IMMEDIATE")
        writer.execute("INSERT INTO promise VALUES ('v-cut', 'live', '2027-02-03')")
        reader.execute("PRAGMA busy_timeout = 0")
        during = standing(reader).promises
        writer.execute("COMMIT")

        assert during == ()
        assert [promise.skill for promise in standing(reader).promises] == ["v-cut"]


def test_a_second_writer_waits_its_turn(tmp_path: Path) -> None:
    """While one writes, another one is refused once its patience ends, and nothing breaks."""
    path = tmp_path / "record.db"
    with open_record(path) as first, open_record(path) as second:
        first.execute("BEGIN IMMEDIATE")
        second.execute("PRAGMA busy_timeout = 0")
        refused = ""
        try:
            second.execute("BEGIN IMMEDIATE")
        except sqlite3.OperationalError as fault:
            refused = str(fault)
        first.execute("COMMIT")
        second.execute("BEGIN IMMEDIATE")
        second.execute("COMMIT")

    assert refused == "database is locked"
