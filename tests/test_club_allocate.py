"""Sharing out a club's hours: hand-solved weeks, a published instance, and random ones."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from curriculum.club.allocate.allocate import Allocation, allocate
from curriculum.club.allocate.asks import hours_of
from curriculum.club.allocate.exact import installed, share_out
from curriculum.club.allocate.greedy import greedy
from curriculum.club.allocate.remedies import Remedy
from curriculum.club.allocate.score import faults, score
from curriculum.club.allocate.week import Option, Week, week_of_club
from curriculum.models.club import Busy, Club, ClubGym, ClubSlots, ClubTeam, GameHours, Way
from curriculum.models.gymtimes import WEEKDAYS
from curriculum.models.season import Game
from tests.build import day
from tests.club_build import at, club, group, opening, slot, slots, team

EXACT = pytest.mark.skipif(not installed(), reason="the solver (OR-Tools) is not installed")
ENGINES = pytest.mark.parametrize("exact", [False, pytest.param(True, marks=EXACT)])


def times(allocation: Allocation) -> set[tuple[str, str, str]]:
    """Return who practises when: team, weekday, start."""
    return {(each.team, each.weekday[:3], f"{each.start:%H:%M}") for each in allocation.slots.slot}


def values(allocation: Allocation) -> list[int]:
    """Return the values of the tiers."""
    return [tier.value for tier in allocation.tiers]


@ENGINES
def test_the_younger_team_goes_first(exact: bool) -> None:
    """Of two teams on one court the younger one has the earlier hour.

    By hand: a half hour later costs 1 point for the older team and 2 for the younger one. Older
    team at 18:00: 2 points. Younger team at 18:00: 4 points.
    """
    found = allocate(club(team("a", "old"), team("b", "young")), exact=exact)

    assert (times(found), values(found)) == (
        {("b", "mon", "17:00"), ("a", "mon", "18:00")},
        [0, 0, 2],
    )


@ENGINES
def test_practices_lie_apart(exact: bool) -> None:
    """A team with two practices gets days that do not follow each other where it can."""
    one = club(
        team("a", practices=2),
        opening=(opening("north", "mon tue wed", "17:00", "18:00"),),
    )

    found = allocate(one, exact=exact)

    assert (times(found), values(found)) == (
        {("a", "mon", "17:00"), ("a", "wed", "17:00")},
        [0, 0, 0],
    )


def two_gyms(second_start: str) -> Club:
    """Return two teams of one coach in two gyms that are 20 minutes apart."""
    return club(
        team("a", coaches="ada", gyms=("north",)),
        team("b", coaches="ada", gyms=("south",)),
        frame={"grid": 30},
        gym=(ClubGym(id="north", name="North Gym"), ClubGym(id="south", name="South Gym")),
        way=(Way(from_="north", to="south", minutes=20),),
        opening=(
            opening("north", "mon", "17:00", "18:00"),
            opening("south", "mon", second_start, "20:00"),
        ),
    )


@ENGINES
def test_a_coach_needs_time_for_the_way(exact: bool) -> None:
    """The next practice in another gym begins no sooner than the way allows.

    20 minutes round up to 30 on a grid of half hours, so that after 18:00 it is 18:30.
    """
    found = allocate(two_gyms("18:00"), exact=exact)

    assert times(found) == {("a", "mon", "17:00"), ("b", "mon", "18:30")}


@ENGINES
def test_what_does_not_fit_is_told(exact: bool) -> None:
    """Three hours asked for and two there: one team is named that goes without."""
    found = allocate(club(team("a"), team("b"), team("c")), exact=exact)

    assert (values(found)[0], len(found.slots.slot), [each.practices for each in found.lacks]) == (
        60,
        2,
        [1],
    )


@EXACT
def test_a_clash_is_smallest_and_its_remedies_work() -> None:
    """The clash names the three teams that contend for two hours, not the fourth beside them."""
    crowded = club(
        team("a", gyms=("north",)),
        team("b", gyms=("north",)),
        team("c", gyms=("north",)),
        team("d", gyms=("south",)),
        gym=(ClubGym(id="north", name="North Gym"), ClubGym(id="south", name="South Gym")),
        opening=(
            opening("north", "mon", "17:00", "19:00"),
            opening("south", "mon", "17:00", "18:00"),
        ),
    )

    clash = allocate(crowded, exact=True).clash

    assert clash is not None
    words = "1 practice of 60 minutes on a whole court"
    why = "together they ask for 180 minutes of a whole court a week"
    assert (clash.teams, clash.smallest, clash.why) == (
        tuple(f"{name}, {words}" for name in "ABC"),
        True,
        f"{why}, and within their hours their gyms have 120",
    )
    assert clash.remedies == (
        Remedy("North Gym open until 20:00 on Monday", everyone=True),
        Remedy("no practice a week for A", everyone=True),
        Remedy("no practice a week for B", everyone=True),
        Remedy("no practice a week for C", everyone=True),
    )


@EXACT
def test_a_remedy_says_whether_it_helps_the_whole_club() -> None:
    """What settles a clash may leave others of the club short, and says so.

    By hand: two hours of one court; A and B ask for half of it, C and D for all. The clash is B, C
    and D. If C takes half a court, it shares an hour with B, but then A finds no half left.
    """
    crowded = club(team("a", court="half"), team("b", court="half"), team("c"), team("d"))

    clash = allocate(crowded, exact=True).clash

    assert clash is not None
    assert Remedy("half a court for C", everyone=False) in clash.remedies
    assert Remedy("North Gym open until 20:00 on Monday", everyone=True) in clash.remedies


@EXACT
def test_nothing_lacking_means_no_clash() -> None:
    """A club whose hours suffice has no clash, and every tier is proved."""
    found = allocate(club(team("a"), team("b")), exact=True)

    assert (found.clash, found.lacks, all(tier.proved for tier in found.tiers)) == (None, (), True)


@ENGINES
def test_last_term_is_kept(exact: bool) -> None:
    """What stood last term stands again, though another order would please more."""
    last = slots(slot("a", "mon", "17:00"), slot("b", "mon", "18:00"))

    found = allocate(club(team("a", "old"), team("b", "young")), last=last, exact=exact)

    assert (times(found), values(found), found.added, found.dropped) == (
        {("a", "mon", "17:00"), ("b", "mon", "18:00")},
        [0, 0, 4],
        (),
        (),
    )


@EXACT
def test_a_lost_hour_moves_one_team_only() -> None:
    """When the gym loses an hour, exactly the team that had it moves."""
    last = slots(slot("a", "mon", "17:00"), slot("b", "mon", "18:00"))
    shorter = club(
        team("a", "old"),
        team("b", "young"),
        opening=(
            opening("north", "mon", "17:00", "18:00"),
            opening("north", "tue", "17:00", "19:00"),
        ),
    )

    found = allocate(shorter, last=last, exact=True)

    assert (times(found), values(found)[:2], [each.team for each in found.dropped]) == (
        {("a", "mon", "17:00"), ("b", "tue", "17:00")},
        [0, 1],
        ["b"],
    )


@ENGINES
def test_busy_hours_are_kept_free(exact: bool) -> None:
    """A coach who works until six takes no team before."""
    busy = Busy(coach="ada", weekday="monday", start=at("00:00"), end=at("18:00"))
    found = allocate(club(team("a", coaches="ada"), busy=(busy,)), exact=exact)

    assert times(found) == {("a", "mon", "18:00")}


@ENGINES
def test_the_latest_end_holds(exact: bool) -> None:
    """A practice ends by the group's latest end, or is not held."""
    early = club(team("a"), age_group=(group("old", (14, 15), latest=at("17:30")),))

    found = allocate(early, exact=exact)

    assert (times(found), values(found)[0]) == (set(), 60)


