"""What holds of every gym calendar, tried on many seasons."""

import datetime as dt
from collections import Counter

from hypothesis import given
from hypothesis import strategies as st

from curriculum.gym.practices import Former
from curriculum.gym.slots import calendar_of
from curriculum.models.gymtimes import WEEKDAYS, Closure, Holidays, Move, MoveOf, NoPractice, Slot
from curriculum.models.season import Game, Season
from curriculum.spans import days_between, monday_of
from tests.gym_season import WEDNESDAY, written

START = dt.date(2027, 1, 11)
LATER = st.integers(0, 83).map(lambda n: START + dt.timedelta(days=n))
VENUES = st.sampled_from(["north-gym", "south-hall"])

SLOTS = st.builds(
    Slot,
    weekday=st.sampled_from(WEEKDAYS),
    start=st.integers(8, 20).map(dt.time),
    minutes=st.sampled_from([45, 75, 90]),
    venue=VENUES,
    from_=st.none() | LATER,
    until=st.none() | LATER,
    every=st.integers(1, 4),
)
CLOSURES = st.builds(
    lambda first, days, venue: Closure(
        from_=first, until=first + dt.timedelta(days=days), venue=venue
    ),
    LATER,
    st.integers(0, 9),
    st.none() | VENUES,
)
GAMES = st.builds(
    lambda date, hour: Game(
        id=f"g-{date}-{hour}", date=date, start=dt.time(hour), opponent="Mill Road"
    ),
    LATER,
    st.integers(9, 20),
)
MOVES = st.builds(
    lambda of, venue, to: Move(of=MoveOf(date=of, venue=venue), date=to),
    LATER,
    st.none() | VENUES,
    LATER,
)
SEASONS = st.builds(
    lambda slots, closures, off, games, moves, holidays: written("").model_copy(
        update={
            "slot": tuple(slots),
            "closure": tuple(closures),
            "no_practice": tuple(NoPractice(date=date) for date in off),
            "game": tuple(games),
            "move": tuple(moves),
            "holidays": holidays,
        }
    ),
    st.lists(SLOTS, max_size=4, unique_by=lambda slot: (slot.weekday, slot.start, slot.venue)),
    st.lists(CLOSURES, max_size=2),
    st.lists(LATER, max_size=3),
    st.lists(GAMES, max_size=3),
    st.lists(MOVES, max_size=4),
    st.sampled_from([None, Holidays(country="IE")]),
)


def slot_dates(season: Season) -> list[tuple[str, dt.date]]:
    """Return id and date of every weekly gym time, worked out day by day from the file alone."""
    found = []
    for date in days_between(season.season.start, season.season.end):
        for slot in season.slot:
            begin = slot.from_ or season.season.start
            weeks = (monday_of(date) - monday_of(begin)).days // 7
            if (
                WEEKDAYS[date.weekday()] == slot.weekday
                and begin <= date <= (slot.until or season.season.end)
                and weeks % slot.every == 0
            ):
                found.append((f"{date}-{slot.venue}-{slot.start:%H%M}", date))
    return found


@given(SEASONS)
def test_every_slot_date_is_accounted_for_once(season: Season) -> None:
    """Each weekly date is held or not held, exactly once, and nothing else is in the calendar."""
    gym = calendar_of(season)
    planned = slot_dates(season)
    outcomes = Counter(
        [(one.id, one.date) for one in gym.practices] + [(one.id, one.date) for one in gym.not_held]
    )

    assert {pair: outcomes[pair] for pair in planned} == dict.fromkeys(planned, 1)
    assert {practice_id for practice_id, _ in outcomes} == {
        practice_id for practice_id, _ in planned
    }
    assert max(Counter(one.id for one in gym.practices).values(), default=1) == 1


@given(SEASONS)
def test_the_order_of_slots_does_not_matter(season: Season) -> None:
    """With the slots of the file in reversed order the calendar is the same."""
    one = calendar_of(season)
    other = calendar_of(season.model_copy(update={"slot": season.slot[::-1]}))

    assert (one.practices, one.not_held) == (other.practices, other.not_held)


def test_the_order_of_slots_at_one_moment_does_not_matter() -> None:
    """Even two gym times at one moment in one gym, a fault, give the same calendar either way."""
    season = written(WEDNESDAY + WEDNESDAY.replace("75", "60"))
    one = calendar_of(season)
    other = calendar_of(season.model_copy(update={"slot": season.slot[::-1]}))

    assert (one.practices, one.not_held) == (other.practices, other.not_held)
    assert one.practices[0].id != one.practices[1].id


@given(SEASONS)
def test_the_calendar_of_a_calendar(season: Season) -> None:
    """Given its own practices as the older plan, a calendar comes out the same."""
    gym = calendar_of(season)
    former = [Former(one.id, one.date, one.start, one.venue) for one in gym.practices]

    assert calendar_of(season, former) == gym
