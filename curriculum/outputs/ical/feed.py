"""A plan as a calendar for one audience, with the ledger that keeps its bytes and counts right."""

import datetime as dt
from dataclasses import dataclass, replace
from typing import Literal
from zoneinfo import ZoneInfo

from curriculum.ledger import Ledger, stamp
from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.outputs.ical.entries import (
    KEPT,
    Audience,
    Entry,
    cancelled_entry,
    entries_of,
)
from curriculum.outputs.ical.write import Dated, feed_bytes, object_bytes

Cancelled = Literal["show", "text", "hide"]


@dataclass(frozen=True)
class View:
    """What one subscriber asks for; it changes no sequence, for it stays as long as its address.

    alarm: minutes before the start; None: as the season file says.
    cancelled: `show` strikes them out, `text` says so in words alone (for clients that drop
    cancelled entries from view), `hide` leaves them out.
    """

    alarm: int | None = None
    cancelled: Cancelled = "show"


PLAIN = View()


def calendar_bytes(
    plan: Plan,
    season: Season,
    library: Library,
    ledger: Ledger,
    now: dt.datetime,
    audience: Audience = "coach",
    view: View = PLAIN,
) -> tuple[bytes, Ledger]:
    """Return the calendar of a plan and the ledger to be kept; both hold from `now` on.

    The same plan, season and ledger give the same bytes whatever the time, but for cancelled
    entries, which go 30 days after their start.
    """
    dated, ledger = _dated(plan, season, library, ledger, now, audience, view)
    name = season.calendar_out.name or season.team.name
    return feed_bytes(name, season.season.timezone, dated), ledger


def calendar_objects(
    plan: Plan,
    season: Season,
    library: Library,
    ledger: Ledger,
    now: dt.datetime,
    audience: Audience = "coach",
    view: View = PLAIN,
) -> tuple[dict[str, bytes], Ledger]:
    """Return the same entries one by one, by UID, for a server that stores them singly."""
    dated, ledger = _dated(plan, season, library, ledger, now, audience, view)
    return {one.entry.uid: object_bytes(one) for one in dated}, ledger


def _dated(
    plan: Plan,
    season: Season,
    library: Library,
    ledger: Ledger,
    now: dt.datetime,
    audience: Audience,
    view: View,
) -> tuple[list[Dated], Ledger]:
    entries = entries_of(plan, season, library, audience)
    gone = _gone(plan, season, ledger, audience, {entry.uid for entry in entries})
    every = sorted((*entries, *gone), key=lambda entry: (entry.begins, entry.uid))
    ledger = stamp(ledger, audience, {entry.uid: entry.shown for entry in every}, now)
    today = now.astimezone(ZoneInfo(season.season.timezone)).replace(tzinfo=None)
    return [
        Dated(
            entry=_ringing(entry, view),
            published=ledger.feed(audience)[entry.uid],
            struck=entry.cancelled and view.cancelled != "text",
        )
        for entry in every
        if not entry.cancelled or (view.cancelled != "hide" and today <= entry.begins + KEPT)
    ], ledger


def _gone(
    plan: Plan, season: Season, ledger: Ledger, audience: Audience, present: set[str]
) -> list[Entry]:
    """Return what this calendar has shown before and the plan holds no more."""
    wanted = {"practice"}
    wanted |= {"game"} if season.calendar_out.games else set()
    wanted |= {"closure"} if season.calendar_out.closures else set()
    return [
        cancelled_entry(season, plan, uid, published)
        for uid, published in sorted(ledger.feed(audience).items())
        if uid not in present and published.kind in wanted
    ]


def _ringing(entry: Entry, view: View) -> Entry:
    wanted = view.alarm is not None and entry.kind != "closure"
    return replace(entry, alarm=view.alarm) if wanted else entry
