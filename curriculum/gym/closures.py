"""What keeps a gym shut or a team away on a date, and the words for it."""

import datetime as dt
from collections.abc import Iterable

from curriculum.files.nearest import nearest, suggest
from curriculum.gym.practices import Closed
from curriculum.models.gymtimes import LostPractice
from curriculum.models.season import Game, Season
from curriculum.problems import FaultyInputError, Problem

NAMED_CODES = 8
"""How many codes a message names when none looks like the one found."""


def closures_of(season: Season) -> tuple[Closed, ...]:
    """Return the season's own closures in order of date; public holidays are not among them."""
    closures = [
        Closed(from_=entry.from_, until=entry.until, reason=entry.reason, venue=entry.venue)
        for entry in season.closure
    ]
    return tuple(sorted(closures, key=_order))


def public_holidays(season: Season) -> dict[dt.date, str]:
    """Return the public holidays within the season by date; empty without a `[holidays]` table.

    Days observed in place of a holiday on a weekend are included. Names are English where the
    `holidays` library has them, else in the country's own language.

    Raises:
        FaultyInputError: The library does not know the country or the subdivision.

    """
    if season.holidays is None:
        return {}
    import holidays
    from holidays.registry import EntityLoader

    country, subdivision = season.holidays.country, season.holidays.subdivision
    # Only their codes: a list of countries with their parts would load every one of them.
    codes = tuple(EntityLoader.get_country_codes())
    if country not in codes:
        raise FaultyInputError([_unknown_country(country, codes)])
    plain = holidays.country_holidays(country)
    parts = [*plain.subdivisions, *plain.subdivisions_aliases]
    if subdivision and subdivision not in parts:
        raise FaultyInputError([_unknown_subdivision(country, subdivision, parts)])
    first, last = season.season.start, season.season.end
    calendar = holidays.country_holidays(
        country,
        subdiv=subdivision or None,
        years=range(first.year, last.year + 1),
        language=_language(plain.default_language, plain.supported_languages),
    )
    return {day: name for day, name in sorted(calendar.items()) if first <= day <= last}


def holiday_closures(names: dict[dt.date, str]) -> tuple[Closed, ...]:
    """Return public holidays as closures of every gym, one a day, in order of date."""
    return tuple(Closed(from_=day, until=day, reason=names[day]) for day in sorted(names))


def closed_reason(closures: Iterable[Closed], day: dt.date, venue: str) -> str | None:
    """Return why a gym is closed on a date, or None; of several closures the earliest counts."""
    found = sorted(
        (
            closed
            for closed in closures
            if closed.from_ <= day <= closed.until and closed.venue in (None, venue)
        ),
        key=_order,
    )
    return found[0].reason if found else None


def called_off_reason(season: Season, day: dt.date) -> str | None:
    """Return the reason of the `[[no_practice]]` that covers a date, or None."""
    for entry in season.no_practice:
        if isinstance(entry, LostPractice):
            continue
        first = entry.date or entry.from_
        last = entry.date or entry.until or first
        if first is not None and last is not None and first <= day <= last:
            return entry.reason
    return None


def lost_reason(season: Season, practice: str) -> str | None:
    """Return why a practice was lost, by its id, or None when it was not."""
    lost = (entry for entry in season.no_practice if isinstance(entry, LostPractice))
    found = (f"no practice: {one.reason}" for one in lost if one.practice == practice)
    return next(found, None)


def game_words(games: Iterable[Game], day: dt.date) -> str | None:
    """Return `away to Harbour Gulls` for the first game of a date, or None."""
    found = sorted((game for game in games if game.date == day), key=lambda game: game.start)
    return f"{'at home' if found[0].home else 'away'} to {found[0].opponent}" if found else None


def _order(closed: Closed) -> tuple[dt.date, dt.date, str, str]:
    return closed.from_, closed.until, closed.venue or "", closed.reason


def _language(own: str | None, supported: Iterable[str]) -> str | None:
    # Named outright: the library would otherwise look into the environment.
    if own is not None and own.startswith("en"):
        return own
    english = sorted(name for name in supported if name.startswith("en"))
    return english[0] if english else own


def _unknown_country(found: str, codes: Iterable[str]) -> Problem:
    from holidays.registry import COUNTRIES

    otherwise = "write a two-letter code of ISO 3166-1 such as IE, or leave out the table"
    two_letters = [code for code in codes if len(code) == 2]
    if len(found) > 3:
        # The library's own names, such as united_kingdom, each with its class and its codes.
        name = nearest(found, COUNTRIES)
        otherwise = f'did you mean "{COUNTRIES[name][1]}"?' if name else otherwise
        two_letters = []
    return Problem(
        "",
        0,
        "holidays.country",
        "public holidays of this country are not known",
        found=found,
        way_out=suggest(found, two_letters, otherwise),
    )


def _unknown_subdivision(country: str, found: str, codes: list[str]) -> Problem:
    if codes:
        says = f"{country} has no such part"
        otherwise = f"write a code such as {', '.join(codes[:NAMED_CODES])}, or leave it out"
        way_out = suggest(found, codes, otherwise)
    else:
        says, way_out = f"{country} is not divided into parts", "leave it out"
    return Problem("", 0, "holidays.subdivision", says, found=found, way_out=way_out)
