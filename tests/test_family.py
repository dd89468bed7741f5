"""The dates for families."""

import datetime as dt

from curriculum.practice.family import RARE, Day, GameDate, GymTime, family_dates
from tests.sample_plan import PLAN, SEASON

DATES = family_dates(PLAN, SEASON)


def test_each_gym_time_has_a_sign() -> None:
    """Wednesdays and Fridays are told with times and places, in order of the week."""
    assert DATES.times == (
        GymTime("1", "Wednesday, 17:30 to 18:45", "North Gym, 4 Mole Road, Kestrel Quay"),
        GymTime("2", "Friday, 18:00 to 19:00", "Quay Hall"),
    )


def test_months_run_from_monday_to_sunday() -> None:
    """January 2027 begins on a Friday; practices, games and closed days carry their marks."""
    january, february, march = DATES.months

    assert [month.name for month in DATES.months] == [
        "January 2027",
        "February 2027",
        "March 2027",
    ]
    assert january.weeks[0] == (*[Day(0)] * 4, Day(1), Day(2), Day(3))
    assert january.weeks[2][2] == Day(13, signs="1")
    assert february.weeks[0][5] == Day(6, game="H")
    assert february.weeks[2][:6] == (
        *(Day(number, closed=True) for number in range(15, 20)),
        Day(20, game="A"),
    )
    assert march.weeks[2][2] == Day(17, closed=True)
    assert all(len(week) == 7 for month in DATES.months for week in month.weeks)


def test_games_are_told_with_side_time_and_place() -> None:
    """Home and away, when and against whom; where and how early, as far as it is known."""
    away = PLAN.games[1].model_copy(update={"address": "1 Shore Lane", "arrive_before": 45})
    plan = PLAN.model_copy(update={"games": (away,)})

    assert family_dates(plan, SEASON).games == (
        GameDate("Sat 20 Feb, 10:00", "A", "Pinehill", "1 Shore Lane", "be there at 09:15"),
    )


def test_rare_times_share_a_sign_and_are_told_one_by_one() -> None:
    """Ten single dates at ten times: eight have a number, the others are told with their dates."""
    practices = tuple(
        practice.model_copy(
            update={"start": dt.time(8 + place), "end": dt.time(9 + place), "id": f"p{place}"}
        )
        for place, practice in enumerate(PLAN.practices[:10])
    )
    times = family_dates(PLAN.model_copy(update={"practices": practices}), SEASON).times

    assert [time.sign for time in times] == [*"12345678", RARE]
    assert times[-1] == GymTime(
        RARE,
        "Fri 5 Feb, 15:00 to 16:00, Quay Hall; Fri 12 Feb, 17:00 to 18:00, Quay Hall",
        "",
    )


def test_nothing_that_is_taught_and_nobody_is_named() -> None:
    """No skill's name is anywhere in the dates."""
    told = repr(DATES)

    assert not any(block.skill in told for practice in PLAN.practices for block in practice.blocks)
