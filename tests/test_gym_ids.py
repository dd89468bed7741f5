"""Ids of practices, fresh and kept."""

import datetime as dt

from curriculum.gym.bookings import bookings_of
from curriculum.gym.ids import ids_of
from curriculum.gym.moves import apply_moves
from curriculum.gym.practices import Former
from tests.gym_season import WEDNESDAY, day, written

ONE = WEDNESDAY + "from = 2027-02-10\nuntil = 2027-02-10\n"
"""Only Wednesday 10 February at 17:30 in the north gym."""

FRESH = "2027-02-10-north-gym-1730"

MOVE = """
[[move]]
of = 2027-02-10
date = 2027-02-11
"""


def former(practice_id: str, date: str, start: str, venue: str = "north-gym") -> Former:
    """Return a practice of an older plan, its date written `02-10`, its start `17:30`."""
    return Former(practice_id, day(date), dt.time.fromisoformat(start), venue)


def extra(date: str, start: str, venue: str = "north-gym") -> str:
    """Return the table of an extra practice."""
    return (
        f"[[practice_on]]\ndate = 2027-{date}\nstart = {start}:00\nminutes = 30\n"
        f'venue = "{venue}"\n'
    )


def named(text: str, *old: Former) -> dict[str, str]:
    """Return the id of each practice by where it stands, `02-10 17:30 north-gym`."""
    season = written(text)
    bookings, problems = apply_moves(season, bookings_of(season)[0])
    assert problems == ()
    ids = ids_of(bookings, old)
    assert len(set(ids)) == len(ids)
    places = [f"{one.date:%m-%d} {one.start:%H:%M} {one.venue}" for one in bookings]
    return dict(zip(places, ids, strict=True))


def test_a_fresh_id() -> None:
    """A new practice is named by date, gym and time."""
    assert named(ONE) == {"02-10 17:30 north-gym": FRESH}


def test_a_moved_practice_keeps_its_id() -> None:
    """A move changes nothing about the id, with or without an older plan, before or after."""
    for old in ((), (former(FRESH, "02-10", "17:30"),), (former(FRESH, "02-11", "17:30"),)):
        assert named(ONE + MOVE, *old) == {"02-11 17:30 north-gym": FRESH}


def test_a_move_taken_back() -> None:
    """A practice that returns to its first date keeps its id."""
    assert named(ONE, former(FRESH, "02-11", "18:00")) == {"02-10 17:30 north-gym": FRESH}


def test_an_edited_time_keeps_the_id() -> None:
    """A slot that is now an hour later carries the ids of the old plan on."""
    later = ONE.replace("17:30", "18:30")

    assert named(later, former(FRESH, "02-10", "17:30")) == {"02-10 18:30 north-gym": FRESH}


def test_a_time_edited_twice() -> None:
    """The id outlives a second edit, since the old plan holds it with the time of the first."""
    later = ONE.replace("17:30", "19:00")

    assert named(later, former(FRESH, "02-10", "18:30")) == {"02-10 19:00 north-gym": FRESH}


def test_another_gym_or_date_is_another_practice() -> None:
    """Only date and gym together carry an id on."""
    old = former(FRESH, "02-10", "17:30")
    gym, date = ONE.replace("north-gym", "south-hall"), ONE.replace("02-10", "02-17")

    assert named(gym, old) == {"02-10 17:30 south-hall": "2027-02-10-south-hall-1730"}
    assert named(date, old) == {"02-17 17:30 north-gym": "2027-02-17-north-gym-1730"}


def test_two_old_practices_fit() -> None:
    """Where two old practices could be meant, none is guessed."""
    old = (former("a", "02-10", "16:00"), former("b", "02-10", "19:00"))

    assert named(ONE, *old) == {"02-10 17:30 north-gym": FRESH}


def test_what_is_otherwise_matched_does_not_count() -> None:
    """Of two old practices, one is still there, so the other is the one that was retimed."""
    old = (former(FRESH, "02-10", "17:30"), former("2027-02-10-north-gym-1900", "02-10", "19:00"))

    assert named(ONE + extra("02-10", "20:00"), *old) == {
        "02-10 17:30 north-gym": FRESH,
        "02-10 20:00 north-gym": "2027-02-10-north-gym-1900",
    }


