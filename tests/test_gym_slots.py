"""The whole gym calendar: what is held, what is not and why."""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest

from curriculum.gym.practices import Closed, Former, Practice
from curriculum.gym.slots import calendar_of
from tests.gym_season import (
    COACH_AWAY,
    CUP,
    IRELAND,
    MID_TERM,
    TO_THURSDAY,
    WEDNESDAY,
    dates,
    day,
    extra,
    held,
    not_held,
    sentences,
    written,
)


def test_a_practice_in_full() -> None:
    """A practice of the usual length, with every field counted by hand."""
    gym = calendar_of(written(WEDNESDAY + "until = 2027-01-20"))

    assert gym.practices[1] == Practice(
        id="2027-01-20-north-gym-1730",
        date=day("01-20"),
        start=dt.time(17, 30),
        end=dt.time(18, 45),
        minutes=75,
        venue="north-gym",
        court="full",
        baskets=4,
        expected=9,  # four of five of 12 players, rounded down
        week=2,
        warm_up=12,
        scrimmage=12,
        cool_down=5,
        breaks=2,
        break_minutes=2,
        changeover=1,
        teaching_minutes=42,  # 75 - 12 - 12 - 5 - 4
        usable_minutes=37,  # 42 * 90 // 100
    )


def test_a_whole_winter() -> None:
    """A term with holidays, a break, a game, a free date and a move, all by hand."""
    gym = calendar_of(written(IRELAND + WEDNESDAY + MID_TERM + COACH_AWAY + CUP + TO_THURSDAY))

    assert " ".join(dates(gym)) == "01-13 01-20 01-27 02-11 03-03 03-10 03-24 03-31"
    assert not_held(gym) == [
        ("02-03", "no practice: coach away"),
        ("02-10", "moved to Thu 11 Feb 18:00"),
        ("02-17", "gym closed: mid-term break"),
        ("02-24", "game day: away to Harbour Gulls"),
        ("03-17", "public holiday: Saint Patrick's Day"),
    ]
    assert gym.closures == (
        Closed(day("02-01"), day("02-01"), "Saint Brigid's Day"),
        Closed(day("02-15"), day("02-19"), "mid-term break"),
        Closed(day("03-17"), day("03-17"), "Saint Patrick's Day"),
        Closed(day("03-29"), day("03-29"), "Easter Monday"),
    )
    assert [game.id for game in gym.games] == ["cup-1"]
    assert gym.problems == ()


def test_holidays_in_an_open_gym() -> None:
    """With `close_gym = false` practices are held on holidays, and nothing is said of them."""
    gym = calendar_of(written(IRELAND + "close_gym = false\n" + WEDNESDAY + extra("02-01")))

    assert (len(gym.practices), gym.not_held, gym.closures, gym.problems) == (13, (), (), ())


def test_an_unknown_country_is_a_problem_of_the_calendar() -> None:
    """The calendar is made without holidays and says so."""
    gym = calendar_of(written('[holidays]\ncountry = "ie"\n' + WEDNESDAY))

    assert len(gym.practices) == 12
    assert sentences(gym) == [
        (
            "holidays.country: public holidays of this country are not known (found ie); "
            'did you mean "IE"?'
        )
    ]


def test_order_of_practices() -> None:
    """Practices stand in order of date, start and gym, moved ones too."""
    gym = calendar_of(
        written(
            extra("02-03", "south-hall") + extra("02-03") + WEDNESDAY + "from = 2027-01-27\n"
            "until = 2027-02-03\n"
            "[[move]]\nof = 2027-01-27\ndate = 2027-02-03\nstart = 20:00:00\n"
        )
    )

    assert held(gym) == [
        "02-03 16:00 north-gym",
        "02-03 16:00 south-hall",
        "02-03 17:30 north-gym",
        "02-03 20:00 north-gym",
    ]


@pytest.mark.parametrize(
    ("keys", "baskets"),
    [
        ("", 4),
        ("baskets = 2", 2),
        ('court = "half"', 2),
        ('court = "half"\nbaskets = 3', 1),
        ('court = "half"\nbaskets = 1', 1),
        ('court = "half"\nbaskets = 0', 0),
    ],
)
def test_baskets(keys: str, baskets: int) -> None:
    """The slot's baskets count, else the gym's; half a court has half of them, at least one."""
    gym = calendar_of(written(WEDNESDAY + keys))

    assert {one.baskets for one in gym.practices} == {baskets}


