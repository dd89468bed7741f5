"""Compare the dates, gyms and people of a season file with each other."""

import datetime as dt
import zoneinfo
from collections.abc import Iterator, Sequence
from itertools import pairwise

from curriculum.files.nearest import suggest
from curriculum.files.positions import KeyPath
from curriculum.files.sources import SourceMap
from curriculum.models.season import Season
from curriculum.problems import Level, Problem

LONGEST_SEASON = 400
"""Days, both ends included; a longer season is most likely a mistyped year."""


def check_calendar(season: Season, sources: SourceMap) -> Iterator[Problem]:
    """Tell what does not fit in a season file, the library left aside."""
    for check in (
        _frame,
        _ids_are_unique,
        _venues_exist,
        _stretches_run_forward,
        _dates_lie_inside,
        _stretches_lie_inside,
        _no_practice_has_a_date,
        _times_are_to_the_minute,
        _team_fits,
        _reviews_ascend,
    ):
        yield from check(season, sources)


def _frame(season: Season, sources: SourceMap) -> Iterator[Problem]:
    frame = season.season
    known = zoneinfo.available_timezones()
    zones: list[tuple[KeyPath, str | None]] = [(("season", "timezone"), frame.timezone)]
    zones += [(("calendar", n, "timezone"), one.timezone) for n, one in enumerate(season.calendar)]
    for path, name in zones:
        if name is not None and name not in known:
            way_out = suggest(name, sorted(known), 'write one such as "Europe/Dublin"')
            yield sources.problem(path, "there is no such time zone", way_out)
    days = (frame.end - frame.start).days + 1
    at = ("season", "end")
    if days < 1:
        says = f"the season ends before it starts on {frame.start}"
        yield sources.problem(at, says, "swap the two dates or correct the year")
    elif days > LONGEST_SEASON:
        says = f"the season lasts {days} days"
        yield sources.problem(at, says, "make sure that both years are right", level="warning")


def _ids_are_unique(season: Season, sources: SourceMap) -> Iterator[Problem]:
    for table, ids in (
        ("venue", [venue.id for venue in season.venue]),
        ("game", [game.id for game in season.game]),
    ):
        for number, name in enumerate(ids):
            first = ids.index(name)
            if first < number:
                says = f"this id is taken by the [[{table}]] in line {sources.line(table, first)}"
                yield sources.problem((table, number, "id"), says, "give each one its own id")


def _venues_exist(season: Season, sources: SourceMap) -> Iterator[Problem]:
    ids = [venue.id for venue in season.venue]
    named: list[tuple[KeyPath, str | None]] = []
    for table, venues in (
        ("slot", [slot.venue for slot in season.slot]),
        ("practice_on", [extra.venue for extra in season.practice_on]),
        ("move", [move.venue for move in season.move]),
        ("closure", [closure.venue for closure in season.closure]),
        ("game", [game.venue for game in season.game]),
        ("calendar", [calendar.venue for calendar in season.calendar]),
    ):
        named += [((table, n, "venue"), venue) for n, venue in enumerate(venues)]
    named += [(("move", n, "of", "venue"), move.of.venue) for n, move in enumerate(season.move)]
    for path, name in named:
        if name is not None and name not in ids:
            way_out = suggest(name, ids, f'add a [[venue]] with id = "{name}"')
            yield sources.problem(path, "no [[venue]] has this id", way_out)


def _stretches(season: Season) -> Iterator[tuple[KeyPath, dt.date | None, dt.date | None]]:
    """Return the first and last day of everything that has them, with its path."""
    for n, slot in enumerate(season.slot):
        yield ("slot", n), slot.from_, slot.until
    for n, off in enumerate(season.no_practice):
        yield ("no_practice", n), off.from_, off.until
    for n, closure in enumerate(season.closure):
        yield ("closure", n), closure.from_, closure.until
    for n, focus in enumerate(season.focus):
        yield ("focus", n), focus.from_, focus.until


def _stretches_run_forward(season: Season, sources: SourceMap) -> Iterator[Problem]:
    for path, first, last in _stretches(season):
        if first is not None and last is not None and last < first:
            says = f"the last day comes before the first, {first}"
            yield sources.problem((*path, "until"), says, "swap from and until")


