"""Brings a calendar on a server up to date, entry by entry, and touches nothing else there."""

import hashlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal, Protocol

from curriculum.ledger import Ledger, Sent, sent
from curriculum.outputs.ical.essence import essence
from curriculum.problems import Problem

Step = Literal["created", "updated", "deleted", "unchanged", "kept"]
Save = Callable[[Callable[[Ledger], Ledger]], Ledger]
"""Changes the ledger as it is kept by now, and returns it."""


class ServerError(Exception):
    """The server cannot be reached or refuses us; the message says so in a sentence."""


class ChangedError(Exception):
    """Somebody else changed an entry between our reading and our writing."""


class Server(Protocol):
    """What publishing needs of a calendar on a server; entries go by the names of their files."""

    def tags(self) -> Mapping[str, str]:
        """Return the tag of every entry in the calendar."""

    def get(self, name: str) -> tuple[bytes, str]:
        """Return the bytes and the tag of an entry."""

    def put(self, name: str, data: bytes, tag: str | None) -> str:
        """Write an entry in place of the one with this tag, None for a new one; return its tag."""

    def delete(self, name: str, tag: str) -> None:
        """Remove the entry with this tag."""


@dataclass(frozen=True)
class Outcome:
    """What publishing did: entries by what became of them, and what stood in the way."""

    steps: Mapping[Step, int]
    problems: tuple[Problem, ...] = ()


def publish(
    objects: Mapping[str, bytes],
    ledger: Ledger,
    address: str,
    feed: str,
    server: Server,
    save: Save,
    *,
    overwrite: bool = False,
) -> tuple[Ledger, Outcome]:
    """Make a calendar on a server hold these entries, and return the ledger with what happened.

    objects: each entry's bytes by UID, from `calendar_objects`, whose ledger is given and has been
    saved. feed: the audience; one address holds one. save: called before and after every change, so
    that an interruption at any moment leaves nothing that a second run would not understand.
    overwrite: undo what others changed in our entries, instead of keeping it and saying so.
    """
    key = f"{feed} {address}"
    others = [name for name in ledger.servers if name.endswith(f" {address}") and name != key]
    if any(ledger.server(name) for name in others):
        says = f"this calendar holds what {others[0].partition(' ')[0]} see"
        way_out = "publish to another calendar of the server"
        return ledger, Outcome({}, (Problem("", 0, "--publish", says, address, way_out),))
    run = _Run(ledger, key, server, save, overwrite=overwrite)
    try:
        there = server.tags()
        for uid in sorted({*objects, *ledger.server(key)}):
            run.entry(uid, objects.get(uid), there.get(f"{uid}.ics"))
    except ServerError as fault:
        way_out = "run the same command again: what is done stays done"
        run.problems.append(Problem("", 0, "--publish", str(fault), address, way_out))
    return run.ledger, Outcome(run.steps, tuple(run.problems))


class _Run:
    """One run of publishing: the ledger as it grows, the steps taken, the problems met."""

    def __init__(
        self, ledger: Ledger, key: str, server: Server, save: Save, *, overwrite: bool
    ) -> None:
        self.ledger = ledger
        self.steps: dict[Step, int] = {}
        self.problems: list[Problem] = []
        self._key = key
        self._server = server
        self._save = save
        self._overwrite = overwrite

    def entry(self, uid: str, data: bytes | None, tag: str | None) -> None:
        """Bring one entry up to date; `data` None: it is to go. tag: that of the server, if any."""
        state = self.ledger.server(self._key).get(uid)
        try:
            if data is None:
                step = self._remove(uid, state or Sent(), tag)
            else:
                step = self._bring(uid, data, state, tag)
        except ChangedError:
            step = self._keep(uid, "was changed on the server while we wrote")
        self.steps[step] = self.steps.get(step, 0) + 1

    def _bring(self, uid: str, data: bytes, state: Sent | None, tag: str | None) -> Step:
        content = hashlib.sha256(data).hexdigest()[:32]
        if tag is None:
            if state is None or state.etag is None or self._overwrite:
                return self._put(uid, data, state, None)
            if b"STATUS:CANCELLED" in data:
                return "unchanged"
            return self._keep(uid, "was deleted on the server by someone else")
        if state is not None and tag == state.etag:
            return "unchanged" if content == state.content else self._put(uid, data, state, tag)
        theirs = essence(self._server.get(f"{uid}.ics")[0])
        known = {state.essence, state.sending} - {""} if state else set()
        desired = essence(data)
        if state is not None and theirs in known:
            arrived = theirs == state.sending == desired
            if not arrived and content != state.content:
                return self._put(uid, data, state, tag)
            self._note(uid, Sent(etag=tag, content=content, essence=theirs))
            return "unchanged"
        if theirs == desired or self._overwrite:
            return self._put(uid, data, state, tag)
        return self._keep(uid, "was changed on the server by someone else")

    def _put(self, uid: str, data: bytes, state: Sent | None, tag: str | None) -> Step:
        said = essence(data)
        self._note(uid, (state or Sent()).model_copy(update={"sending": said}))
        fresh = self._server.put(f"{uid}.ics", data, tag)
        content = hashlib.sha256(data).hexdigest()[:32]
        self._note(uid, Sent(etag=fresh, content=content, essence=said))
        return "created" if tag is None else "updated"

    def _remove(self, uid: str, state: Sent, tag: str | None) -> Step:
        if tag is not None and tag != state.etag and not self._overwrite:
            theirs = essence(self._server.get(f"{uid}.ics")[0])
            if theirs not in {state.essence, state.sending} - {""}:
                return self._keep(uid, "was changed on the server by someone else, so it stays")
        if tag is not None:
            self._server.delete(f"{uid}.ics", tag)
        self._note(uid, None)
        return "deleted" if tag is not None else "unchanged"

    def _keep(self, uid: str, says: str) -> Step:
        shown = next((feed[uid] for feed in self.ledger.feeds.values() if uid in feed), None)
        found = f"{shown.date} {shown.summary}" if shown else uid
        way_out = "settle it there, or publish with --overwrite"
        self.problems.append(
            Problem("", 0, "--publish", f"an entry {says}", found, way_out, "warning")
        )
        return "kept"

    def _note(self, uid: str, state: Sent | None) -> None:
        self.ledger = self._save(lambda kept: sent(kept, self._key, uid, state))
