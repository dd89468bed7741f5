"""Dated entries of a foreign calendar as closures, games and practices of a season."""

import datetime as dt
import itertools
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from curriculum.gym.bookings import Booking
from curriculum.gym.imports.found import Found, Item, Reading
from curriculum.gym.imports.sides import plain, sides_of, slug
from curriculum.models.calendars import CalendarIn
from curriculum.models.gymtimes import Closure, PracticeOn
from curriculum.models.season import Game, Season
from curriculum.spans import Span
from curriculum.wording import moment_words, short_date

CALENDARS = (".ics", ".ical", ".icalendar")
"""Endings of calendar files; every other file is taken for a table."""
DEFAULT_MINUTES = 60
GAME_MINUTES = range(10, 301)
PRACTICE_MINUTES = range(15, 301)
EXPECTED = (
    "it is cancelled",
    "it is marked as free time",
    "its title holds none of the texts in `only`",
    "our team does not play in it",
    "it stands in the season already",
)
"""Why an entry is left out without anything being wrong."""


class LeftOutError(ValueError):
    """An entry becomes nothing; the message says why, as a sentence about "it"."""


@dataclass
class Meant:
    """What the entries of one file mean; filled by `take`.

    season: with what earlier files have added to it.
    lines: where each closure, game and practice stands in the file, by the season's own table.
    """

    season: Season
    entry: CalendarIn
    bookings: Sequence[Booking]
    closures: list[Closure] = field(default_factory=list)
    games: list[Game] = field(default_factory=list)
    practices: list[PracticeOn] = field(default_factory=list)
    items: list[Item] = field(default_factory=list)
    remarks: list[tuple[int, str]] = field(default_factory=list)
    lines: dict[str, list[int]] = field(default_factory=lambda: defaultdict(list))
    _endless: list[Found] = field(default_factory=list)

    def take(self, reading: Reading) -> None:
        """Take in everything that one file holds."""
        for skipped in reading.skipped:
            self.items.append(Item(skipped.line, skipped.title, "", "skipped", skipped.why))
        for found in reading.found:
            when = when_words(found)
            try:
                became = self._become(found)
            except LeftOutError as why:
                self.items.append(Item(found.line, found.title, when, "skipped", str(why)))
            else:
                self.items.append(Item(found.line, found.title, when, "used", "", became))
        if self._endless:
            count, minutes = len(self._endless), self.entry.minutes or DEFAULT_MINUTES
            says = f"{count} entries" if count > 1 else self._endless[0].title
            way_out = "set minutes in this [[calendar]] for another length"
            self.remarks.append(
                (
                    self._endless[0].line,
                    f"{says}: no end is stated, {minutes} minutes taken; {way_out}",
                )
            )
        self.items.sort(key=lambda item: item.line)

    def _become(self, found: Found) -> str:
        """Return what an entry became."""
        self._leave_out(found)
        if self.entry.means == "closures":
            return self._closure(found)
        if found.whole_days:
            raise LeftOutError("it has no time of day; write it into season.toml by hand")
        return self._game(found) if self.entry.means == "games" else self._practice(found)

    def _leave_out(self, found: Found) -> None:
        only = [plain(text) for text in self.entry.only]
        if found.cancelled:
            raise LeftOutError(EXPECTED[0])
        if only and not any(text in plain(found.title) for text in only):
            raise LeftOutError(EXPECTED[2])
        if found.free and self.entry.free_time == "skip":
            raise LeftOutError(EXPECTED[1])
        if found.free and self.entry.free_time is None:
            says = "it is marked as free time and counts all the same"
            self._remark(found, f'{says}; write free_time = "count" or "skip"')

    def _closure(self, found: Found) -> str:
        venue = self._venue(found) or self.entry.venue
        reason = found.title or "closed"
        end = self._end(found)
        if found.whole_days:
            last = (end - dt.timedelta(days=1)).date()
            self._close(
                found, Closure(from_=found.start.date(), until=last, reason=reason, venue=venue)
            )
            return f"closed, {'every gym' if venue is None else venue}"
        hours = f"{found.start:%H:%M}-{end:%H:%M}"
        hit = sorted(
            {
                (one.date, one.venue)
                for one in self.bookings
                if venue in (None, one.venue) and one.span.overlaps(Span(found.start, end))
            }
        )
        for day, gym in hit:
            words = f"{reason}, {hours}"
            self._close(found, Closure(from_=day, until=day, reason=words, venue=gym))
        if not hit:
            return "no practice then"
        return "no practice on " + ", ".join(f"{short_date(day)} in {gym}" for day, gym in hit)

    def _close(self, found: Found, closure: Closure) -> None:
        self.closures.append(closure)
        self.lines["closure"].append(found.line)

    def _game(self, found: Found) -> str:
        sides = sides_of(found, self.entry.team or self.season.team.name)
        if sides is None:
            raise LeftOutError(EXPECTED[3])
        if not sides.sure:
            self._remark(found, "it does not say whether it is at home; taken as at home")
        known = self._known_game(found, sides.opponent)
        if known is not None:
            raise LeftOutError(f"{EXPECTED[4]}, as game {known}")
        venue = self._venue(found) or (self.entry.venue if sides.home else None)
        address = ", ".join(part for part in (found.place, found.address) if part)[:300]
        base = f"game-{slug(found.key)}" if self._is_table(found) else slug(sides.opponent)
        game = Game(
            id=self._free_id(base if sides.home or self._is_table(found) else f"{base}-away"),
            date=found.start.date(),
            start=found.start.time(),
            minutes=self._minutes(found, GAME_MINUTES),
            opponent=sides.opponent[:300],
            home=sides.home,
            venue=venue,
            address=None if self._venue(found) or not address else address,
        )
        self.games.append(game)
        self.lines["game"].append(found.line)
        return game.id

    def _practice(self, found: Found) -> str:
        venue = self._venue(found) or self.entry.venue
        if venue is None:
            says = "it names none of the season's gyms"
            raise LeftOutError(f"{says}; set venue in this [[calendar]]")
        day, start = found.start.date(), found.start.time()
        if any((one.date, one.start, one.venue) == (day, start, venue) for one in self.bookings):
            raise LeftOutError(EXPECTED[4])
        minutes = self._minutes(found, PRACTICE_MINUTES)
        self.practices.append(PracticeOn(date=day, start=start, minutes=minutes, venue=venue))
        self.lines["practice_on"].append(found.line)
        return f"practice in {venue}"

    def _is_table(self, found: Found) -> bool:
        return bool(found.key) and not self.entry.file.lower().endswith(CALENDARS)

    def _free_id(self, base: str) -> str:
        used = {game.id for game in (*self.season.game, *self.games)}
        numbered = (f"{base}-{count}" for count in itertools.count(2))
        return next(name for name in itertools.chain([base], numbered) if name not in used)

    def _remark(self, found: Found, says: str) -> None:
        self.remarks.append((found.line, f"{found.title}: {says}"))

    def _known_game(self, found: Found, opponent: str) -> str | None:
        """Return the game that an entry is: on its day, and at its time or against its opponent.

        Within one file a second game against the same opponent is another one, as in a tournament.
        """
        day, start = found.start.date(), found.start.time()
        for game in self.season.game:
            if game.date == day and (
                game.start == start or plain(game.opponent) == plain(opponent)
            ):
                return game.id
        return next(
            (each.id for each in self.games if (each.date, each.start) == (day, start)), None
        )

    def _venue(self, found: Found) -> str | None:
        place = plain(f"{found.place} {found.address}")
        for venue in self.season.venue:
            names = {plain(venue.name), plain(venue.id)}
            if any(f" {name} " in f" {place} " for name in names):
                return venue.id
        return None

    def _end(self, found: Found) -> dt.datetime:
        if found.end is not None:
            return found.end
        if self.entry.minutes is None and found not in self._endless:
            self._endless.append(found)
        return found.start + dt.timedelta(minutes=self.entry.minutes or DEFAULT_MINUTES)

    def _minutes(self, found: Found, fits: range) -> int:
        minutes = int((self._end(found) - found.start).total_seconds()) // 60
        if minutes in fits:
            return minutes
        nearest = min(max(minutes, fits[0]), fits[-1])
        self._remark(found, f"it lasts {minutes} minutes; {nearest} were taken")
        return nearest


def when_words(found: Found) -> str:
    """Return the time of an entry as a coach would say it."""
    if not found.whole_days:
        end = f"-{found.end:%H:%M}" if found.end else ""
        return f"{moment_words(found.start.date(), found.start.time())}{end}"
    last = (found.end or found.start + dt.timedelta(days=1)) - dt.timedelta(days=1)
    first_words, last_words = short_date(found.start.date()), short_date(last.date())
    return first_words if first_words == last_words else f"{first_words} to {last_words}"


def unexpected(items: Sequence[Item]) -> Iterator[Item]:
    """Yield the entries that were left out because something was wrong with them."""
    for item in items:
        if item.outcome == "skipped" and not item.why.startswith(EXPECTED):
            yield item
