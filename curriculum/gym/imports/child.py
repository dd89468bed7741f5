"""Reads foreign calendar files in a process of its own, which may be killed: `sandbox` starts it.

Standard input: a line of JSON (`Order`), then the bytes of the files one after the other. Standard
output: one `Answer` of JSON.
"""

import contextlib
import sys
import zoneinfo
from dataclasses import dataclass

from pydantic import TypeAdapter

from curriculum.gym.imports.expand import Window, read_calendar
from curriculum.gym.imports.found import Reading, RefusedError

MOST_MEMORY = 1 << 30
MOST_SECONDS = 10
"""Seconds of computing that all files of a season may take."""


@dataclass(frozen=True)
class Order:
    """What is to be read: the size of each file, with its window.

    tzpath: where the parent looks for time zones, so that both know the same.
    """

    sizes: tuple[int, ...]
    windows: tuple[Window, ...]
    tzpath: tuple[str, ...]


@dataclass(frozen=True)
class Refusal:
    """Why a file was refused; the fields are those of RefusedError."""

    says: str
    line: int
    found: str
    way_out: str


Answer = tuple[Reading | Refusal, ...]
ORDER = TypeAdapter(Order)
ANSWER: TypeAdapter[Answer] = TypeAdapter(Answer)


def main() -> None:
    """Answer one order."""
    _limit()
    order = ORDER.validate_json(sys.stdin.buffer.readline())
    zoneinfo.reset_tzpath(order.tzpath)
    answers: list[Reading | Refusal] = []
    for size, window in zip(order.sizes, order.windows, strict=True):
        try:
            answers.append(read_calendar(sys.stdin.buffer.read(size), window))
        except RefusedError as fault:
            answers.append(Refusal(fault.says, fault.line, fault.found, fault.way_out))
    sys.stdout.buffer.write(ANSWER.dump_json(tuple(answers)))


def _limit() -> None:
    """Bound memory and computing, where the system knows how."""
    with contextlib.suppress(ImportError):
        import resource

        # A system that already grants less refuses to be told more.
        with contextlib.suppress(ValueError, OSError):
            resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
        with contextlib.suppress(ValueError, OSError):
            resource.setrlimit(resource.RLIMIT_CPU, (MOST_SECONDS, MOST_SECONDS + 1))


if __name__ == "__main__":
    main()
