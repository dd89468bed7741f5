"""Read and write what the program keeps for itself: whole files, never torn, and the plan."""

import errno
import hashlib
import json
import os
import secrets
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import replace
from importlib import metadata
from pathlib import Path
from typing import BinaryIO

from pydantic import ValidationError

from curriculum.files.positions import json_marks
from curriculum.files.rephrase import rephrase
from curriculum.files.sources import SourceMap
from curriculum.models.plan import Plan
from curriculum.problems import FaultyInputError, Problem
from curriculum.turns import turn

if sys.platform != "win32":
    import fcntl

_FORMAT = 1
_MAKE_AGAIN = 'bring back a saved copy, or delete it and run "curriculum plan"'


def write_atomic(path: Path, data: bytes) -> None:
    """Write a whole file so that every reader, at any moment, finds the old or the new one whole.

    The data go to a temporary file beside it, `.NAME.XXXX.tmp`, which then takes its place. What
    killed writers left behind is removed. The file keeps its permissions; of several writers at
    once the last one wins.

    Raises:
        FaultyInputError: The file cannot be written; then the old one stands unchanged.

    """
    target = Path(os.path.realpath(path))
    try:
        _remove_abandoned(target)
        with _temporary(target) as (temporary, file):
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
            if sys.platform == "win32":
                file.close()
            elif target.exists():
                os.fchmod(file.fileno(), target.stat().st_mode & 0o7777)
            temporary.replace(target)
        _sync_folder(target.parent)
    except OSError as fault:
        raise FaultyInputError([not_written(path, fault)]) from fault


def ensure_folder(path: Path) -> None:
    """Make a folder, and those above it, where there is none.

    Raises FaultyInputError when that is impossible.
    """
    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise FaultyInputError([not_written(path, fault)]) from fault


def not_written(path: Path, fault: OSError) -> Problem:
    """Return the problem of a file or folder that the system does not let the program write."""
    reason = (fault.strerror or "unknown reason").lower()
    way_out = "name another place, or see who may write there"
    if fault.errno == errno.ENOENT:
        way_out = "make the folder first, or name another"
    if fault.errno == errno.ENOSPC:
        way_out = "make room, then try again"
    return Problem(str(path), 0, "", f"cannot be written: {reason}", "", way_out)


def json_bytes(data: object) -> bytes:
    """Return JSON as this program writes it: two spaces deep, keys in their order, UTF-8."""
    return (json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False) + "\n").encode()


def plan_bytes(plan: Plan) -> bytes:
    """Return a plan as `plan.json` holds it; equal plans give equal bytes."""
    data = plan.model_dump(mode="json")
    data["made"] = plan.made.isoformat()
    return json_bytes(data)


def plan_mark(path: Path) -> str:
    """Return the mark by which a plan file is known again, "" when there is none to be read."""
    try:
        return mark_of(path.read_bytes())
    except OSError:
        return ""


def mark_of(data: bytes) -> str:
    """Return the mark of a plan file that holds these bytes."""
    return hashlib.sha256(data).hexdigest()


def replace_plan(path: Path, data: bytes, mark: str) -> bool:
    """Write a plan in the place of the one that it was made from, in a turn of its own.

    mark: of the file that stood there then, "" when there was none. False, and nothing is written,
    when another plan stands there by now. The plan that goes is kept when the new one is another
    revision; see `former_plan`.
    Raises FaultyInputError when the plan cannot be written, or somebody else does not end.
    """
    with turn(path, "no plan can be put in force now, so the one that stands stays"):
        if plan_mark(path) != mark:
            return False
        former = path.read_bytes() if mark else b""
        if former and _revision(former) != _revision(data):
            write_atomic(_former(path), former)
        write_atomic(path, data)
    return True


def former_plan(path: Path) -> Plan | None:
    """Return the last plan of another revision that stood in a file, None when it is not known."""
    return read_plan(_former(path))[0]


def _revision(data: bytes) -> object:
    """Return the revision of a plan's file, None where it is no such file."""
    try:
        plan = json.loads(data)
    except ValueError:
        return None
    return plan.get("revision") if isinstance(plan, dict) else None


def _former(path: Path) -> Path:
    return path.with_name(f".{path.name}.before")