def _stretches_lie_inside(season: Season, sources: SourceMap) -> Iterator[Problem]:
    frame = season.season
    for path, first, last in _stretches(season):
        too_early = last is not None and last < frame.start
        too_late = first is not None and first > frame.end
        reversed_ = first is not None and last is not None and last < first
        if (too_early or too_late) and not reversed_:
            key = "until" if too_early else "from"
            says = f"all of it lies outside the season, {frame.start} to {frame.end}"
            way_out = "correct the dates, or delete the table"
            yield sources.problem((*path, key), says, way_out, level="warning")


def _dates_lie_inside(season: Season, sources: SourceMap) -> Iterator[Problem]:
    frame = season.season
    dated: list[tuple[KeyPath, dt.date | None, Level]] = []
    dated += [(("practice_on", n), one.date, "error") for n, one in enumerate(season.practice_on)]
    dated += [(("move", n), one.date, "error") for n, one in enumerate(season.move)]
    dated += [(("move", n, "of"), one.of.date, "error") for n, one in enumerate(season.move)]
    dated += [(("pin", n), one.date, "error") for n, one in enumerate(season.pin)]
    dated += [(("no_practice", n), one.date, "warning") for n, one in enumerate(season.no_practice)]
    dated += [(("game", n), one.date, "error") for n, one in enumerate(season.game)]
    says = f"the date lies outside the season, which runs from {frame.start} to {frame.end}"
    way_out = "change the date, or the season's start or end"
    if frame.end < frame.start:
        return
    for path, day, level in dated:
        if day is not None and not frame.start <= day <= frame.end:
            at = path if path[-1] == "of" else (*path, "date")
            yield sources.problem(at, says, way_out, found=f"{day}", level=level)


def _no_practice_has_a_date(season: Season, sources: SourceMap) -> Iterator[Problem]:
    for n, off in enumerate(season.no_practice):
        ends = [day for day in (off.from_, off.until) if day is not None]
        if off.date is not None and ends:
            says = "has a date and a stretch of dates"
            yield sources.problem(("no_practice", n), says, "keep date, or from and until")
        elif off.date is None and len(ends) != 2:
            says = "has neither a date nor a stretch of dates"
            if ends:
                says = f"has {'from' if off.from_ else 'until'} alone"
            yield sources.problem(("no_practice", n), says, "write date =, or from = and until =")


def _times_are_to_the_minute(season: Season, sources: SourceMap) -> Iterator[Problem]:
    tables: tuple[tuple[str, Sequence[dt.time | None]], ...] = (
        ("slot", [slot.start for slot in season.slot]),
        ("practice_on", [extra.start for extra in season.practice_on]),
        ("move", [move.start for move in season.move]),
        ("game", [game.start for game in season.game]),
    )
    for table, starts in tables:
        for n, start in enumerate(starts):
            if start is not None and (start.second or start.microsecond):
                says, way_out = "a time is given to the minute", f"write start = {start:%H:%M}:00"
                yield sources.problem((table, n, "start"), says, way_out)


def _team_fits(season: Season, sources: SourceMap) -> Iterator[Problem]:
    team = season.team
    youngest, oldest = team.ages
    if youngest > oldest:
        says = "the youngest player's age comes first"
        yield sources.problem(("team", "ages"), says, f"write ages = [{oldest}, {youngest}]")
    in_groups = sum(group.players for group in season.group)
    if in_groups > team.players:
        last = ("group", len(season.group) - 1, "players")
        says = f"all groups together have {in_groups} players, the team has {team.players}"
        yield sources.problem(last, says, "correct the groups, or players of [team]")
    expected: list[tuple[KeyPath, int | None]] = [(("team", "expected"), team.expected)]
    expected += [(("slot", n, "expected"), slot.expected) for n, slot in enumerate(season.slot)]
    for path, number in expected:
        if number is not None and number > team.players:
            says = f"more players are expected than the team has, {team.players}"
            way_out = "correct it, or players of [team]"
            yield sources.problem(path, says, way_out, level="warning")


def _reviews_ascend(season: Season, sources: SourceMap) -> Iterator[Problem]:
    days = season.teaching.review_after
    if any(later <= earlier for earlier, later in pairwise(days)):
        says = "usually each review is further off than the one before"
        ascending = ", ".join(str(number) for number in sorted(set(days)))
        way_out = f"write review_after = [{ascending}]"
        yield sources.problem(("teaching", "review_after"), says, way_out, level="warning")
