"""The foreign calendars of a season: read, understood, told, and added to the season."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from curriculum.gym.bookings import bookings_of
from curriculum.gym.imports.expand import Window
from curriculum.gym.imports.found import FileReport, RefusedError, Report
from curriculum.gym.imports.meaning import CALENDARS, EXPECTED, Meant, unexpected
from curriculum.gym.imports.octets import read_octets
from curriculum.gym.imports.rows import read_rows
from curriculum.gym.imports.sandbox import Result, read_apart
from curriculum.gym.imports.sides import plain
from curriculum.gym.imports.zones import iana_name, zone_or_none
from curriculum.gym.moves import apply_moves
from curriculum.models.calendars import CalendarIn
from curriculum.models.gymtimes import Closure, PracticeOn
from curriculum.models.season import Game, Season
from curriculum.problems import Problem

MOST_REMARKS = 5
"""Remarks on one file that become warnings of their own."""
PREVIEW = "see them all with `curriculum calendar --import`"


@dataclass(frozen=True)
class Imported:
    """What the calendars of a season add to it.

    problems: about a calendar file with its line, or about the season file with the key path in
    `key` and the place left open (file "", line 0).
    places: file and line of everything added, by the key that it gets in the season, `game[3]`.
    """

    closures: tuple[Closure, ...] = ()
    games: tuple[Game, ...] = ()
    practices: tuple[PracticeOn, ...] = ()
    report: Report = field(default_factory=Report)
    problems: tuple[Problem, ...] = ()
    places: Mapping[str, tuple[str, int]] = field(default_factory=dict)


def imported(
    season: Season, folder: Path, calendars: Sequence[CalendarIn] | None = None
) -> Imported:
    """Return what calendar files add to a season; nothing is changed by it.

    folder: where the files lie. calendars: entries in place of the season's own, for a preview.
    A file that cannot be used adds nothing and is an error; the others still count. A season whose
    own time zone is unknown gets nothing, since its clock means nothing.
    """
    if zone_or_none(season.season.timezone) is None:
        return Imported()
    entries = season.calendar if calendars is None else tuple(calendars)
    results = _results(season, folder, entries)
    closures: list[Closure] = []
    games: list[Game] = []
    practices: list[PracticeOn] = []
    reports: dict[int, FileReport] = {}
    problems: dict[int, list[Problem]] = {}
    places: dict[str, tuple[str, int]] = {}
    # Closed hours fall on practices, so that those of every file must be known before.
    for index in sorted(range(len(entries)), key=lambda each: entries[each].means == "closures"):
        entry, result = entries[index], results[index]
        path = str(folder / entry.file)
        if isinstance(result, RefusedError):
            problems[index] = [_refusal(path, index + 1, entry, result)]
            reports[index] = FileReport(entry.file, entry.means, refused=result.says)
            continue
        season_so_far = _with(season, closures, games, practices)
        bookings, _ = apply_moves(season_so_far, bookings_of(season_so_far)[0])
        meant = Meant(season_so_far, entry, bookings)
        meant.take(result)
        for table, lines in meant.lines.items():
            first = len(getattr(season_so_far, table)) + 1
            places |= {f"{table}[{n}]": (path, line) for n, line in enumerate(lines, start=first)}
        closures += meant.closures
        games += meant.games
        practices += meant.practices
        remarks = tuple(sorted({*result.remarks, *meant.remarks}))
        told = FileReport(entry.file, entry.means, tuple(meant.items), remarks, result.outside)
        reports[index] = told
        problems[index] = list(_warnings(path, told, season, entry))
    return Imported(
        tuple(closures),
        tuple(games),
        tuple(practices),
        Report(tuple(reports[index] for index in sorted(reports))),
        (
            *_entry_problems(season, entries),
            *(problem for index in sorted(problems) for problem in problems[index]),
        ),
        places,
    )


def with_imported(season: Season, found: Imported) -> Season:
    """Return the season with its foreign calendars written out, behind what it says itself."""
    return _with(season, found.closures, found.games, found.practices)


def placed(problems: Iterable[Problem], found: Imported) -> tuple[Problem, ...]:
    """Return problems of the season with those about imported tables moved to their files.

    The gym calendar knows only the season written out, where an imported game is `game[3]`.
    """
    return tuple(
        replace(problem, file=place[0], line=place[1], key="")
        if not problem.file and (place := found.places.get(problem.key.partition(".")[0]))
        else problem
        for problem in problems
    )


def _with(
    season: Season,
    closures: Sequence[Closure],
    games: Sequence[Game],
    practices: Sequence[PracticeOn],
) -> Season:
    return season.model_copy(
        update={
            "closure": (*season.closure, *closures),
            "game": (*season.game, *games),
            "practice_on": (*season.practice_on, *practices),
        }
    )


def _results(season: Season, folder: Path, entries: Sequence[CalendarIn]) -> list[Result]:
    """Read tables here and calendars apart, all of these in one go."""
    results: dict[int, Result] = {}
    apart: dict[int, tuple[bytes, Window]] = {}
    for index, entry in enumerate(entries):
        window = _window(season, entry)
        try:
            data = read_octets(folder / entry.file)
            if entry.file.lower().endswith(CALENDARS):
                apart[index] = (data, window)
            else:
                results[index] = read_rows(data, entry, window)
        except RefusedError as fault:
            results[index] = fault
    results |= dict(zip(apart, read_apart(tuple(apart.values())), strict=True))
    return [results[index] for index in range(len(entries))]


def _window(season: Season, entry: CalendarIn) -> Window:
    frame = season.season
    fallback = iana_name(entry.timezone or "") or frame.timezone
    return Window(frame.start, frame.end, frame.timezone, fallback)


def _entry_problems(season: Season, entries: Sequence[CalendarIn]) -> Iterator[Problem]:
    venues = {venue.id for venue in season.venue}
    for number, entry in enumerate(entries, start=1):
        key = f"calendar[{number}]"
        if entry.venue is not None and entry.venue not in venues:
            way_out = f"write one of {', '.join(sorted(venues))}" if venues else "add a [[venue]]"
            yield Problem("", 0, f"{key}.venue", "there is no such gym", entry.venue, way_out)
        if entry.timezone is not None and iana_name(entry.timezone) is None:
            way_out = "write a name of the IANA time zone database, such as Europe/Dublin"
            says = "no such time zone"
            yield Problem("", 0, f"{key}.timezone", says, entry.timezone, way_out)
        if entry.file in {other.file for other in entries[: number - 1]}:
            says = "this file is named twice, so its entries would count twice"
            yield Problem("", 0, f"{key}.file", says, entry.file, "", "warning")


def _refusal(path: str, number: int, entry: CalendarIn, fault: RefusedError) -> Problem:
    if fault.line == 0 and fault.says == "there is no such file":
        key = f"calendar[{number}].file"
        return Problem("", 0, key, fault.says, entry.file, fault.way_out)
    return Problem(path, fault.line, "", fault.says, fault.found, fault.way_out)


def _warnings(
    path: str, report: FileReport, season: Season, entry: CalendarIn
) -> Iterator[Problem]:
    doubtful = [remark for remark in report.remarks if remark[0]]
    for line, says in doubtful[:MOST_REMARKS]:
        yield Problem(path, line, "", says, level="warning")
    if len(doubtful) > MOST_REMARKS:
        says = f"{len(doubtful) - MOST_REMARKS} more remarks on this file"
        yield Problem(path, 0, "", says, way_out=PREVIEW, level="warning")
    skipped = list(unexpected(report.items))
    if skipped:
        first = skipped[0]
        says = f"skipped {len(skipped)} of {len(report.items)} entries, first this one: {first.why}"
        yield Problem(path, first.line, "", says, first.title, PREVIEW, "warning")
    if entry.means == "games" and report.items and not report.with_outcome("used"):
        yield from _nobody(path, report, entry.team or season.team.name)


def _nobody(path: str, report: FileReport, team: str) -> Iterator[Problem]:
    strangers = [item.title for item in report.items if item.why == EXPECTED[3]]
    if strangers:
        named = sorted({name for title in strangers for name in title.split(" - ")}, key=plain)
        says = f"no game of {team!r} is in it"
        way_out = f"set team in this [[calendar]] as the file writes it: {', '.join(named[:12])}"
        yield Problem(path, 0, "", says, "", way_out)
