"""Closures, public holidays and the words for them."""

import datetime as dt

import pytest
from dateutil.easter import easter

from curriculum.gym.closures import (
    called_off_reason,
    closed_reason,
    closures_of,
    game_words,
    holiday_closures,
    public_holidays,
)
from curriculum.gym.practices import Closed
from curriculum.problems import FaultyInputError
from tests.gym_season import day, written

TWO_CLOSURES = """
[[closure]]
from = 2027-02-15
until = 2027-02-19
reason = "mid-term break"
[[closure]]
from = 2027-01-20
until = 2027-01-20
reason = "floor polish"
venue = "north-gym"
"""

IRELAND = """
[holidays]
country = "IE"
"""

# Organisation of Working Time Act 1997, Second Schedule, with the holiday of February that was
# added from 2023: the first Monday of the month, or 1 February where that is a Friday. First
# Mondays of May, June and August, last Monday of October; days counted by hand in a calendar.
IRISH_DAYS = {
    2026: [
        "01-01",
        "02-02",
        "03-17",
        "04-06",
        "05-04",
        "06-01",
        "08-03",
        "10-26",
        "12-25",
        "12-26",
    ],
    2027: [
        "01-01",
        "02-01",
        "03-17",
        "03-29",
        "05-03",
        "06-07",
        "08-02",
        "10-25",
        "12-25",
        "12-26",
    ],
}

COUNTRY = "holidays.country: public holidays of this country are not known"
PART = "holidays.subdivision:"


def test_closures_are_in_order_of_date() -> None:
    """Closures come in order of date, whatever their order in the file."""
    assert closures_of(written(TWO_CLOSURES)) == (
        Closed(day("01-20"), day("01-20"), "floor polish", "north-gym"),
        Closed(day("02-15"), day("02-19"), "mid-term break"),
    )


@pytest.mark.parametrize(
    ("date", "venue", "reason"),
    [
        ("02-14", "north-gym", None),
        ("02-15", "north-gym", "mid-term break"),
        ("02-19", "south-hall", "mid-term break"),
        ("02-20", "south-hall", None),
        ("01-20", "north-gym", "floor polish"),
        ("01-20", "south-hall", None),
        ("01-20", "no-such-gym", None),
    ],
)
def test_closed_reason(date: str, venue: str, reason: str | None) -> None:
    """Both ends of a closure are closed; one with a venue closes only that gym."""
    assert closed_reason(closures_of(written(TWO_CLOSURES)), day(date), venue) == reason


def test_the_earliest_of_two_closures_counts() -> None:
    """Where closures lie over each other, the one that began first gives the reason."""
    late = Closed(day("02-17"), day("02-17"), "flood")
    early = Closed(day("02-15"), day("02-19"), "mid-term break")

    assert closed_reason([late, early], day("02-17"), "north-gym") == "mid-term break"


@pytest.mark.parametrize(
    ("date", "reason"),
    [
        ("02-02", None),
        ("02-03", "coach away"),
        ("02-04", None),
        ("03-08", "called off"),
        ("03-14", "called off"),
        ("03-15", None),
    ],
)
def test_called_off_reason(date: str, reason: str | None) -> None:
    """`no_practice` covers one date, or a stretch with both ends, and gives a reason by default."""
    season = written("""
[[no_practice]]
date = 2027-02-03
reason = "coach away"
[[no_practice]]
from = 2027-03-08
until = 2027-03-14
""")

    assert called_off_reason(season, day(date)) == reason


def test_a_no_practice_without_dates_covers_nothing() -> None:
    """An entry without a date calls nothing off, and does not crash."""
    season = written('[[no_practice]]\nreason = "forgotten"')

    assert called_off_reason(season, day("02-03")) is None


def test_game_words() -> None:
    """The first game of a date names opponent and side; a date without game has no words."""
    season = written("""
[[game]]
id = "cup-1"
date = 2027-02-20
start = 15:00:00
opponent = "Mill Road"
[[game]]
id = "cup-2"
date = 2027-02-20
start = 10:00:00
opponent = "Harbour Gulls"
home = false
[[game]]
id = "cup-3"
date = 2027-02-27
start = 10:00:00
opponent = "Mill Road"
""")
    words = [game_words(season.game, day(date)) for date in ("02-20", "02-21", "02-27")]

    assert words == ["away to Harbour Gulls", None, "at home to Mill Road"]


@pytest.mark.parametrize("year", sorted(IRISH_DAYS))
def test_public_holidays_of_ireland(year: int) -> None:
    """The public holidays of two whole years are those that the law names."""
    season = written(IRELAND, start=dt.date(year, 1, 1), end=dt.date(year, 12, 31))
    found = public_holidays(season)

    assert [f"{date:%m-%d}" for date in found] == IRISH_DAYS[year]


