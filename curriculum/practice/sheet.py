"""One practice on one page: decides every word and minute that a sheet shows."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from curriculum.graph import stage_graph
from curriculum.gym.practices import Practice
from curriculum.models.plan import Block, Plan, PlannedPractice
from curriculum.models.season import Season
from curriculum.models.skills import Library, Skill, Stage
from curriculum.practice.goals import GoalLine, NextGame, goal_lines, goals_here, next_game
from curriculum.practice.layout import layout
from curriculum.practice.progress import in_order
from curriculum.practice.recap import recaps
from curriculum.practice.rows import Row, rows_of
from curriculum.practice.safety import CAUTIONS, supervision
from curriculum.practice.words import (
    KIND_WORD,
    clock,
    listed,
    long_date,
    short_date,
    skill_name,
)

TITLE_ENDS: dict[Stage, str] = {
    "unopposed": ", no defender",
    "guided": " against a guided defender",
    "live": ", live",
}

AIMS = 3
"""Things to watch for at the top of a sheet: more is not kept in mind; common practice."""


@dataclass(frozen=True)
class NextPractice:
    """The practice that follows, and its blocks in words."""

    when: str
    blocks: tuple[str, ...]


@dataclass(frozen=True)
class Sheet:
    """One practice in words; every output renders it and adds nothing.

    number, of: which practice of the plan this is, of how many.
    aims: what we want to see today.
    note: why nothing is new where a rule asks for that, else "".
    """

    id: str
    title: str
    team: str
    season: str
    date: dt.date
    day: str
    start: str
    end: str
    minutes: int
    venue: str
    address: str
    court: str
    week: int
    number: int
    of: int
    expected: int
    revision: int
    aims: tuple[str, ...]
    rows: tuple[Row, ...]
    next_game: NextGame | None
    goals: tuple[GoalLine, ...]
    next_practice: NextPractice | None
    note: str
    supervision: str
    cautions: tuple[str, ...]


def sheet_of(
    practice: Practice, planned: PlannedPractice, season: Season, library: Library, plan: Plan
) -> Sheet:
    """Return the sheet of one practice of a plan.

    Raises ValueError when the practice is not in the plan, FaultyInputError when its blocks do not
    fit into the gym time.
    """
    practices = in_order(plan)
    if planned not in practices:
        raise ValueError(f"practice {planned.id} is not in the plan")
    index = practices.index(planned)
    graph = stage_graph(library)
    venue = next((each for each in season.venue if each.id == practice.venue), None)
    parts = layout(practice, planned, library)
    main = _main_blocks(planned)
    recalled = recaps(plan, season, library, graph)[planned.id] if practice.warm_up else None
    name = skill_name(library, main[0].skill) if main else ""
    if recalled and not main:
        name = recalled.name
    return Sheet(
        id=practice.id,
        title=_title(main, recalled, library),
        team=season.team.name,
        season=season.season.name,
        date=practice.date,
        day=long_date(practice.date),
        start=clock(practice.start),
        end=clock(practice.end),
        minutes=practice.minutes,
        venue=venue.name if venue else practice.venue,
        address=(venue.address or "") if venue else "",
        court=_court(practice),
        week=practice.week,
        number=index + 1,
        of=len(practices),
        expected=practice.expected,
        revision=plan.revision,
        aims=_aims(planned, main, recalled, library),
        rows=tuple(rows_of(parts, planned, plan, library, recalled, name)),
        next_game=next_game(plan, planned, season, library),
        goals=goal_lines(plan, season, library, goals_here(plan, planned, graph)),
        next_practice=_next_practice(practices[index + 1 :], season, library),
        note="Nothing new today: a game follows." if practice.before_game else "",
        supervision=supervision(practice.expected, season.team.ages, season.team.coaches),
        cautions=CAUTIONS,
    )


def _main_blocks(planned: PlannedPractice) -> tuple[Block, ...]:
    """Return what the day is about: all that is new, else the longest build, else review."""
    new = tuple(block for block in planned.blocks if block.kind == "introduce")
    build = [block for block in planned.blocks if block.kind == "build"]
    rest = build or planned.blocks
    return new or tuple(sorted(rest, key=lambda block: -block.minutes)[:1])


def _title(main: Sequence[Block], recalled: Skill | None, library: Library) -> str:
    if not main:
        return f"Play, and recall: {recalled.name}" if recalled else "Play together"
    names = listed([skill_name(library, block.skill) for block in main])
    if main[0].kind == "introduce":
        return f"New today: {names}"
    if main[0].kind == "review":
        return f"Back to: {names}"
    return f"{names}{TITLE_ENDS[main[0].stage]}"


def _aims(
    planned: PlannedPractice, main: Sequence[Block], recalled: Skill | None, library: Library
) -> tuple[str, ...]:
    """Return first cues: two of the only main skill, one of each other, the main ones first."""
    skills = {skill.id: skill for skill in library.skills}
    ids = dict.fromkeys(block.skill for block in (*main, *planned.blocks))
    chosen = [skills[each] for each in ids if each in skills]
    if not chosen and recalled:
        chosen = [recalled]
    cues: list[str] = []
    for skill in chosen:
        alone = skill is chosen[0] and len(main) < 2
        cues += skill.cues[: 2 if alone else 1]
    return tuple(dict.fromkeys(cues))[:AIMS]


def _court(practice: Practice) -> str:
    baskets = "1 basket" if practice.baskets == 1 else f"{practice.baskets} baskets"
    return f"{practice.court} court, {baskets}"


def _next_practice(
    later: Sequence[PlannedPractice], season: Season, library: Library
) -> NextPractice | None:
    if not later:
        return None
    following = later[0]
    venue = next((v.name for v in season.venue if v.id == following.venue), following.venue)
    return NextPractice(
        when=f"{short_date(following.date)}, {clock(following.start)}, {venue}",
        blocks=tuple(
            f"{KIND_WORD[block.kind]} {skill_name(library, block.skill)}, {block.stage}"
            for block in following.blocks
        ),
    )
