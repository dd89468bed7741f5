"""Which dates are held, when several things speak for or against one."""

import datetime as dt

import pytest

from curriculum.gym.slots import calendar_of
from curriculum.models.plan import NotHeld
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

ALL_ON_17_MARCH = {
    "no_practice": '[[no_practice]]\ndate = 2027-03-17\nreason = "coach away"\n',
    "closure": '[[closure]]\nfrom = 2027-03-17\nuntil = 2027-03-17\nreason = "election"\n',
    "holiday": IRELAND,
    "game": CUP.replace("02-24", "03-17"),
}


@pytest.mark.parametrize(
    ("present", "why"),
    [
        ("no_practice closure holiday game", "no practice: coach away"),
        ("closure holiday game", "gym closed: election"),
        ("holiday game", "public holiday: Saint Patrick's Day"),
        ("game", "game day: away to Harbour Gulls"),
        ("", None),
    ],
)
def test_the_strongest_reason_counts(present: str, why: str | None) -> None:
    """Of all that stands against a weekly date, the strongest is its reason."""
    against = "".join(ALL_ON_17_MARCH[name] for name in present.split())
    gym = calendar_of(written(WEDNESDAY + "from = 2027-03-17\nuntil = 2027-03-17\n" + against))

    assert not_held(gym) == ([] if why is None else [("03-17", why)])
    assert dates(gym) == (["03-17"] if why is None else [])


@pytest.mark.parametrize(
    ("present", "is_held", "problem"),
    [
        ("no_practice closure holiday game", False, ""),
        (
            "closure holiday game",
            False,
            (
                "{key}.date: north-gym is closed on this date: election (found 2027-03-17); "
                "choose another date or gym, or shorten the closure"
            ),
        ),
        (
            "holiday game",
            True,
            (
                "warning: {key}.date: a practice on a public holiday: Saint Patrick's Day "
                "(found 2027-03-17); make sure that the gym is open"
            ),
        ),
        (
            "game",
            True,
            (
                "warning: {key}.date: a practice on a game day: away to Harbour Gulls "
                "(found 2027-03-17); make sure that the players can do both"
            ),
        ),
        ("", True, ""),
    ],
)
@pytest.mark.parametrize("how", ["practice_on", "move"])
def test_a_date_that_the_coach_asked_for(
    how: str, present: str, is_held: bool, problem: str
) -> None:
    """An extra or moved practice yields to no_practice, is an error in a closed gym, else held."""
    against = "".join(ALL_ON_17_MARCH[name] for name in present.split())
    asked = (
        extra("03-17")
        if how == "practice_on"
        else extra("03-16") + "[[move]]\nof = 2027-03-16\ndate = 2027-03-17\n"
    )
    gym = calendar_of(written(extra("01-12") + asked + against))
    problems = [
        sentence.replace("practice_on[2]", "{key}").replace("move[1]", "{key}")
        for sentence in sentences(gym)
    ]

    assert ("03-17" in dates(gym), problems) == (is_held, [problem] if problem else [])


def test_a_practice_that_moved_and_is_then_called_off() -> None:
    """Both dates say what became of the practice."""
    off = COACH_AWAY.replace("02-03", "02-11")
    gym = calendar_of(written(WEDNESDAY + TO_THURSDAY + off))

    assert gym.not_held == (
        NotHeld(id="2027-02-10-north-gym-1730", date=day("02-10"), why="moved to Thu 11 Feb 18:00"),
        NotHeld(id="2027-02-10-north-gym-1730", date=day("02-11"), why="no practice: coach away"),
    )


def test_a_move_within_the_day() -> None:
    """A practice that only changes its time is held that day, under the id of its first time."""
    gym = calendar_of(
        written(
            WEDNESDAY + "from = 2027-02-10\nuntil = 2027-02-10" + TO_THURSDAY.replace("11", "10")
        )
    )

    assert [(one.id, one.start) for one in gym.practices] == [
        ("2027-02-10-north-gym-1730", dt.time(18, 0))
    ]
    assert gym.not_held == ()


def test_a_move_to_another_gym_names_it() -> None:
    """The date left behind says where the practice went."""
    gym = calendar_of(written(WEDNESDAY + TO_THURSDAY + 'venue = "south-hall"'))

    assert not_held(gym) == [("02-10", "moved to Thu 11 Feb 18:00, South Hall")]
    assert [(one.id, one.baskets) for one in gym.on(day("02-11"))] == [
        ("2027-02-10-north-gym-1730", 3)
    ]


def test_practices_on_game_days() -> None:
    """With `practice_on_game_day` the weekly practice is held on a game's date."""
    switch = "[teaching]\npractice_on_game_day = true\n"
    gym = calendar_of(written(switch + WEDNESDAY + CUP + extra("02-25")))

    assert ("02-24" in dates(gym), gym.not_held, gym.problems) == (True, (), ())


def test_a_closure_of_one_gym() -> None:
    """A closure with a venue leaves the other gym open, whether or not the venue is known."""
    south = WEDNESDAY.replace("north-gym", "south-hall").replace("17:30", "09:00")
    closures = MID_TERM + 'venue = "south-hall"\n' + MID_TERM + 'venue = "no-such-gym"\n'
    gym = calendar_of(written(WEDNESDAY + south + closures))

    assert held(gym)[10:12] == ["02-17 17:30 north-gym", "02-24 09:00 south-hall"]
    assert not_held(gym) == [("02-17", "gym closed: mid-term break")]