def test_a_split_practice() -> None:
    """Where one old practice became two at other times, the earlier one is it."""
    old = former(FRESH, "02-10", "17:30")
    text = extra("02-10", "18:30") + extra("02-10", "17:00")

    assert named(text, old) == {
        "02-10 17:00 north-gym": FRESH,
        "02-10 18:30 north-gym": "2027-02-10-north-gym-1830",
    }


def test_a_retimed_practice_and_a_new_one_at_its_old_time() -> None:
    """The retimed practice keeps the id, the new one gets a number, and both keep them later."""
    text = ONE.replace("17:30", "18:30") + extra("02-10", "17:30")
    expected = {"02-10 17:30 north-gym": f"{FRESH}-2", "02-10 18:30 north-gym": FRESH}

    assert named(text, former(FRESH, "02-10", "18:30")) == expected
    assert (
        named(text, former(FRESH, "02-10", "18:30"), former(f"{FRESH}-2", "02-10", "17:30"))
        == expected
    )


def test_two_practices_at_one_moment() -> None:
    """A second practice at the same moment in the same gym, a fault, still has its own id."""
    season = written(ONE + ONE)
    bookings, _ = bookings_of(season)

    assert ids_of(bookings) == (FRESH, f"{FRESH}-2")


def test_a_move_elsewhere_and_a_new_one_where_it_was() -> None:
    """A move that is changed takes its id along; an extra practice in between is another."""
    text = ONE + MOVE.replace("02-11", "02-12") + extra("02-11", "17:30")

    assert named(text, former(FRESH, "02-11", "17:30")) == {
        "02-11 17:30 north-gym": "2027-02-11-north-gym-1730",
        "02-12 17:30 north-gym": FRESH,
    }


def test_practices_that_change_places() -> None:
    """Two practices that change places keep their own ids, at the move and ever after."""
    other = "2027-02-12-north-gym-1730"
    text = ONE + extra("02-12", "17:30") + MOVE.replace("02-11", "02-12")
    text += "[[move]]\nof = 2027-02-12\ndate = 2027-02-10\n"
    expected = {"02-12 17:30 north-gym": FRESH, "02-10 17:30 north-gym": other}

    for old in (
        (former(FRESH, "02-10", "17:30"), former(other, "02-12", "17:30")),
        (former(FRESH, "02-12", "17:30"), former(other, "02-10", "17:30")),
    ):
        assert named(text, *old) == expected


def test_a_retimed_slot_that_is_moved() -> None:
    """An id kept through an edited time also lives through a move, old or new."""
    text = ONE.replace("17:30", "18:30") + MOVE

    for old in (former(FRESH, "02-10", "18:30"), former(FRESH, "02-11", "18:30")):
        assert named(text, old) == {"02-11 18:30 north-gym": FRESH}


def test_another_practice_given_up_there() -> None:
    """A retimed, moved slot is known by its exact place beside an old practice given up there."""
    text = ONE.replace("17:30", "18:30") + MOVE

    for date in ("02-10", "02-11"):
        old = (former(FRESH, date, "18:30"), former("given-up", date, "16:00"))
        assert named(text, *old) == {"02-11 18:30 north-gym": FRESH}


def test_a_slot_retimed_and_moved_at_once() -> None:
    """When time and date change in one edit, the first date and gym carry the id on."""
    text = ONE.replace("17:30", "18:30") + MOVE

    assert named(text, former(FRESH, "02-10", "17:30")) == {"02-11 18:30 north-gym": FRESH}


def test_a_slot_retimed_under_a_standing_move() -> None:
    """When the slot's time is edited after a move, the moved date and gym carry the id on."""
    text = ONE.replace("17:30", "18:30") + MOVE

    assert named(text, former(FRESH, "02-11", "17:30")) == {"02-11 18:30 north-gym": FRESH}


def test_two_old_practices_at_one_moment() -> None:
    """Of two old practices at the very moment, the same one is chosen in any order."""
    old = (former("b", "02-10", "17:30"), former("a", "02-10", "17:30"))

    assert named(ONE, *old) == named(ONE, *old[::-1]) == {"02-10 17:30 north-gym": "a"}


def test_the_order_of_old_practices_does_not_matter() -> None:
    """A whole old plan gives the same ids in any order."""
    old = [former(f"old-{date}", date, "16:00") for date in ("01-13", "01-20", "01-27")]
    text = WEDNESDAY + "until = 2027-01-27"
    forward, backward = named(text, *old), named(text, *reversed(old))

    assert list(forward.values()) == ["old-01-13", "old-01-20", "old-01-27"]
    assert forward == backward
