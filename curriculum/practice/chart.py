"""A season as skills by weeks: what each week brings to each skill, and which weeks are shut."""

import datetime as dt
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.practice.progress import Placed, placed
from curriculum.spans import DAY, days_between, monday_of, week_of

Mark = Literal["new", "build", "taught", "review", ""]


@dataclass(frozen=True)
class ChartGame:
    """A game in the head of a chart."""

    opponent: str
    home: bool


@dataclass(frozen=True)
class ChartWeek:
    """One column. closed: why no practice is held in this week, "" when one is."""

    number: int
    monday: dt.date
    practices: int
    games: tuple[ChartGame, ...]
    closed: str


@dataclass(frozen=True)
class ChartRow:
    """One skill: a mark for each week, the number of its blocks, weeks in which goals are due."""

    skill: str
    name: str
    strand: str
    marks: tuple[Mark, ...]
    times: int
    due: tuple[int, ...]


@dataclass(frozen=True)
class Chart:
    """A season at a glance; rows stand by strand, within a strand as they are first taught."""

    team: str
    season: str
    weeks: tuple[ChartWeek, ...]
    rows: tuple[ChartRow, ...]

    @property
    def touched(self) -> tuple[int, ...]:
        """How many skills are met in each week."""
        return tuple(
            sum(1 for row in self.rows if row.marks[index]) for index in range(len(self.weeks))
        )


def chart(plan: Plan, season: Season, library: Library) -> Chart:
    """Return the chart of a plan; skills without any block in it are left out.

    A week shows the weightiest thing that happens to a skill: new, then taught, build, review.
    """
    first, last = season.season.start, season.season.end
    count = week_of(first, last)
    by_skill: dict[str, list[Placed]] = {}
    for each in placed(plan):
        by_skill.setdefault(each.block.skill, []).append(each)
    skills = {skill.id: skill for skill in library.skills}
    strands = list(dict.fromkeys(skill.strand for skill in library.skills))
    rows = [
        ChartRow(
            skill=skill_id,
            name=skills[skill_id].name if skill_id in skills else skill_id,
            strand=skills[skill_id].strand if skill_id in skills else "",
            marks=_marks(blocks, count, first),
            times=len(blocks),
            due=tuple(
                sorted({week_of(first, goal.by) for goal in plan.goals if goal.skill == skill_id})
            ),
        )
        for skill_id, blocks in by_skill.items()
    ]
    strands.append("")
    rows.sort(key=lambda row: strands.index(row.strand))
    return Chart(
        team=season.team.name,
        season=season.season.name,
        weeks=tuple(_week(plan, number, first) for number in range(1, count + 1)),
        rows=tuple(rows),
    )


def _marks(blocks: Sequence[Placed], count: int, first: dt.date) -> tuple[Mark, ...]:
    lessons = [each for each in blocks if each.block.kind != "review"]
    weeks: list[Mark] = [""] * count
    ranks: tuple[Mark, ...] = ("", "review", "build", "taught", "new")
    for each in blocks:
        mark: Mark = "build"
        if each.block.kind == "introduce":
            mark = "new"
        elif each.block.kind == "review":
            mark = "review"
        elif each is lessons[-1] and each.completes:
            mark = "taught"
        index = week_of(first, each.date) - 1
        if 0 <= index < count:
            weeks[index] = max(weeks[index], mark, key=ranks.index)
    return tuple(weeks)


def _week(plan: Plan, number: int, first: dt.date) -> ChartWeek:
    monday = monday_of(first) + (number - 1) * 7 * DAY
    days = frozenset(days_between(monday, monday + 6 * DAY))
    practices = sum(1 for practice in plan.practices if practice.date in days)
    games = sorted(
        (game for game in plan.games if game.date in days), key=lambda g: (g.date, g.start)
    )
    return ChartWeek(
        number=number,
        monday=monday,
        practices=practices,
        games=tuple(ChartGame(game.opponent, game.home) for game in games),
        closed="" if practices else _reason(plan, days),
    )


def _reason(plan: Plan, days: frozenset[dt.date]) -> str:
    """Return why a week has no practice: what shuts most of its days, else why a date is lost."""
    shut = Counter(
        closed.reason
        for closed in plan.closures
        for day in days_between(closed.from_, closed.until)
        if day in days
    )
    lost = [absent.why for absent in plan.not_held if absent.date in days]
    return next((reason for reason, _ in shut.most_common(1)), "") or (lost or ["no practice"])[0]
