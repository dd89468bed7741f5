"""One calendar for a gym, or for a coach, over all teams of a club."""

import datetime as dt
from collections.abc import Iterator
from zoneinfo import ZoneInfo

from curriculum.fleet.clubspace import ClubSpace
from curriculum.ledger import Ledger, Published, stamp
from curriculum.outputs.ical.entries import KEPT, Entry, cancelled_entry, entries_of, uid_of
from curriculum.outputs.ical.write import Dated, feed_bytes
from curriculum.problems import FaultyInputError, Problem
from curriculum.workspace import Workspace

LEDGER_FILE = "published.json"


def gym_calendar(
    space: ClubSpace, gym: str, ledger: Ledger, now: dt.datetime
) -> tuple[bytes, Ledger]:
    """Return everything that happens in a gym, and the ledger to be kept; both hold from `now` on.

    Raises FaultyInputError when no team has a plan. Nobody's name is in it.
    """
    name = next(each.name for each in space.files.club.gym if each.id == gym)
    entries = [entry for _, entry in _entries(space) if entry.venue == gym]
    return _calendar(space, f"gym/{gym}", name, entries, ledger, now)


def coach_calendar(
    space: ClubSpace, coach: str, ledger: Ledger, now: dt.datetime
) -> tuple[bytes, Ledger]:
    """Return everything of a coach's teams, and the ledger to be kept; both hold from `now` on.

    Raises FaultyInputError when no team has a plan.
    """
    own = {team.id for team in space.files.club.team if coach in team.coaches}
    name = next(each.name for each in space.files.club.coach if each.id == coach)
    entries = [entry for team, entry in _entries(space) if team in own]
    title = f"{space.files.club.club.name}: {name}"
    return _calendar(space, f"coach/{coach}", title, entries, ledger, now)


def _entries(space: ClubSpace) -> Iterator[tuple[str, Entry]]:
    """Yield what every team's coaches see, closures aside, which all teams share."""
    for team, opened in sorted(space.spaces.items()):
        if opened.plan is not None:
            for entry in entries_of(opened.plan, opened.season, opened.library, "coach"):
                if entry.kind != "closure":
                    yield team, entry


def _calendar(
    space: ClubSpace,
    feed: str,
    name: str,
    entries: list[Entry],
    ledger: Ledger,
    now: dt.datetime,
) -> tuple[bytes, Ledger]:
    planned = [each for each in space.spaces.values() if each.plan is not None]
    if not planned:
        folder = space.files.folder
        way_out = f"make them first: curriculum club plan {folder}"
        raise FaultyInputError([Problem(str(folder), 0, "", "no team has a plan", "", way_out)])
    present = {entry.uid for entry in entries}
    gone = [
        _cancelled(planned, uid, published)
        for uid, published in sorted(ledger.feed(feed).items())
        if uid not in present
    ]
    zone = planned[0].season.season.timezone
    today = now.astimezone(ZoneInfo(zone)).replace(tzinfo=None)
    every = sorted([*entries, *gone], key=lambda entry: (entry.begins, entry.uid))
    ledger = stamp(ledger, feed, {entry.uid: entry.shown for entry in every}, now)
    dated = [
        Dated(entry, published=ledger.feed(feed)[entry.uid], struck=entry.cancelled)
        for entry in every
        if not entry.cancelled or today <= entry.begins + KEPT
    ]
    return feed_bytes(name, zone, dated), ledger


def _cancelled(planned: list[Workspace], uid: str, published: Published) -> Entry:
    """Return an entry that was shown and is gone, with the reason of the team that lost it.

    Two teams that share a hall at one time have practices of the same id, but never of one UID.
    """
    theirs = (
        space
        for space in planned
        if uid_of(space.season.season.id, published.kind, published.id) == uid
    )
    space = next(theirs, planned[0])
    if space.plan is None:
        raise ValueError("only teams with a plan are asked")
    return cancelled_entry(space.season, space.plan, uid, published)
