"""Practices that the coach moves."""

import pytest

from curriculum.gym.bookings import Booking, bookings_of
from curriculum.gym.moves import apply_moves
from curriculum.models.gymtimes import Parts
from tests.gym_season import WEDNESDAY, written

TO_THURSDAY = """
[[move]]
of = 2027-02-10
date = 2027-02-11
start = 18:00:00
"""

FRIDAY_IN_SOUTH = """
[[slot]]
weekday = "friday"
start = 16:00:00
minutes = 60
venue = "south-hall"
"""


def moved(text: str) -> tuple[list[Booking], list[str]]:
    """Return the bookings that a move has changed, and the faults as sentences."""
    season = written(text)
    bookings, problems = apply_moves(season, bookings_of(season)[0])
    return [one for one in bookings if one.moved_by], [str(problem) for problem in problems]


def test_what_is_left_out_stays() -> None:
    """A move of date and start keeps gym and length, and knows whence it came."""
    (booking,), problems = moved(WEDNESDAY + TO_THURSDAY)

    assert (booking.words, booking.first.date.isoformat(), booking.key, booking.dated) == (
        "Thu 11 Feb 18:00-19:15 in north-gym",
        "2027-02-10",
        "move[1]",
        True,
    )
    assert problems == []


def test_everything_may_change() -> None:
    """A move may set start, length, gym, court, baskets, players and fixed parts."""
    (booking,), _ = moved(
        WEDNESDAY
        + TO_THURSDAY
        + 'minutes = 60\nvenue = "south-hall"\ncourt = "half"\n'
        + "baskets = 1\nexpected = 7\nwarm_up = 5"
    )

    assert (
        booking.words,
        booking.court,
        booking.baskets,
        booking.expected,
        booking.parts[0].warm_up,
    ) == ("Thu 11 Feb 18:00-19:00 in south-hall", "half", 1, 7, 5)


def test_parts_of_the_slot_stand_behind_those_of_the_move() -> None:
    """The move's parts come first, then the slot's, then the season's."""
    (booking,), _ = moved(WEDNESDAY + "cool_down = 4" + TO_THURSDAY + "warm_up = 5")
    stated = [(table.warm_up, table.cool_down) for table in booking.parts]

    assert stated == [(5, None), (None, 4), (None, None)]
    assert all(isinstance(table, Parts) for table in booking.parts)


@pytest.mark.parametrize(
    ("move_keys", "baskets"), [("", 2), ('venue = "south-hall"', None), ("baskets = 1", 1)]
)
def test_baskets_of_a_slot_stay_in_its_gym(move_keys: str, baskets: int | None) -> None:
    """Baskets that a slot states hold while the practice stays in that gym."""
    (booking,), _ = moved(WEDNESDAY + "baskets = 2" + TO_THURSDAY + move_keys)

    assert booking.baskets == baskets


def test_a_venue_tells_two_practices_apart() -> None:
    """With a date and a gym, the practice in that gym is moved."""
    other = WEDNESDAY.replace("north-gym", "south-hall").replace("17:30", "09:00")
    (booking,), problems = moved(
        WEDNESDAY
        + other
        + """
[[move]]
of = { date = 2027-02-10, venue = "south-hall" }
date = 2027-02-11
"""
    )

    assert (booking.words, problems) == ("Thu 11 Feb 09:00-10:15 in south-hall", [])


def test_an_extra_practice_can_be_moved() -> None:
    """A practice from `practice_on` is moved like that of a slot."""
    (booking,), problems = moved("""
[[practice_on]]
date = 2027-02-13
start = 10:00:00
minutes = 60
venue = "north-gym"
[[move]]
of = 2027-02-13
date = 2027-02-14
""")

    assert (booking.words, problems) == ("Sun 14 Feb 10:00-11:00 in north-gym", [])


