"""A small season with its plan for the calendars that go out: two weeks, one game, one closure."""

import datetime as dt
from typing import Any

from curriculum.models.calendars import CalendarOut
from curriculum.models.gymtimes import Venue
from curriculum.models.plan import (
    Block,
    NotHeld,
    Plan,
    PlannedClosure,
    PlannedGame,
    PlannedPractice,
    Proof,
)
from curriculum.models.season import Frame, Game, Season, Team
from curriculum.models.skills import Library, Skill, StageWork

NOW = dt.datetime(2027, 1, 5, 9, 0, tzinfo=dt.UTC)
LATER = NOW + dt.timedelta(days=1)
LIBRARY = Library(
    skills=(
        Skill(id="give-and-go", name="Give-and-go", strand="Passing", unopposed=StageWork()),
        Skill(id="v-cut", name="V-cut", strand="Cutting", guided=StageWork()),
    )
)
OUT = CalendarOut(bring=("a ball", "water"), arrive_before=10)


def season(zone: str = "Europe/Dublin", *, name: str = "Kestrel Quay", **tables: Any) -> Season:
    """Return a season of two gyms and one game away."""
    tables.setdefault("calendar_out", OUT)
    return Season(
        season=Frame(
            id="kestrel-quay-test",
            name="Winter term",
            start=dt.date(2027, 1, 11),
            end=dt.date(2027, 4, 4),
            timezone=zone,
        ),
        team=Team(name=name, ages=(10, 11), players=12),
        venue=(
            Venue(id="north-gym", name="North Gym", address="1 Quay Road"),
            Venue(id="south-gym", name="South Gym"),
        ),
        **{"game": (cup(),), **tables},
    )


def cup(**changes: Any) -> Game:
    """Return the cup game, away, on Saturday 30 January at 10:00."""
    plain = {"id": "cup-1", "date": dt.date(2027, 1, 30), "start": dt.time(10), "home": False}
    return Game(**{**plain, "opponent": "Harbour Light", "address": "Lough Hall", **changes})


def practice(month_and_day: str, **changes: Any) -> PlannedPractice:
    """Return a practice in the north gym, 17:30 to 18:45, on a date written `01-13`."""
    date = dt.date.fromisoformat(f"2027-{month_and_day}")
    plain = {
        "id": f"{date}-north-gym-1730",
        "date": date,
        "start": dt.time(17, 30),
        "end": dt.time(18, 45),
        "venue": "north-gym",
        "week": 1,
        "teaching_minutes": 42,
    }
    return PlannedPractice(**{**plain, **changes})


def block(skill: str = "give-and-go", **changes: Any) -> Block:
    """Return the introduction of a skill, 8 minutes."""
    plain = {"stage": "unopposed", "number": 1, "of": 1, "kind": "introduce", "minutes": 8}
    return Block(skill=skill, **{**plain, **changes})


def plan(*practices: PlannedPractice, of: Season | None = None, **changes: Any) -> Plan:
    """Return a plan that holds these practices and the season's games."""
    frame = of or season()
    plain = {
        "revision": 1,
        "made": NOW,
        "season": frame.season.id,
        "team": frame.team.name,
        "timezone": frame.season.timezone,
        "status": "feasible",
        "proof": Proof(tiers=(), practices_needed_at_least=0, critical_path_practices=0),
        "practices": practices or (practice("01-13"), practice("01-15")),
        "games": tuple(PlannedGame(**game.model_dump()) for game in frame.game),
    }
    return Plan(**{**plain, **changes})


def lost(month_and_day: str, why: str = "gym closed: burst pipe") -> NotHeld:
    """Return the note that a practice of the north gym is not held."""
    date = dt.date.fromisoformat(f"2027-{month_and_day}")
    return NotHeld(id=f"{date}-north-gym-1730", date=date, why=why)


def closure(first: str, last: str, reason: str = "half-term", **changes: Any) -> PlannedClosure:
    """Return a closure; dates as `02-15`, both included."""
    dates = {
        "from_": dt.date.fromisoformat(f"2027-{first}"),
        "until": dt.date.fromisoformat(f"2027-{last}"),
    }
    return PlannedClosure(**{**dates, "reason": reason, **changes})
