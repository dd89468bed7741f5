"""Random libraries and seasons, feasible and not, for properties that every plan must have."""

import datetime as dt
from typing import Any

from hypothesis import strategies as st

from curriculum.graph import stage_graph
from curriculum.models.gymtimes import Closure, NoPractice, Parts, PracticeOn, Slot, Venue, Weekday
from curriculum.models.season import Focus, Frame, Game, Goal, Known, Pin, Season, Teaching, Team
from curriculum.models.skills import STAGES, Library, Skill, StageWork

START = dt.date(2027, 1, 11)
STRANDS = ("Passing", "Moving", "Defence")


@st.composite
def works(draw: st.DrawFn) -> StageWork:
    """Draw a stage of one to three blocks; now and then one that asks for many players."""
    return StageWork(
        blocks=draw(st.integers(1, 3)),
        minutes=draw(st.integers(4, 16)),
        players=draw(st.sampled_from([None, None, None, 6, 10])),
        court=draw(st.sampled_from([None, None, None, "full"])),
        baskets=draw(st.sampled_from([None, None, 2])),
    )


@st.composite
def libraries(draw: st.DrawFn) -> Library:
    """Draw one to seven skills; each needs only skills before it, so that there is no loop."""
    skills: list[Skill] = []
    for number in range(draw(st.integers(1, 7))):
        stages = draw(st.sets(st.sampled_from(STAGES), min_size=1))
        needs = [
            earlier.id + draw(st.sampled_from(["", "", f"@{earlier.stages[-1]}"]))
            for earlier in skills
            if draw(st.integers(0, 3)) == 0
        ]
        work: dict[str, Any] = {stage: draw(works()) for stage in sorted(stages)}
        skills.append(
            Skill(
                id=f"skill-{number}",
                name=f"Skill {number}",
                strand=draw(st.sampled_from(STRANDS)),
                needs=tuple(needs),
                **work,
            )
        )
    return Library(skills=tuple(skills))


@st.composite
def seasons(draw: st.DrawFn, library: Library) -> Season:
    """Draw a season of one to seven weeks over a library, with goals that may well clash."""
    weeks = draw(st.integers(1, 7))
    end = START + dt.timedelta(days=7 * weeks - 1)
    days = st.integers(0, 7 * weeks - 1).map(lambda n: START + dt.timedelta(days=n))
    nodes = st.sampled_from(sorted(stage_graph(library)))
    choice: tuple[Weekday, ...] = ("monday", "tuesday", "thursday")
    weekdays = draw(st.sets(st.sampled_from(choice), min_size=1))
    games = draw(st.lists(days, max_size=2, unique=True))
    game_ids = [f"game-{number}" for number in range(len(games))]
    known = draw(st.lists(nodes, max_size=2, unique=True))
    pins = draw(st.lists(st.tuples(nodes, days), max_size=2, unique=True))
    return Season(
        season=Frame(id="random", name="Random", start=START, end=end, timezone="Europe/Dublin"),
        team=Team(name="Random", ages=(10, 11), players=draw(st.integers(6, 14))),
        teaching=draw(teachings()),
        practice=draw(st.sampled_from([Parts(), Parts(warm_up=5, scrimmage=5, changeover=0)])),
        venue=(Venue(id="gym", name="Gym", baskets=draw(st.integers(1, 4))),),
        slot=tuple(
            Slot(
                weekday=weekday,
                start=dt.time(17, 30),
                minutes=draw(st.sampled_from([60, 75, 90])),
                venue="gym",
                court=draw(st.sampled_from(["full", "full", "half"])),
            )
            for weekday in sorted(weekdays)
        ),
        practice_on=tuple(
            PracticeOn(date=day, start=dt.time(9), minutes=60, venue="gym")
            for day in draw(st.lists(days, max_size=1))
        ),
        no_practice=tuple(NoPractice(date=day) for day in draw(st.lists(days, max_size=2))),
        closure=tuple(
            Closure(from_=day, until=min(end, day + dt.timedelta(days=3)))
            for day in draw(st.lists(days, max_size=1))
        ),
        game=tuple(
            Game(id=name, date=day, start=dt.time(19), opponent="Harbour Gulls")
            for name, day in zip(game_ids, games, strict=True)
        ),
        known=tuple(Known(skill=skill, stage=stage) for skill, stage in known),
        goal=tuple(draw(st.lists(goals(nodes, days, game_ids), max_size=6))),
        pin=tuple(
            Pin(skill=skill, stage=stage, date=day)
            for (skill, stage), day in pins
            if (skill, stage) not in known
        ),
        focus=tuple(
            Focus(from_=START, until=day, strand=draw(st.sampled_from(STRANDS)))
            for day in draw(st.lists(days, max_size=1))
        ),
    )


@st.composite
def teachings(draw: st.DrawFn) -> Teaching:
    """Draw rules from narrow to wide."""
    return Teaching(
        new_skills=draw(st.integers(1, 3)),
        blocks=draw(st.integers(1, 6)),
        gap_days=draw(st.sampled_from([1, 1, 2, 5])),
        stretch_days=draw(st.sampled_from([7, 14])),
        quiet_before_game=draw(st.booleans()),
        build_within_practice=draw(st.booleans()),
        review_after=draw(st.sampled_from([(7, 14, 28), (3,), ()])),
        spare=draw(st.sampled_from([0, 10])),
    )


@st.composite
def goals(
    draw: st.DrawFn,
    nodes: st.SearchStrategy[Any],
    days: st.SearchStrategy[dt.date],
    games: list[str],
) -> Goal:
    """Draw a goal of any importance by a date, a game or the season's end."""
    skill, stage = draw(nodes)
    by = draw(st.one_of(st.none(), days, *([st.sampled_from(games)] if games else [])))
    return Goal(
        skill=skill,
        stage=stage,
        by=by,
        need=draw(st.sampled_from(["must", "should", "could"])),
        weight=draw(st.integers(1, 9)),
    )


@st.composite
def cases(draw: st.DrawFn) -> tuple[Library, Season]:
    """Draw a library and a season over it."""
    library = draw(libraries())
    return library, draw(seasons(library))
