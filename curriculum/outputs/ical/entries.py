"""What a calendar tells its readers, entry by entry, in words; knows nothing of iCalendar."""

import datetime as dt
import hashlib
import json
import uuid
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from typing import Literal

from curriculum.ledger import EntryKind, Published, Shown
from curriculum.models.plan import Block, Plan, PlannedClosure, PlannedGame, PlannedPractice
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.outputs.ical.texts import clean, one_line
from curriculum.practice.words import KIND_WORD, STAGE_MEANS, skill_name

Audience = Literal["coach", "families"]

NAMESPACE = uuid.UUID("7d0a3f0e-6a52-5c0b-9a39-0b1f6c1f4d27")
"""Every UID grows from it, so it must never change."""
KEPT = dt.timedelta(days=30)
"""How long after its start a cancelled entry stays in a calendar."""
CANCELLED = "CANCELLED: "


@dataclass(frozen=True)
class Entry:
    """One event as a calendar shows it; times are the wall clock of `zone`.

    start, end: None for whole days, from `date` to `until`, both included.
    alarm: minutes before the start at which the phone rings, or None.
    """

    uid: str
    kind: EntryKind
    id: str
    zone: str
    date: dt.date
    until: dt.date
    start: dt.time | None
    end: dt.time | None
    venue: str | None
    summary: str
    location: str
    description: str
    url: str
    category: str
    alarm: int | None = None
    cancelled: bool = False

    @property
    def begins(self) -> dt.datetime:
        """The first moment by the wall clock."""
        return dt.datetime.combine(self.date, self.start or dt.time())

    @property
    def shown(self) -> Shown:
        """What the ledger keeps of it."""
        content = json.dumps(asdict(self), sort_keys=True, default=str, ensure_ascii=True)
        return Shown(
            kind=self.kind,
            id=self.id,
            date=self.date,
            until=self.until,
            start=self.start,
            end=self.end,
            venue=self.venue,
            summary=self.summary,
            location=self.location,
            cancelled=self.cancelled,
            fingerprint=hashlib.sha256(content.encode()).hexdigest()[:32],
        )


def uid_of(season_id: str, kind: EntryKind, entry_id: str) -> str:
    """Return the UID of an entry, the same in every calendar and for all time."""
    name = entry_id if kind == "practice" else f"{kind}/{entry_id}"
    return str(uuid.uuid5(NAMESPACE, f"{season_id}/{name}"))


def entries_of(
    plan: Plan, season: Season, library: Library, audience: Audience
) -> tuple[Entry, ...]:
    """Return everything that a calendar shows of a plan, in order of time.

    Coaches see what is taught; families see dates, places and what to bring. Nobody's name is in
    either.
    """
    entries = [_practice(season, library, audience, one) for one in plan.practices]
    if season.calendar_out.games:
        entries += [_game(season, game) for game in plan.games]
    if season.calendar_out.closures:
        entries += _closures(season, plan)
    return tuple(sorted(entries, key=_order))


def cancelled_entry(season: Season, plan: Plan, uid: str, published: Published) -> Entry:
    """Return the entry of something that was published and stands in the plan no more."""
    reasons = [one.why for one in plan.not_held if one.id == published.id]
    reason = reasons[-1] if reasons else "no longer planned"
    summary = published.summary.removeprefix(CANCELLED)
    return Entry(
        uid=uid,
        kind=published.kind,
        id=published.id,
        zone=season.season.timezone,
        date=published.date,
        until=published.until,
        start=published.start,
        end=published.end,
        venue=published.venue,
        summary=CANCELLED + summary,
        location=published.location,
        description=_description(season, [f"{reason[:1].upper()}{reason[1:]}."]),
        url=season.calendar_out.link or "",
        category=published.kind.capitalize(),
        cancelled=True,
    )


def _order(entry: Entry) -> tuple[dt.datetime, str]:
    return entry.begins, entry.uid