@pytest.mark.parametrize("year", sorted(IRISH_DAYS))
def test_easter_monday_by_the_computus(year: int) -> None:
    """Easter Monday follows the Easter Sunday that dateutil computes (method of the Church)."""
    season = written(IRELAND, start=dt.date(year, 1, 1), end=dt.date(year, 12, 31))
    found = [date for date, name in public_holidays(season).items() if name == "Easter Monday"]

    assert found == [easter(year) + dt.timedelta(days=1)]


def test_only_holidays_within_the_season() -> None:
    """Holidays before the first and after the last day are left out; both days count."""
    season = written(IRELAND, start=day("02-01"), end=day("03-17"))

    assert public_holidays(season) == {
        day("02-01"): "Saint Brigid's Day",
        day("03-17"): "Saint Patrick's Day",
    }


def test_a_day_off_before_the_new_year() -> None:
    """A holiday of the next year that is observed in this one is found.

    5 U.S.C. 6103(b): for a holiday on a Saturday, here 1 January 2028, the Friday before it.
    """
    season = written('[holidays]\ncountry = "US"', start=day("12-27"), end=day("12-31"))

    assert public_holidays(season) == {day("12-31"): "New Year's Day (observed)"}


def test_holidays_of_a_part_of_a_country() -> None:
    """A subdivision adds its own days, in English: Epiphany is one in Bavaria (FTG, article 1)."""
    season = written(
        '[holidays]\ncountry = "DE"\nsubdivision = "BY"', start=day("01-01"), end=day("01-10")
    )

    assert public_holidays(season) == {day("01-01"): "New Year's Day", day("01-06"): "Epiphany"}


def test_the_own_english_of_a_country() -> None:
    """Where the library has a country's own English beside American, the country's counts.

    17 May 2027 is the Monday 50 days after Easter Sunday: Whit Monday, in America Pentecost Monday.
    """
    season = written('[holidays]\ncountry = "VC"', start=day("05-10"), end=day("05-20"))

    assert public_holidays(season) == {easter(2027) + dt.timedelta(days=50): "Whit Monday"}


def test_names_do_not_depend_on_the_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    """The language of the machine does not change a name."""
    monkeypatch.setenv("LANGUAGE", "ga")

    assert public_holidays(written(IRELAND))[day("03-17")] == "Saint Patrick's Day"


def test_no_table_no_holidays() -> None:
    """Without `[holidays]` there are none."""
    assert public_holidays(written("")) == {}


@pytest.mark.parametrize(
    ("country", "subdivision", "sentence"),
    [
        ("ie", "", f'{COUNTRY} (found ie); did you mean "IE"?'),
        ("MON", "", f'{COUNTRY} (found MON); did you mean "MO"?'),
        ("ireland", "", f'{COUNTRY} (found ireland); did you mean "IE"?'),
        ("United Kingdom", "", f'{COUNTRY} (found United Kingdom); did you mean "GB"?'),
        (
            "QQQ",
            "",
            (
                f"{COUNTRY} (found QQQ); write a two-letter code of ISO 3166-1 such as IE, "
                "or leave out the table"
            ),
        ),
        ("DE", "Bayrn", f'{PART} DE has no such part (found Bayrn); did you mean "Bayern"?'),
        ("GB", "sct", f'{PART} GB has no such part (found sct); did you mean "SCT"?'),
        (
            "DE",
            "?",
            (
                f"{PART} DE has no such part (found ?); write a code such as BB, BE, BW, BY, HB, "
                "HE, HH, MV, or leave it out"
            ),
        ),
        ("IE", "Cork", f"{PART} IE is not divided into parts (found Cork); leave it out"),
    ],
)
def test_unknown_places(country: str, subdivision: str, sentence: str) -> None:
    """An unknown country or part of one is named, with codes that are near to it."""
    season = written(f'[holidays]\ncountry = "{country}"\nsubdivision = "{subdivision}"')
    with pytest.raises(FaultyInputError) as caught:
        public_holidays(season)

    assert str(caught.value) == sentence


def test_holidays_as_closures() -> None:
    """Public holidays close every gym for their day, in order of date."""
    names = {day("03-17"): "Saint Patrick's Day", day("02-01"): "Saint Brigid's Day"}

    assert holiday_closures(names) == (
        Closed(day("02-01"), day("02-01"), "Saint Brigid's Day"),
        Closed(day("03-17"), day("03-17"), "Saint Patrick's Day"),
    )
