"""The matrix of a club's curriculum: which stage of each skill each age group has reached."""

from collections.abc import Iterable
from dataclasses import dataclass

from curriculum.club.inherit import reached_by, younger
from curriculum.graph import Node
from curriculum.models.club import AgeGroup, Club, ClubCurriculum, Reach
from curriculum.models.season import Importance
from curriculum.models.skills import STAGES, Library, Skill, Stage


@dataclass(frozen=True)
class Cell:
    """What an age group has reached of a skill at its season's end; new: not so before."""

    stage: Stage
    new: bool


@dataclass(frozen=True)
class Row:
    """A skill over all age groups; None where nothing of it is reached yet."""

    skill: str
    name: str
    strand: str
    cells: tuple[Cell | None, ...]


@dataclass(frozen=True)
class Matrix:
    """Skills by age groups, youngest first; rows in the order of strands and first teaching."""

    groups: tuple[tuple[str, str], ...]
    rows: tuple[Row, ...]


def matrix_of(club: Club, curriculum: ClubCurriculum, library: Library) -> Matrix:
    """Return the matrix; skills that nobody teaches stand in it with empty cells."""
    ladder = club.ladder
    stands = [reached_by(curriculum, [*younger(club, group), group]) for group in ladder]
    own = [reached_by(curriculum, [group]) for group in ladder]
    rows = []
    for skill in library.skills:
        cells: list[Cell | None] = []
        for group, reached, newly in zip(ladder, stands, own, strict=True):
            stage = reached.get(skill.id)
            before = reached_by(curriculum, younger(club, group)).get(skill.id)
            fresh = skill.id in newly and stage != before
            cells.append(None if stage is None else Cell(stage, fresh))
        rows.append(Row(skill.id, skill.name, skill.strand, tuple(cells)))
    rows.sort(key=lambda row: (row.strand, _first(row), row.name))
    return Matrix(tuple((group.id, group.name) for group in ladder), tuple(rows))


def _first(row: Row) -> int:
    return next((n for n, cell in enumerate(row.cells) if cell is not None), len(row.cells))


def column(club: Club, curriculum: ClubCurriculum, group: AgeGroup) -> tuple[Node, ...]:
    """Return what an age group newly reaches: the highest stage of each skill of its column."""
    before = reached_by(curriculum, younger(club, group))
    return tuple(
        (skill, stage)
        for skill, stage in reached_by(curriculum, [group]).items()
        if skill not in before or STAGES.index(stage) > STAGES.index(before[skill])
    )


def standing(club: Club, curriculum: ClubCurriculum, group: AgeGroup) -> tuple[Node, ...]:
    """Return where a player stands who comes up into an age group."""
    return tuple(reached_by(curriculum, younger(club, group)).items())


def stages_up_to(skill: Skill, stage: Stage) -> tuple[Stage, ...]:
    """Return the stages of a skill up to one of them, easiest first."""
    return tuple(each for each in skill.stages if STAGES.index(each) <= STAGES.index(stage))


def reach_of(group: str, nodes: Iterable[Node], need: Importance = "should") -> Reach:
    """Return an age group's column as its file states it, skills in order of id."""
    highest: dict[str, Stage] = {}
    for skill, stage in nodes:
        if skill not in highest or STAGES.index(stage) > STAGES.index(highest[skill]):
            highest[skill] = stage
    return Reach(
        age_group=group,
        need=need,
        unopposed=_at(highest, "unopposed"),
        guided=_at(highest, "guided"),
        live=_at(highest, "live"),
    )


def _at(highest: dict[str, Stage], stage: Stage) -> tuple[str, ...]:
    return tuple(sorted(skill for skill, each in highest.items() if each == stage))
