"""Calendars as they are sent: made once for each change, checked, the last good one kept."""

import datetime as dt
import hashlib
import logging
import re
import sqlite3
import threading
from collections import OrderedDict
from dataclasses import dataclass, replace
from typing import get_args

from curriculum.ledger import SECOND, Ledger, change_ledger
from curriculum.models.plan import Plan
from curriculum.outputs.ical.entries import Audience
from curriculum.outputs.ical.feed import Cancelled, View, calendar_bytes
from curriculum.outputs.ical.lint import lint
from curriculum.problems import FaultyInputError
from curriculum.server import waiting
from curriculum.server.packing import packed
from curriculum.server.site import Site, Stamp
from curriculum.server.waiting import Copy
from curriculum.workspace import LEDGER_FILE, Workspace

log = logging.getLogger("curriculum.server")

MOST_VIEWS = 24
"""Forms of the calendar that are kept in memory: two audiences, and what subscribers ask for."""
LONGEST_ALARM = 24 * 60
CHANGED = re.compile(rb"^LAST-MODIFIED:(\d{8}T\d{6}Z)", re.MULTILINE)


class UnfitError(Exception):
    """A calendar was made that no phone should see; the words say what is wrong with it."""


@dataclass(frozen=True)
class Sent:
    """A calendar as it goes out. modified: when its bytes last changed."""

    body: bytes
    packed: bytes
    tag: str
    modified: dt.datetime


@dataclass(frozen=True)
class _Made:
    stamp: Stamp
    hour: dt.datetime
    sent: Sent


def view_of(alarm: str, cancelled: str) -> View:
    """Return what a subscriber asks for in the address; what is not understood asks for nothing."""
    minutes = int(alarm) if re.fullmatch(r"[0-9]{1,4}", alarm) else None
    if minutes is not None and minutes > LONGEST_ALARM:
        minutes = None
    wanted: Cancelled = next((each for each in get_args(Cancelled) if each == cancelled), "show")
    return View(minutes, wanted)


class Feeds:
    """All calendars of a season."""

    def __init__(self, site: Site) -> None:
        self.site = site
        self._lock = threading.Lock()
        self._made: OrderedDict[tuple[Audience, View], _Made] = OrderedDict()

    def ready(self, audience: Audience, view: View) -> Sent | None:
        """Return a calendar that is up to date, None when it has to be made first."""
        made = self._made.get((audience, view))
        if made and made.hour == _hour(self.site.now()) and made.stamp == self.site.stamp():
            return made.sent
        return None

    def current(self, audience: Audience, view: View) -> Sent | None:
        """Return a calendar: up to date, else the last good one; None when there never was one.

        Whatever fails, no phone gets a broken calendar: it would take all its entries away.
        """
        with self._lock:
            sent = self.ready(audience, view)
            if sent is not None:
                return sent
            try:
                return self._make(audience, view)
            except FaultyInputError as fault:
                log.warning("the season's files are faulty, so calendars stay as they were")
                for problem in fault.problems:
                    log.warning("%s", problem.sentence)
            except UnfitError as fault:
                log.error("a calendar was not fit to be sent, so it stays as it was: %s", fault)  # noqa: TRY400
            except Exception:
                # Also for a fault of ours that nobody foresaw: its calendar is all that a family
                # sees. The traceback holds no secret, for no address or key comes this far.
                log.exception("a calendar could not be made, so it stays as it was")
            return self._last(audience, view)

    def _make(self, audience: Audience, view: View) -> Sent:
        site, now = self.site, self.site.now()
        with site.writing:
            opening = site.opening()
            space = opening.workspace
            if space is None or space.plan is None:
                raise FaultyInputError(opening.problems)
            body, ledger = _rendered(space, space.plan, audience, view, now)
            if ledger != space.ledger:
                site.adopt(replace(space, ledger=ledger), LEDGER_FILE)
            stamp = site.stamp()
        name = _name(audience, view)
        before = waiting.copy(site.state, name)
        if before is None or before.body != body:
            # A calendar may change without a newer entry, when an old one leaves it.
            after = before.modified + SECOND if before else _newest(body)
            before = Copy(max(_newest(body), after), body)
            waiting.keep_copy(site.state, name, before)
        sent = _sent(before)
        self._made[audience, view] = _Made(stamp, _hour(now), sent)
        while len(self._made) > MOST_VIEWS:
            self._made.popitem(last=False)
        return sent

    def _last(self, audience: Audience, view: View) -> Sent | None:
        made = self._made.get((audience, view))
        if made:
            return made.sent
        try:
            kept = waiting.copy(self.site.state, _name(audience, view))
        except sqlite3.Error:
            log.exception("the last good calendar cannot be read")
            return None
        return _sent(kept) if kept else None


def _rendered(
    space: Workspace, plan: Plan, audience: Audience, view: View, now: dt.datetime
) -> tuple[bytes, Ledger]:
    """Return a calendar that is fit to be sent, and the ledger as it was kept.

    It is kept before anything is sent: a phone must never know a number that we could forget.
    """

    def made(ledger: Ledger) -> tuple[bytes, Ledger]:
        body, after = calendar_bytes(plan, space.season, space.library, ledger, now, audience, view)
        faults = lint(body)
        if faults:
            raise UnfitError("; ".join(faults[:3]))
        return body, after

    path = space.folder / LEDGER_FILE
    return change_ledger(path, space.season.season.id, now, plan.revision, made)


def _sent(copy: Copy) -> Sent:
    tag = f'W/"{hashlib.sha256(copy.body).hexdigest()[:32]}"'
    return Sent(copy.body, packed(copy.body), tag, copy.modified)


def _newest(body: bytes) -> dt.datetime:
    """Return when the newest entry was modified."""
    found = max(CHANGED.findall(body), default=b"19700101T000000Z").decode()
    return dt.datetime.strptime(found, "%Y%m%dT%H%M%SZ").replace(tzinfo=dt.UTC)


def _hour(now: dt.datetime) -> dt.datetime:
    """Return the hour: cancelled entries leave a calendar by the clock, not by a change."""
    return now.replace(minute=0, second=0, microsecond=0)


def _name(audience: Audience, view: View) -> str:
    alarm = "" if view.alarm is None else f"{view.alarm}"
    return f"{audience} {alarm} {view.cancelled}"