@ENGINES
def test_games_make_a_time_less_welcome(exact: bool) -> None:
    """A team with games on Mondays practises on Tuesday, where no date is lost."""
    games = {"a": [Game(id="cup", date=day("01-11"), start=at("10:00"), opponent="Terns")]}
    two_days = club(team("a"), opening=(opening("north", "mon tue", "17:00", "18:00"),))

    found = allocate(two_days, games=games, exact=exact)

    assert times(found) == {("a", "tue", "17:00")}


def test_home_games_come_first() -> None:
    """Hours of home games are cut out of the opening hours, from the last court on."""
    reserved = club(
        team("a"),
        gym=(ClubGym(id="north", name="North Gym", courts=2),),
        opening=(opening("north", "mon", "17:00", "20:00"),),
        game_hours=(
            GameHours(gym="north", weekday="monday", start=at("18:00"), end=at("19:00"), courts=1),
        ),
    )

    assert hours_of(reserved) == {
        (("north", 1), 0): ((17 * 60, 20 * 60),),
        (("north", 2), 0): ((17 * 60, 18 * 60), (19 * 60, 20 * 60)),
    }


def toy() -> Club:
    """Return a course timetable as a club: courses are teams, lectures practices, rooms gyms.

    Instance "Toy" of the International Timetabling Competition 2007, track 3 (Di Gaspero,
    McCollum, Schaerf 2007, The Second International Timetabling Competition: Curriculum-based
    Course Timetabling, technical report): 4 courses of 3, 3, 5 and 5 lectures, 3 rooms of 32, 50
    and 40 seats, 5 days of 4 periods, courses of one curriculum or teacher never at once, and 8
    periods in which a course cannot be taught. Its official validator's example has no violation
    and cost 0. Seats, soft there, are hard here, and lectures of a course lie on days of their own.
    """
    courses = {
        "scecosc": (3, ("ra", "rb", "rc"), "ocra cur1"),
        "arctec": (3, ("rb",), "indaco cur1"),
        "teccos": (5, ("rb", "rc"), "rosa cur1 cur2"),
        "geotec": (5, ("ra", "rb", "rc"), "scarlatti cur2"),
    }
    never = [("teccos", 2, 0), ("teccos", 2, 1), ("teccos", 3, 2), ("teccos", 3, 3)]
    never += [("arctec", 4, period) for period in range(4)]
    return club(
        *(
            team(name, practices=lectures, gyms=rooms, coaches=people)
            for name, (lectures, rooms, people) in courses.items()
        ),
        frame={"travel_minutes": 0},
        gym=tuple(ClubGym(id=room, name=room) for room in ("ra", "rb", "rc")),
        opening=tuple(
            opening(room, "mon tue wed thu fri", "09:00", "13:00") for room in ("ra", "rb", "rc")
        ),
        busy=tuple(
            Busy(
                team=name,
                weekday=WEEKDAYS[weekday],
                start=at(f"{9 + period:02}:00"),
                end=at(f"{10 + period:02}:00"),
            )
            for name, weekday, period in never
        ),
    )


