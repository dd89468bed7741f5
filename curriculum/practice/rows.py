"""What stands in each row of a sheet: the words and the drill to one part of a practice."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from curriculum.gym.practices import Practice
from curriculum.models.plan import Block, PlannedPractice
from curriculum.models.skills import Skill
from curriculum.practice.book import Book
from curriculum.practice.exercise import Exercise, exercise, merged
from curriculum.practice.layout import Part
from curriculum.practice.pick import balls_for, means_of
from curriculum.practice.play import rule_of_the_day, teams
from curriculum.practice.progress import placed
from curriculum.practice.safety import MOVE, MOVE_SOURCE
from curriculum.practice.words import KIND_WORD, STAGE_MEANS
from curriculum.wording import clock, few, short_date

RowKind = Literal["NEW", "BUILD", "REVIEW", "WARM-UP", "RECALL", "WATER", "SCRIMMAGE", "COOL-DOWN"]

Missed = Mapping[str, Sequence[str]]
"""Skill id to the names of the players who missed its introduction, by the record."""

MOST_NAMES = 6
"""Names in one row; a longer list says how many more there are."""


@dataclass(frozen=True)
class Row:
    """One part of the practice.

    minutes: of a block without its changeover, which follows it.
    number: the block's place among today's blocks, None for other parts.
    count: which of the stage's blocks it is, e.g. `block 1 of 2`.
    tells: what to know or do, in sentences. source: what is published on it, and where.
    own_drill: the coach's own words for a drill that the library does not have.
    catch_up: who missed the introduction, "" without a record of it.
    """

    clock: str
    minutes: int
    kind: RowKind
    title: str
    changeover: int = 0
    number: int | None = None
    stage: str = ""
    stage_means: str = ""
    count: str = ""
    last_time: str = ""
    strand: str = ""
    tells: tuple[str, ...] = ()
    source: str = ""
    cues: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()
    drill: Exercise | None = None
    own_drill: str = ""
    catch_up: str = ""


def rows_of(
    parts: Sequence[Part],
    practice: Practice,
    planned: PlannedPractice,
    book: Book,
    main: Skill | None,
    missed: Missed,
) -> tuple[Row, ...]:
    """Return a row for each part; `main` is the day's main skill.

    What fixed parts say is common practice.
    """
    rows: list[Row] = []
    for part in parts:
        if part.block is not None:
            row = _block_row(part, practice, planned, book, missed, _used(rows))
        elif part.kind == "warm-up":
            row = replace(_fixed(part, "WARM-UP", *MOVE), source=MOVE_SOURCE)
        elif part.kind == "recall":
            row = _recall(part, practice, planned, book, missed)
        elif part.kind == "water":
            asked = next((row.title for row in reversed(rows) if row.number), "")
            question = f"Ask one player: what matters most in “{asked}”?" if asked else ""
            row = _fixed(part, "WATER", "Everybody drinks.", question)
        elif part.kind == "scrimmage":
            played = any(row.kind == "SCRIMMAGE" for row in rows)
            balls = balls_for(practice, book.season.team)
            sides = teams(practice.expected, practice.baskets, practice.court, balls).words
            first = (sides, rule_of_the_day(main))
            row = _fixed(part, "SCRIMMAGE", *(("Play on, new teams.",) if played else first))
        else:
            row = _fixed(
                part,
                "COOL-DOWN",
                "Walk, breathe, drink.",
                "Each player names one thing from today.",
            )
        rows.append(row)
    return tuple(rows)


def _used(rows: Sequence[Row]) -> list[str]:
    return [row.drill.id for row in rows if row.drill]


def _fixed(part: Part, kind: RowKind, *tells: str) -> Row:
    return Row(
        clock=clock(part.start),
        minutes=part.minutes,
        kind=kind,
        title=part.title,
        tells=tuple(sentence for sentence in tells if sentence),
    )


def _recall(
    part: Part, practice: Practice, planned: PlannedPractice, book: Book, missed: Missed
) -> Row:
    row, skill = _fixed(part, "RECALL"), book.recalled[planned.id]
    if skill is None:
        return row
    team = book.season.team
    means = means_of(practice, team, part.minutes)
    turn = book.turns[planned.id].recap
    picked = book.picker.best(skill.id, "unopposed", means, turn)
    drill = exercise(picked, team.coaches, book.season.group) if picked else None
    return replace(
        row,
        title=f"Recall: {skill.name}",
        stage="unopposed",
        stage_means=STAGE_MEANS["unopposed"],
        tells=() if drill else (f"{STAGE_MEANS['unopposed'].capitalize()}.",),
        cues=skill.cues[:2],
        drill=drill,
        catch_up=_catch_up(missed.get(skill.id, ())),
    )


def _block_row(
    part: Part,
    practice: Practice,
    planned: PlannedPractice,
    book: Book,
    missed: Missed,
    used: Sequence[str],
) -> Row:
    place = part.block or 0
    block = planned.blocks[place]
    skill = book.skills.get(block.skill)
    now = (planned.date, planned.start)
    earlier = [p for p in placed(book.plan, block.skill) if (p.date, p.practice.start) < now]
    last = f"last time {short_date(earlier[-1].date)}, {earlier[-1].block.stage}" if earlier else ""
    drill = _drill(block, practice, book, book.turns[planned.id].blocks[place], used)
    return Row(
        clock=clock(part.start),
        minutes=block.minutes,
        changeover=part.changeover,
        kind=KIND_WORD[block.kind],
        title=part.title,
        number=place + 1,
        stage=block.stage,
        stage_means=STAGE_MEANS[block.stage],
        count=f"{'review' if block.kind == 'review' else 'block'} {block.number} of {block.of}",
        last_time=last or "first time this season",
        strand=skill.strand if skill else "",
        tells=(skill.why,) if skill and skill.why else (),
        cues=merged(drill.cues if drill else (), skill.cues if skill else ()),
        faults=skill.faults if skill else (),
        drill=drill,
        own_drill="" if drill else block.drill or "",
        catch_up=_catch_up(missed.get(block.skill, ())) if block.kind != "introduce" else "",
    )


def _drill(
    block: Block, practice: Practice, book: Book, turn: int, used: Sequence[str]
) -> Exercise | None:
    """Return the coach's own drill, else the computed one; None for words that name no drill."""
    team = book.season.team
    means = means_of(practice, team, block.minutes)
    if block.drill:
        picked = book.picker.own(block.drill, block.stage, means)
    else:
        picked = book.picker.best(block.skill, block.stage, means, turn, used)
    return exercise(picked, team.coaches, book.season.group) if picked else None


def _catch_up(names: Sequence[str]) -> str:
    return f"Missed the introduction: {few(names, MOST_NAMES)}." if names else ""