def test_a_gym_that_the_season_does_not_describe() -> None:
    """A slot in an unknown gym does not crash; it counts as one with two baskets."""
    gym = calendar_of(written(WEDNESDAY.replace("north-gym", "no-such-gym")))

    assert {(one.venue, one.baskets) for one in gym.practices} == {("no-such-gym", 2)}


def test_expected_players() -> None:
    """A slot's own number of players counts, else the team's."""
    gym = calendar_of(written(WEDNESDAY + "until = 2027-01-13\nexpected = 7\n" + extra("01-20")))

    assert [one.expected for one in gym.practices] == [7, 9]


def test_parts_of_a_short_practice() -> None:
    """In 60 minutes the parts that nobody set shrink; what slot, season or move say stands."""
    gym = calendar_of(
        written(
            "[practice]\nscrimmage = 10\n"
            + WEDNESDAY.replace("75", "60")
            + "cool_down = 3\nuntil = 2027-01-20\n"
            + "[[move]]\nof = 2027-01-20\ndate = 2027-01-20\nminutes = 90\nbreaks = 1\n"
        )
    )

    assert [
        (one.warm_up, one.scrimmage, one.cool_down, one.breaks, one.break_minutes)
        for one in gym.practices
    ] == [(9, 10, 3, 1, 1), (12, 10, 3, 1, 2)]
    # 60 - 9 - 10 - 3 - 1 and 90 - 12 - 10 - 3 - 2
    assert [(one.teaching_minutes, one.usable_minutes) for one in gym.practices] == [
        (37, 33),
        (63, 56),
    ]


def test_hardly_any_teaching_is_reported_once_a_table() -> None:
    """A slot without teaching time is an error, one with little a warning, each once."""
    long_scrimmage = "scrimmage = 40\n"  # 75 - 12 - 40 - 5 - 4 leaves 14
    gym = calendar_of(
        written(
            WEDNESDAY
            + long_scrimmage
            + WEDNESDAY.replace("wednesday", "friday")
            + "scrimmage = 54\n"
        )
    )

    assert [(one.key, one.level) for one in gym.problems] == [
        ("slot[1].minutes", "warning"),
        ("slot[2].minutes", "error"),
    ]
    assert {one.usable_minutes for one in gym.practices} == {14 * 90 // 100, 0}


def test_no_practice_at_all() -> None:
    """A season without gym times, or with all of them called off, is an error."""
    empty = calendar_of(written(""))
    called_off = calendar_of(
        written(WEDNESDAY + "[[no_practice]]\nfrom = 2027-01-01\nuntil = 2027-12-31\n")
    )

    assert sentences(empty) == [
        "slot: the season has no practice; add a [[slot]] or a [[practice_on]]"
    ]
    assert sentences(called_off) == [
        (
            "slot: no practice is held: all 12 planned dates are called off; "
            "look at the closures, holidays and [[no_practice]] of the season"
        )
    ]


def test_wall_time_stays_when_the_clock_changes() -> None:
    """Practices at 17:30 stay at 17:30 over 28 March 2027, though the moment shifts by an hour."""
    gym = calendar_of(written(WEDNESDAY.replace("wednesday", "sunday") + "from = 2027-03-21"))
    dublin = ZoneInfo("Europe/Dublin")
    moments = [
        dt.datetime.combine(one.date, one.start, dublin).astimezone(dt.UTC)
        for one in gym.practices[:2]
    ]

    assert held(gym) == [
        "03-21 17:30 north-gym",
        "03-28 17:30 north-gym",
        "04-04 17:30 north-gym",
    ]
    assert [f"{moment:%m-%d %H:%M}" for moment in moments] == ["03-21 17:30", "03-28 16:30"]
    assert gym.problems == ()


def test_ids_of_an_older_plan() -> None:
    """A calendar with an edited time keeps the ids, of dates that are held or called off."""
    first = calendar_of(written(WEDNESDAY))
    former = [Former(one.id, one.date, one.start, one.venue) for one in first.practices]
    second = calendar_of(written(WEDNESDAY.replace("17:30", "18:30") + COACH_AWAY), former)
    expected = [one.id for one in first.practices]

    assert [one.id for one in second.not_held] == [expected[3]]
    assert [one.id for one in second.practices] == [*expected[:3], *expected[4:]]
