"""One practice on one page: decides every word and minute that a sheet shows."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from curriculum.gym.practices import Practice
from curriculum.models.plan import Block, PlannedPractice
from curriculum.models.season import Season, Team
from curriculum.models.skills import Library, Skill, Stage
from curriculum.practice.book import Book
from curriculum.practice.goals import GoalLine, NextGame, goal_lines, goals_here, next_game
from curriculum.practice.kit import largest
from curriculum.practice.layout import SHORTEST_SPLIT, layout
from curriculum.practice.pick import balls_for
from curriculum.practice.play import teams
from curriculum.practice.rows import Missed, Row, rows_of
from curriculum.practice.safety import CAUTIONS, supervision
from curriculum.practice.words import KIND_WORD, skill_name, stage_name
from curriculum.wording import clock, listed, long_date, short_date

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
    kit: what to bring, the largest need over all rows.
    note: why much of the time is unused, or why nothing is new where a rule asks for that, else "".
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
    kit: tuple[str, ...]
    next_game: NextGame | None
    goals: tuple[GoalLine, ...]
    next_practice: NextPractice | None
    note: str
    supervision: str
    cautions: tuple[str, ...]


def page_of(
    practice: Practice, planned: PlannedPractice, book: Book, *, missed: Missed | None = None
) -> Sheet:
    """Return the sheet of one practice of a book.

    missed: who missed which introduction, for the coach's own sheet only.
    Raises ValueError when the practice is not in the plan, FaultyInputError when its blocks do not
    fit into the gym time.
    """
    plan, season, library, graph = book.plan, book.season, book.library, book.graph
    practices = book.practices
    if planned not in practices:
        raise ValueError(f"practice {planned.id} is not in the plan")
    index = practices.index(planned)
    venue = next((each for each in season.venue if each.id == practice.venue), None)
    recalled = book.recalled[planned.id] if practice.warm_up >= SHORTEST_SPLIT else None
    parts = layout(practice, planned, library, recall=recalled is not None)
    main = _main_blocks(planned)
    skill = book.skills.get(main[0].skill) if main else recalled
    rows = rows_of(parts, practice, planned, book, skill, missed or {})
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
        rows=rows,
        kit=_kit(practice, season.team, rows),
        next_game=next_game(plan, planned, season, library),
        goals=goal_lines(plan, season, library, goals_here(plan, planned, graph)),
        next_practice=_next_practice(practices[index + 1 :], season, library),
        note=book.thin.get(planned.id)
        or ("Nothing new today: a game follows." if practice.before_game else ""),
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


def _kit(practice: Practice, team: Team, rows: Sequence[Row]) -> tuple[str, ...]:
    """Return what to bring; that balls are shared is said where more would mean more turns."""
    balls = balls_for(practice, team)
    played = any(row.kind == "SCRIMMAGE" for row in rows)
    kits = [row.drill.kit for row in rows if row.drill]
    if played:
        kits.append(teams(practice.expected, practice.baskets, practice.court, balls).kit)
    kit = largest(kits)
    if kit.balls == balls < practice.expected:
        return (f"{kit.words[0]}: shared", *kit.words[1:])
    return kit.words


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
            f"{KIND_WORD[block.kind]} {stage_name(library, (block.skill, block.stage))}"
            for block in following.blocks
        ),
    )
