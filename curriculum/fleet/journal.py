"""What a run has done, line by line, so that a run that was stopped can go on."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from curriculum.club.outcome import Outcome, State
from curriculum.store import write_atomic

JOURNAL_FILE = "planned.jsonl"


@dataclass(frozen=True)
class Done:
    """How a team was left: hashes of what went in and of the plan that came out."""

    given: str
    plan: str
    status: str
    missed: tuple[int, int]


def read_journal(path: Path) -> Mapping[str, Done]:
    """Return the last line of each team; lines that a stopped run left torn count for nothing."""
    found: dict[str, Done] = {}
    try:
        lines = path.read_text(encoding="utf-8").splitlines()
    except (OSError, UnicodeDecodeError):
        return found
    for line in lines:
        try:
            row = json.loads(line)
            must, should = row["missed"]
            done = Done(row["given"], row["plan"], row["status"], (int(must), int(should)))
            found[row["team"]] = done
        except (ValueError, KeyError, TypeError):
            continue
    return found


def note(path: Path, given: str, outcome: Outcome) -> None:
    """Add a team whose plan holds; all others are tried again in the next run."""
    noted: tuple[State, ...] = ("planned", "unchanged")
    if outcome.state in noted:
        row = {
            "team": outcome.team,
            "given": given,
            "plan": outcome.digest,
            "status": outcome.status,
            "missed": list(outcome.missed),
        }
        with path.open("a", encoding="utf-8") as file:
            file.write(json.dumps(row) + "\n")


def renew(path: Path, done: Mapping[str, Done]) -> None:
    """Write the journal anew, one line for each team in order of name: equal work, equal bytes.

    Raises FaultyInputError when nothing can be written there.
    """
    rows = (
        {
            "team": team,
            "given": each.given,
            "plan": each.plan,
            "status": each.status,
            "missed": list(each.missed),
        }
        for team, each in sorted(done.items())
    )
    write_atomic(path, "".join(json.dumps(row) + "\n" for row in rows).encode())
