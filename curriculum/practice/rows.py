"""What stands in each row of a sheet: the words to one part of a practice."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from curriculum.models.plan import Block, Plan, PlannedPractice
from curriculum.models.skills import Library, Skill
from curriculum.practice.layout import Part
from curriculum.practice.progress import placed
from curriculum.practice.words import KIND_WORD, STAGE_MEANS, clock, short_date

RowKind = Literal["NEW", "BUILD", "REVIEW", "WARM-UP", "WATER", "SCRIMMAGE", "COOL-DOWN"]


@dataclass(frozen=True)
class Row:
    """One part of the practice.

    minutes: of a block without its changeover, which follows it.
    number: the block's place among today's blocks, None for other parts.
    count: which of the stage's blocks it is, e.g. `block 1 of 2`.
    tells: what to know or do, in sentences.
    drill: the coach's own choice, else None.
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
    cues: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()
    drill: str | None = None


def rows_of(
    parts: Sequence[Part],
    planned: PlannedPractice,
    plan: Plan,
    library: Library,
    recalled: Skill | None,
    main: str,
) -> Iterator[Row]:
    """Yield a row for each part; `main` is the name of the day's main skill, "" without one.

    What fixed parts say is common practice.
    """
    skills = {skill.id: skill for skill in library.skills}
    asked = ""
    played = False
    for part in parts:
        if part.block is not None:
            block = planned.blocks[part.block]
            asked = part.title
            yield _block_row(part, block, planned, plan, skills.get(block.skill))
        elif part.kind == "warm-up":
            yield _warm_up(part, recalled)
        elif part.kind == "water":
            question = f"Ask one player: what matters most in “{asked}”?" if asked else ""
            yield _fixed(part, "WATER", "Everybody drinks.", question)
        elif part.kind == "scrimmage":
            watch = f"Call out every good “{main}” that you see." if main else ""
            tells = ("Play on, new teams.",) if played else ("Free play, everybody in.", watch)
            played = True
            yield _fixed(part, "SCRIMMAGE", *tells)
        else:
            tells = ("Walk, breathe, drink.", "Each player names one thing from today.")
            yield _fixed(part, "COOL-DOWN", *tells)


def _fixed(part: Part, kind: RowKind, *tells: str) -> Row:
    return Row(
        clock=clock(part.start),
        minutes=part.minutes,
        kind=kind,
        title=part.title,
        tells=tuple(sentence for sentence in tells if sentence),
    )


def _warm_up(part: Part, recalled: Skill | None) -> Row:
    moving = "Easy movement first, then faster: run, stop, turn, land softly."
    if recalled is None:
        return _fixed(part, "WARM-UP", moving)
    row = _fixed(part, "WARM-UP", moving, f"Then {recalled.name}, {STAGE_MEANS['unopposed']}.")
    return replace(row, title=f"{part.title}, and recall: {recalled.name}", cues=recalled.cues[:2])


def _block_row(
    part: Part, block: Block, planned: PlannedPractice, plan: Plan, skill: Skill | None
) -> Row:
    now = (planned.date, planned.start)
    earlier = [p for p in placed(plan, block.skill) if (p.date, p.practice.start) < now]
    last = f"last time {short_date(earlier[-1].date)}, {earlier[-1].block.stage}" if earlier else ""
    return Row(
        clock=clock(part.start),
        minutes=block.minutes,
        changeover=part.changeover,
        kind=KIND_WORD[block.kind],
        title=part.title,
        number=(part.block or 0) + 1,
        stage=block.stage,
        stage_means=STAGE_MEANS[block.stage],
        count=f"{'review' if block.kind == 'review' else 'block'} {block.number} of {block.of}",
        last_time=last or "first time this season",
        strand=skill.strand if skill else "",
        tells=(skill.why,) if skill and skill.why else (),
        cues=skill.cues if skill else (),
        faults=skill.faults if skill else (),
        drill=block.drill,
    )
