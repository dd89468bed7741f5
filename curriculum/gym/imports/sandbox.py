"""Has foreign calendar files read by a process whose time and memory are bounded."""

import subprocess
import sys
import zoneinfo
from collections.abc import Sequence
from pathlib import Path

from curriculum.gym.imports.child import ANSWER, ORDER, Order, Refusal
from curriculum.gym.imports.expand import Window
from curriculum.gym.imports.found import Reading, RefusedError

CHILD = "curriculum.gym.imports.child"
MOST_WAIT = 30
"""Seconds by the wall after which the reading process is given up."""
ROOT = Path(__file__).parents[3]

Result = Reading | RefusedError


def read_apart(files: Sequence[tuple[bytes, Window]]) -> tuple[Result, ...]:
    """Return what each calendar file holds within its window, or why it is refused.

    All files share one process. When that fails each gets its own, to find the one to blame.
    """
    if not files:
        return ()
    results = _run(files)
    if results is not None:
        return results
    if len(files) == 1:
        way_out = "export a shorter span of time, or fewer calendars at once"
        return (RefusedError("reading it would take too long or too much memory", way_out=way_out),)
    return tuple(result for file in files for result in read_apart([file]))


def _run(files: Sequence[tuple[bytes, Window]]) -> tuple[Result, ...] | None:
    order = Order(
        sizes=tuple(len(data) for data, _ in files),
        windows=tuple(window for _, window in files),
        tzpath=zoneinfo.TZPATH,
    )
    told = ORDER.dump_json(order) + b"\n" + b"".join(data for data, _ in files)
    try:
        done = subprocess.run(  # noqa: S603
            [sys.executable, "-m", CHILD],
            input=told,
            capture_output=True,
            check=False,
            timeout=MOST_WAIT,
            # `-m` looks into the working directory first, which must not be the coach's folder.
            cwd=ROOT,
        )
    except subprocess.TimeoutExpired:
        return None
    if done.returncode != 0:
        return None
    answers = ANSWER.validate_json(done.stdout)
    return tuple(_result(answer) for answer in answers)


def _result(answer: Reading | Refusal) -> Result:
    if isinstance(answer, Reading):
        return answer
    return RefusedError(answer.says, line=answer.line, found=answer.found, way_out=answer.way_out)
