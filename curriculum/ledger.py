"""The publication ledger: what every calendar has shown, so that changes count up and bytes stay.

A feed is one audience's calendar. An entry's sequence is kept per feed and not per entry alone:
a changed block changes the coach's description and nothing that families see, so theirs must
neither change its bytes nor count up; and within each feed the sequence only ever grows.
"""

import datetime as dt
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Annotated, Literal, TypeVar

from pydantic import Field, ValidationError

from curriculum.models.base import Id, Model
from curriculum.problems import FaultyInputError, Problem, errors
from curriculum.store import write_atomic
from curriculum.turns import turn

Value = TypeVar("Value")
Made = TypeVar("Made")
SECOND = dt.timedelta(seconds=1)

EntryKind = Literal["practice", "game", "closure"]


class Shown(Model):
    """What a feed shows of one entry; the wall clock is the season's.

    date, until: first and last day, both included; start and end are None for whole days.
    fingerprint: a hash over every published field but sequence and stamps.
    """

    kind: EntryKind
    id: str
    date: dt.date
    until: dt.date
    start: dt.time | None = None
    end: dt.time | None = None
    venue: str | None = None
    summary: str
    location: str = ""
    cancelled: bool = False
    fingerprint: str


class Published(Shown):
    """An entry as it was last published, with its bookkeeping."""

    sequence: Annotated[int, Field(ge=0)]
    created: dt.datetime
    last_modified: dt.datetime


class Sent(Model):
    """What we know of an entry on a server.

    etag: the tag that the server gave what we sent; None before its first answer.
    content: a hash over the bytes that we sent. essence: a hash over what these say.
    sending: the essence of what is on its way, in case the answer never arrives.
    """

    etag: str | None = None
    content: str = ""
    essence: str = ""
    sending: str = ""


class Ledger(Model):
    """A whole `published.json`: per feed and per server, entries by their UID.

    first_sequence: where entries that were never published before begin to count.
    """

    format: Literal[1] = 1
    season: Id
    first_sequence: Annotated[int, Field(ge=0)] = 0
    feeds: dict[str, dict[str, Published]] = Field(default_factory=dict)
    servers: dict[str, dict[str, Sent]] = Field(default_factory=dict)

    def feed(self, name: str) -> Mapping[str, Published]:
        """Return what a feed has published, by UID; empty when it never was."""
        return self.feeds.get(name, {})

    def server(self, address: str) -> Mapping[str, Sent]:
        """Return what stands on a server, by UID; empty when nothing was sent there."""
        return self.servers.get(address, {})

    @property
    def practices(self) -> tuple[Published, ...]:
        """Every practice that some feed has shown, once, as shown last, in order of id."""
        newest: dict[str, Published] = {}
        for entry in self._entries():
            known = newest.get(entry.id)
            newer = known is None or known.last_modified < entry.last_modified
            if entry.kind == "practice" and newer:
                newest[entry.id] = entry
        return tuple(newest[key] for key in sorted(newest))

    def _entries(self) -> Iterator[Published]:
        for name in sorted(self.feeds):
            yield from self.feeds[name].values()


def stamp(ledger: Ledger, feed: str, shown: Mapping[str, Shown], now: dt.datetime) -> Ledger:
    """Return the ledger after a feed shows these entries.

    An entry with the fingerprint that it had keeps its sequence and stamps. A changed one counts
    up by one and was modified now, at least a second later than before; a clock that was set back
    does not take it back. Entries of the feed that are not shown stay as they are, for good: their
    UID is never given away.

    Raises:
        ValueError: `now` has no time zone.

    """
    if now.tzinfo is None:
        raise ValueError("the time of publication needs a time zone")
    now = now.astimezone(dt.UTC).replace(microsecond=0)
    published = dict(ledger.feed(feed))
    for uid, entry in shown.items():
        before = published.get(uid)
        if before is None:
            book = {"sequence": ledger.first_sequence, "created": now, "last_modified": now}
        elif before.fingerprint == entry.fingerprint:
            continue
        else:
            book = {
                "sequence": before.sequence + 1,
                "created": before.created,
                "last_modified": max(now, before.last_modified + SECOND),
            }
        published[uid] = Published(**{**entry.model_dump(), **book})
    return ledger.model_copy(update={"feeds": {**ledger.feeds, feed: published}})


def sent(ledger: Ledger, address: str, uid: str, state: Sent | None) -> Ledger:
    """Return the ledger after an entry on a server has this state; None: it is gone from there."""
    states = {**ledger.server(address)}
    if state is None:
        states.pop(uid, None)
    else:
        states[uid] = state
    return ledger.model_copy(update={"servers": {**ledger.servers, address: states}})


def read_ledger(
    path: Path, season: str, now: dt.datetime, revision: int
) -> tuple[Ledger, tuple[Problem, ...]]:
    """Return the ledger of a season, and what is wrong with its file.

    revision: the plan's revision. A missing ledger beside a plan that was ever revised may have
    been lost, and so has one that cannot be read. Phones remember sequences, so then entries
    begin at the minutes since 1970, above whatever was published before, instead of at 0.
    """
    recovered = Ledger(season=season, first_sequence=int(now.timestamp()) // 60)
    try:
        ledger = Ledger.model_validate_json(path.read_bytes())
    except FileNotFoundError:
        return (Ledger(season=season) if revision == 1 else recovered), ()
    except (OSError, ValidationError) as fault:
        says = "the ledger of what was published cannot be read, so it is begun afresh"
        found = str(fault).splitlines()[0]
        way_out = "put the file back from a copy if you have one; calendars stay right without it"
        return recovered, (Problem(str(path), 0, "", says, found, way_out, "warning"),)
    if ledger.season != season:
        says = "this ledger belongs to another season, so phones would mix the two up"
        way_out = f"delete the file, or set season.id back to {ledger.season}"
        return recovered, (Problem(str(path), 0, "season", says, ledger.season, way_out),)
    return ledger, ()


def ledger_bytes(ledger: Ledger) -> bytes:
    """Return the file of a ledger; equal ledgers give equal bytes."""
    in_order = ledger.model_copy(
        update={
            "feeds": {name: _by_uid(ledger.feeds[name]) for name in sorted(ledger.feeds)},
            "servers": {name: _by_uid(ledger.servers[name]) for name in sorted(ledger.servers)},
        }
    )
    return in_order.model_dump_json(indent=1, exclude_none=True).encode() + b"\n"


def write_ledger(path: Path, ledger: Ledger) -> None:
    """Write the ledger in one step, so that an interruption leaves the old or the new file."""
    write_atomic(path, ledger_bytes(ledger))


def change_ledger(
    path: Path,
    season: str,
    now: dt.datetime,
    revision: int,
    change: Callable[[Ledger], tuple[Made, Ledger]],
) -> tuple[Made, Ledger]:
    """Read a ledger, change it and write it back in one turn, so that no other change is lost.

    Server and commands may publish at the same moment, and phones must never be told a sequence
    that the file forgets. `change` returns what it made besides, and the ledger after it; when it
    raises, the file stays. season, now, revision: as in `read_ledger`. Raises FaultyInputError when
    the file belongs to another season, or somebody else does not end.
    """
    with turn(path, "what was published cannot be kept now, so nothing is published"):
        ledger, problems = read_ledger(path, season, now, revision)
        if errors(problems):
            raise FaultyInputError(errors(problems))
        made, after = change(ledger)
        if after != ledger or not path.exists():
            write_ledger(path, after)
    return made, after


def _by_uid(entries: Mapping[str, Value]) -> dict[str, Value]:
    return {uid: entries[uid] for uid in sorted(entries)}