@ENGINES
def test_a_published_timetable_is_solved(exact: bool) -> None:
    """All 16 lectures of the competition's toy instance are placed without a violation."""
    found = allocate(toy(), exact=exact)

    assert (len(found.slots.slot), values(found)[0], found.lacks) == (16, 0, ())


@st.composite
def clubs(draw: st.DrawFn) -> Club:
    """Return a small club with shared coaches, busy hours and half courts."""
    members = [
        team(
            f"t{number}",
            draw(st.sampled_from(["young", "old"])),
            draw(st.sampled_from(["", "ada", "ada bea", "bea"])),
            practices=draw(st.integers(0, 3)),
            court=draw(st.sampled_from(["half", "full"])),
            minutes=90,
            shortest=draw(st.sampled_from([60, 90])),
        )
        for number in range(draw(st.integers(1, 5)))
    ]
    return club(
        *members,
        frame={"grid": 30},
        gym=(
            ClubGym(id="north", name="North Gym", courts=draw(st.integers(1, 2))),
            ClubGym(id="south", name="South Gym"),
        ),
        opening=(
            opening("north", "mon wed", "17:00", draw(st.sampled_from(["19:00", "20:30"]))),
            opening("south", draw(st.sampled_from(["mon", "tue wed"])), "17:00", "19:30"),
        ),
    )


def chosen_of(week: Week, allocation: Allocation) -> tuple[Option, ...]:
    """Return the options of a week that an allocation names."""
    found = []
    for each in allocation.slots.slot:
        start = each.start.hour * 60 + each.start.minute
        found += [
            option
            for options in week.options
            for option in options
            if (week.asks[option.ask].team, option.day, option.start, option.minutes, option.court)
            == (
                each.team,
                ("mon", "tue", "wed").index(each.weekday[:3]),
                start,
                each.minutes,
                (each.gym, each.number),
            )
        ]
    return tuple(found)


@EXACT
@settings(max_examples=25, deadline=None, derandomize=True)
@given(clubs())
def test_the_solver_keeps_the_rules_and_is_never_worse(one: Club) -> None:
    """Its allocations break no rule, score what they claim, and beat or equal the plain ones."""
    week = week_of_club(one)
    plain = greedy(week, 1)
    found = allocate(one, exact=True, effort="quick")
    options = chosen_of(week, found)

    assert (faults(week, plain), faults(week, options)) == ((), ())
    assert score(week, options) == tuple(values(found))
    assert tuple(values(found)) <= score(week, plain)
    assert all(tier.bound <= tier.value for tier in found.tiers)


@EXACT
def test_a_search_without_effort_keeps_what_was_known() -> None:
    """With no time at all the solver hands back the plain allocation, and claims no bound."""
    week = week_of_club(toy())
    plain = greedy(week, 0)

    found = share_out(week, plain, (0.0, 0.0, 0.0))

    assert [each.value for each in found] == list(score(week, plain))
    assert all(each.bound <= each.value for each in found)


@EXACT
def test_the_same_club_gives_the_same_times() -> None:
    """Two runs agree to the last minute and court."""
    assert allocate(toy(), exact=True) == allocate(toy(), exact=True)


def test_no_team_asks_for_nothing() -> None:
    """A club without teams has an empty week."""
    assert allocate(club(), exact=False).slots == ClubSlots()


def test_the_referee_sees_faults() -> None:
    """Two whole courts at once, and a coach in two places, are named."""
    week = week_of_club(club(team("a", coaches="ada"), team("b", coaches="ada")))
    both = (week.options[0][0], week.options[1][0])

    assert len(faults(week, both)) == 2


def test_a_team_may_ask_for_more_than_its_group() -> None:
    """What stands with the team goes before what its age group has."""
    one: ClubTeam = team("a", practices=2, minutes=90, court="half", latest=at("20:00"))
    ask = week_of_club(club(one)).asks[0]

    assert (ask.practices, ask.minutes, ask.shortest, ask.units, ask.latest) == (2, 90, 90, 1, 1200)
