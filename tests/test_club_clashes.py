"""Clashes between teams on dates: courts, coaches, opening hours."""

import datetime as dt

from curriculum.club.clashes import TeamClash, clashes_of_teams
from curriculum.club.uses import Use, uses_of
from curriculum.fleet.clubspace import open_club
from curriculum.models.club import Club, ClubGym
from curriculum.spans import Span
from tests.build import day, game, gym, season
from tests.club_build import club, opening, slot, slots, team
from tests.test_club_reading import DEMO

MONDAY = day("01-11")


def use(team_id: str, start: str, end: str, date: dt.date = MONDAY, **others: object) -> Use:
    """Return a time on a whole court of the north gym."""
    begin = dt.datetime.combine(date, dt.time.fromisoformat(start))
    finish = dt.datetime.combine(date, dt.time.fromisoformat(end))
    plain = {"gym": "north", "coaches": (), "units": 2}
    return Use(date=date, span=Span(begin, finish), team=team_id, **{**plain, **others})  # type: ignore[arg-type]


def open_all_day(courts: int = 1) -> Club:
    """Return three teams of one coach with a gym that is open all Monday."""
    return club(
        team("a", coaches="ada"),
        team("b", coaches="ada"),
        team("c", coaches="ada"),
        gym=(ClubGym(id="north", name="North Gym", courts=courts),),
        opening=(opening("north", "mon", "08:00", "22:00"),),
    )


def test_two_teams_on_one_court_clash() -> None:
    """Overlapping times on the only court are told, both teams named."""
    found = clashes_of_teams(
        open_all_day(), (use("a", "17:00", "18:00"), use("b", "17:30", "18:30"))
    )

    assert [each.words for each in found] == [
        "Mon 11 Jan, North Gym: B 17:30-18:30 finds no free court beside A 17:00-18:00"
    ]


def test_times_that_touch_do_not_clash() -> None:
    """One ends when the next begins."""
    uses = (use("a", "17:00", "18:00"), use("b", "18:00", "19:00"))

    assert clashes_of_teams(open_all_day(), uses) == ()


def test_two_halves_make_a_court() -> None:
    """Two teams share a court, a third finds no room on it."""
    halves = tuple(use(name, "17:00", "18:00", units=1) for name in "abc")

    assert clashes_of_teams(open_all_day(), halves[:2]) == ()
    assert [each.says for each in clashes_of_teams(open_all_day(), halves)] == [
        "C 17:00-18:00 (half) finds no free court beside A 17:00-18:00 (half), B 17:00-18:00 (half)"
    ]


def test_a_numbered_court_is_taken_at_its_word() -> None:
    """Two teams on the same court clash, though the other court is free."""
    uses = (use("a", "17:00", "18:00", number=1), use("b", "17:00", "18:00", number=1))

    found = clashes_of_teams(open_all_day(courts=2), uses)

    assert [(each.kind, each.where) for each in found] == [("court", "North Gym court 1")]


def test_a_coach_is_not_in_two_places() -> None:
    """One coach with two teams at once is told, courts being free."""
    uses = (
        use("a", "17:00", "18:00", coaches=("ada",)),
        use("b", "17:30", "18:30", coaches=("ada",)),
    )

    found = clashes_of_teams(open_all_day(courts=2), uses)

    assert [each.words for each in found] == [
        "Mon 11 Jan, Ada: is with A 17:00-18:00 and with B 17:30-18:30"
    ]


def test_what_recurs_is_told_once() -> None:
    """The same clash in three weeks is one clash with its count."""
    uses = tuple(
        use(name, "17:00", "18:00", date=MONDAY + dt.timedelta(weeks=week))
        for week in range(3)
        for name in "ab"
    )

    found = clashes_of_teams(open_all_day(), uses)

    assert found == (
        TeamClash(
            MONDAY,
            "court",
            "North Gym",
            "B 17:00-18:00 finds no free court beside A 17:00-18:00",
            3,
        ),
    )


def test_practices_outside_the_hours_are_told() -> None:
    """A practice after closing time is told."""
    found = clashes_of_teams(open_all_day(), (use("a", "21:30", "22:30"),))

    assert [(each.kind, each.where) for each in found] == [("hours", "North Gym")]


def test_uses_come_from_calendars_and_home_games() -> None:
    """Practices carry the court of their slot; home games in a gym of the club take a whole one."""
    of = season(game=(game(venue="north-gym"), game("away", date=day("01-23"), home=False)))
    calendar = gym(of, dates=[day("01-12")])
    around = club(team("a"), gym=(ClubGym(id="north-gym", name="North Gym", courts=2),), opening=())
    times = slots(slot("a", "tue", "17:30", gym="north-gym", number=2))

    found = uses_of(around, times, {"a": calendar})

    assert [(each.date, each.hours, each.units, each.number, each.game) for each in found] == [
        (day("01-12"), "17:30-18:45", 2, 2, False),
        (day("01-30"), "10:00-11:00", 2, None, True),
    ]


def test_the_demo_club_has_no_clash() -> None:
    """Twelve teams in three gyms over a whole season, and nobody in anybody's way."""
    assert open_club(DEMO, dt.datetime(2026, 9, 1, tzinfo=dt.UTC)).clashes == ()