def test_a_closed_date_can_be_moved_from() -> None:
    """A practice that a closure would cost can be moved elsewhere."""
    closure = "[[closure]]\nfrom = 2027-02-10\nuntil = 2027-02-10\n"
    (booking,), problems = moved(WEDNESDAY + closure + TO_THURSDAY)

    assert (booking.words, problems) == ("Thu 11 Feb 18:00-19:15 in north-gym", [])


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            WEDNESDAY + TO_THURSDAY.replace("02-10", "02-09"),
            (
                "move[1].of: no practice stands on Tue 9 Feb (found 2027-02-09); "
                "the nearest practices are on Wed 3 Feb and Wed 10 Feb"
            ),
        ),
        (
            WEDNESDAY + TO_THURSDAY.replace("02-10", "01-01"),
            (
                "move[1].of: no practice stands on Fri 1 Jan (found 2027-01-01); "
                "the nearest practices are on Wed 13 Jan and Wed 20 Jan"
            ),
        ),
        (
            TO_THURSDAY,
            "move[1].of: no practice stands on Wed 10 Feb (found 2027-02-10); add a [[slot]] first",
        ),
        (
            WEDNESDAY + TO_THURSDAY.replace("2027-02-10", '{date = 2027-02-10, venue = "x"}'),
            (
                "move[1].of: no practice stands on Wed 10 Feb (found 2027-02-10 x); "
                "that date has a practice in north-gym"
            ),
        ),
        (
            WEDNESDAY + WEDNESDAY.replace("north-gym", "south-hall") + TO_THURSDAY,
            (
                "move[1].of: more than one practice stands on Wed 10 Feb (found 2027-02-10); "
                'write of = { date = 2027-02-10, venue = "north-gym" } '
                "or another of north-gym, south-hall"
            ),
        ),
        (
            WEDNESDAY + WEDNESDAY.replace("17:30", "19:00") + TO_THURSDAY,
            (
                "move[1].of: more than one practice stands on Wed 10 Feb (found 2027-02-10); "
                "both are in one gym: split one of the slots by until and from, "
                "and add a [[practice_on]]"
            ),
        ),
        (
            WEDNESDAY + '[[no_practice]]\ndate = 2027-02-10\nreason = "coach away"' + TO_THURSDAY,
            (
                "move[1].of: the practice on Wed 10 Feb is called off by [[no_practice]]: coach "
                "away (found 2027-02-10); leave one of the two out, or add a [[practice_on]] "
                "instead"
            ),
        ),
        (
            WEDNESDAY + TO_THURSDAY.replace("2027-02-11", "2027-04-05"),
            (
                "move[1].date: the date lies outside the season, which runs from 2027-01-11 "
                "to 2027-04-04 (found 2027-04-05); change the date, or the season's start or end"
            ),
        ),
    ],
)
def test_a_faulty_move_changes_nothing(text: str, sentence: str) -> None:
    """What a move cannot do is said with the way out, and the practice stays."""
    assert moved(text) == ([], [sentence])


def test_no_date_called_off_is_offered() -> None:
    """The nearest practices that a message names are none that `no_practice` calls off."""
    off = "[[no_practice]]\ndate = 2027-02-10\n"
    _, sentences = moved(WEDNESDAY + off + TO_THURSDAY.replace("02-10", "02-09"))

    assert sentences == [
        (
            "move[1].of: no practice stands on Tue 9 Feb (found 2027-02-09); "
            "the nearest practices are on Wed 3 Feb and Wed 17 Feb"
        )
    ]


def test_two_moves_of_one_practice() -> None:
    """The first of two moves counts, the second is refused."""
    (booking,), sentences = moved(WEDNESDAY + TO_THURSDAY + TO_THURSDAY.replace("02-11", "02-12"))

    assert booking.words == "Thu 11 Feb 18:00-19:15 in north-gym"
    assert sentences == [
        "move[2].of: move[1] moves the same practice (found 2027-02-10); keep only one of the two"
    ]


def test_a_move_of_a_moved_practice() -> None:
    """A move names the date first planned; one that names a new date is sent to the other."""
    (booking,), sentences = moved(
        WEDNESDAY + TO_THURSDAY + TO_THURSDAY.replace("02-11", "02-12").replace("02-10", "02-11")
    )

    assert booking.words == "Thu 11 Feb 18:00-19:15 in north-gym"
    assert sentences == [
        (
            "move[2].of: no practice stands on Thu 11 Feb (found 2027-02-11); "
            "move[1] brings one there, change that one instead"
        )
    ]


def test_two_practices_can_change_places() -> None:
    """Moves read the calendar as first planned, so two practices can be exchanged."""
    bookings, sentences = moved(
        WEDNESDAY
        + FRIDAY_IN_SOUTH
        + """
[[move]]
of = 2027-02-10
date = 2027-02-12
[[move]]
of = 2027-02-12
date = 2027-02-10
"""
    )

    assert [(one.words, one.moved_by) for one in bookings] == [
        ("Fri 12 Feb 17:30-18:45 in north-gym", "move[1]"),
        ("Wed 10 Feb 16:00-17:00 in south-hall", "move[2]"),
    ]
    assert sentences == []