def read_plan(path: Path) -> tuple[Plan | None, tuple[Problem, ...]]:
    """Return the plan of a file, or None with everything that is wrong with it."""
    file = str(path)
    try:
        text = path.read_bytes().decode("utf-8-sig").replace("\r\n", "\n")
    except FileNotFoundError:
        return None, (Problem(file, 0, "", "there is no plan", "", 'run "curriculum plan"'),)
    except IsADirectoryError:
        return None, (Problem(file, 0, "", "is a folder, not a plan", "", _MAKE_AGAIN),)
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        way_out = "see who may read the file"
        return None, (Problem(file, 0, "", f"cannot be read: {reason}", "", way_out),)
    except UnicodeDecodeError:
        return None, (Problem(file, 0, "", "is not UTF-8 text, so no plan", "", _MAKE_AGAIN),)
    try:
        data = json.loads(text)
    except json.JSONDecodeError as error:
        return None, (_not_json(file, text, error),)
    except (RecursionError, ValueError):
        return None, (Problem(file, 0, "", "is no plan of this program", "", _MAKE_AGAIN),)
    sources = SourceMap(file, json_marks(text))
    if wrong := _wrong_format(data, sources):
        return None, (wrong,)
    try:
        return Plan.model_validate_json(text, by_alias=True, by_name=False), ()
    except ValidationError as error:
        faults = [problem for _, problem in rephrase(error, Plan, sources)]
        return None, tuple(sorted(replace(each, way_out=_MAKE_AGAIN) for each in faults))


def same_but_time(one: Plan, other: Plan) -> bool:
    """Whether two plans say the same, whenever they were made; then none replaces the other.

    The revision counts rewritings, so it does not make a difference either.
    """
    return one == other.model_copy(update={"made": one.made, "revision": one.revision})


def _wrong_format(data: object, sources: SourceMap) -> Problem | None:
    if not isinstance(data, dict) or "format" not in data:
        says = "is no plan of this program: it states no format"
        return Problem(sources.file, 1, "", says, "", _MAKE_AGAIN)
    found = data["format"]
    if isinstance(found, int) and not isinstance(found, bool) and found > _FORMAT:
        says = f"this plan needs a program newer than {_version()}, which reads format {_FORMAT}"
        return sources.problem(("format",), says, "update the program, or make the plan afresh")
    if found != _FORMAT or isinstance(found, bool):
        return sources.problem(("format",), f"must be {_FORMAT}", _MAKE_AGAIN)
    return None


def _version() -> str:
    try:
        return f"version {metadata.version('curriculum')}"
    except metadata.PackageNotFoundError:
        return "this one"


def _not_json(file: str, text: str, error: json.JSONDecodeError) -> Problem:
    if not text.strip():
        return Problem(file, 0, "", "is empty", "", _MAKE_AGAIN)
    if error.pos >= len(text.rstrip()):
        says = f"the plan ends too early, in column {error.colno}"
        return Problem(file, error.lineno, "", says, "", _MAKE_AGAIN)
    line = text.split("\n")[error.lineno - 1].strip()
    found = line if len(line) <= 40 else f"{line[:39]}…"
    says = f"the plan is not JSON from column {error.colno} on"
    return Problem(file, error.lineno, "", says, found, _MAKE_AGAIN)


@contextmanager
def _temporary(target: Path) -> Iterator[tuple[Path, BinaryIO]]:
    """Make a temporary file, locked as long as its writer lives; it is gone when the block ends."""
    while True:
        path = target.with_name(f".{target.name}.{secrets.token_hex(4)}.tmp")
        file = path.open("xb")
        if sys.platform == "win32":
            break
        with suppress(OSError):
            fcntl.flock(file, fcntl.LOCK_EX)
        # Another writer may have taken the file for an abandoned one before it was locked.
        if os.fstat(file.fileno()).st_nlink:
            break
        file.close()
    try:
        yield path, file
    finally:
        file.close()
        with suppress(OSError):
            path.unlink(missing_ok=True)


def _remove_abandoned(target: Path) -> None:
    """Remove temporary files whose writer is gone, which nobody holds a lock on any more."""
    for path in target.parent.glob(f".{_literal(target.name)}.*.tmp"):
        with suppress(OSError):
            _remove_unless_locked(path)


def _remove_unless_locked(path: Path) -> None:
    """Remove a file; raises OSError when its writer lives and so holds the lock or keeps it open.

    The lock is kept until the file is gone, so that a writer that has just made it, and waits
    for the lock, finds that it must make another one.
    """
    if sys.platform == "win32":
        path.unlink()
        return
    with path.open("rb") as file:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        path.unlink()


def _literal(name: str) -> str:
    return "".join(f"[{letter}]" if letter in "*?[" else letter for letter in name)


def _sync_folder(folder: Path) -> None:
    """Make a folder's new entry last through a power cut, where the system knows how."""
    if sys.platform == "win32":
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