def _practice(
    season: Season, library: Library, audience: Audience, practice: PlannedPractice
) -> Entry:
    out = season.calendar_out
    lines = _before(practice.date, practice.start, out.arrive_before, out.bring)
    if audience == "coach":
        lines += [_block(library, block) for block in practice.blocks]
    overnight = practice.end <= practice.start
    return Entry(
        uid=uid_of(season.season.id, "practice", practice.id),
        kind="practice",
        id=practice.id,
        zone=season.season.timezone,
        date=practice.date,
        until=practice.date + dt.timedelta(days=1) if overnight else practice.date,
        start=practice.start,
        end=practice.end,
        venue=practice.venue,
        summary=one_line(f"{season.team.name}: practice"),
        location=_place(season, practice.venue),
        description=_description(season, lines),
        url=out.link or "",
        category="Practice",
        alarm=out.alarm,
    )


def _game(season: Season, game: PlannedGame) -> Entry:
    out = season.calendar_out
    begin = dt.datetime.combine(game.date, game.start)
    end = begin + dt.timedelta(minutes=game.minutes)
    early = out.arrive_before if game.arrive_before is None else game.arrive_before
    against = f"{'against' if game.home else 'at'} {game.opponent}"
    return Entry(
        uid=uid_of(season.season.id, "game", game.id),
        kind="game",
        id=game.id,
        zone=season.season.timezone,
        date=game.date,
        until=end.date(),
        start=game.start,
        end=end.time(),
        venue=game.venue,
        summary=one_line(f"{season.team.name}: game {against}"),
        location=_place(season, game.venue, game.address),
        description=_description(
            season, _before(game.date, game.start, early, out.bring_to_games or out.bring)
        ),
        url=out.link or "",
        category="Game",
        alarm=out.alarm,
    )


def _closures(season: Season, plan: Plan) -> Iterator[Entry]:
    count: dict[str, int] = {}
    for closure in plan.closures:
        key = f"{closure.from_}/{closure.venue or ''}"
        count[key] = count.get(key, 0) + 1
        yield _closure(season, closure, key if count[key] == 1 else f"{key}/{count[key]}")


def _closure(season: Season, closure: PlannedClosure, entry_id: str) -> Entry:
    place = _place(season, closure.venue)
    where = f" in {_venue_name(season, closure.venue)}" if closure.venue else ""
    return Entry(
        uid=uid_of(season.season.id, "closure", entry_id),
        kind="closure",
        id=entry_id,
        zone=season.season.timezone,
        date=closure.from_,
        until=closure.until,
        start=None,
        end=None,
        venue=closure.venue,
        summary=one_line(f"{season.team.name}: no practice{where} ({closure.reason})"),
        location=place,
        description=_description(season, []),
        url=season.calendar_out.link or "",
        category="Closure",
    )


def _before(day: dt.date, start: dt.time, early: int | None, bring: tuple[str, ...]) -> list[str]:
    lines = []
    if early:
        there = dt.datetime.combine(day, start) - dt.timedelta(minutes=early)
        lines.append(f"Be there at {there:%H:%M}.")
    if bring:
        lines.append(f"Bring: {', '.join(bring)}.")
    return lines


def _block(library: Library, block: Block) -> str:
    name = skill_name(library, block.skill)
    stage = f"{block.stage} ({STAGE_MEANS[block.stage]})"
    return f"{KIND_WORD[block.kind]} {block.minutes} min: {name}, {stage}"


def _description(season: Season, lines: list[str]) -> str:
    link = season.calendar_out.link
    return clean("\n".join([*lines, link] if link else lines))


def _place(season: Season, venue_id: str | None, address: str | None = None) -> str:
    name = _venue_name(season, venue_id)
    own = next((venue.address for venue in season.venue if venue.id == venue_id), None)
    parts = (name, address or own)
    return one_line(", ".join(part for part in parts if part))


def _venue_name(season: Season, venue_id: str | None) -> str:
    named = (venue.name for venue in season.venue if venue.id == venue_id)
    return next(named, venue_id or "")
