"""Judge a club's curriculum: needs, order, ages, guidance, and hours by a scheduled season."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from curriculum.club.curricula.matrix import column, stages_up_to, standing
from curriculum.club.curricula.typical import Proof, prove
from curriculum.club.inherit import reached_by, younger
from curriculum.club.rulesets import RuleSet, barred, group_faults
from curriculum.graph import Node, stage_graph
from curriculum.models.club import AgeGroup, Club, ClubCurriculum
from curriculum.models.skills import STAGES, Library, Skill, Stage

Kind = Literal["need", "step back", "twice", "age", "players", "guidance", "hours"]
MOST_NAMED = 5


@dataclass(frozen=True)
class Finding:
    """One thing that is wrong (an error) or odd (a warning) in a curriculum.

    source: the guidance that says so, with its body and year; else "".
    """

    kind: Kind
    group: str
    says: str
    error: bool
    source: str = ""


@dataclass(frozen=True)
class Judgement:
    """What holds of a curriculum.

    findings: errors first, then by age group. proofs: a scheduled typical season of each group.
    never: stages of the library that no age group reaches.
    """

    findings: tuple[Finding, ...]
    proofs: tuple[Proof, ...]
    never: tuple[Node, ...]


def judge_curriculum(club: Club, curriculum: ClubCurriculum, library: Library) -> Judgement:
    """Return all that is to be said of a curriculum."""
    skills = {skill.id: skill for skill in library.skills}
    findings: list[Finding] = []
    proofs = []
    for group in club.ladder:
        goals, known = column(club, curriculum, group), standing(club, curriculum, group)
        findings += _order(club, curriculum, group)
        findings += _needs(group, goals, known, library, skills)
        findings += _suits(group, goals, skills)
        bars = barred(club.club.rules, library, group)
        for skill, stage in goals:
            if skill in bars:
                says = f"{skills[skill].name} ({stage}) comes too early"
                findings.append(_guidance(group, says, bars[skill]))
        findings += [
            _guidance(group, says, rules) for rules, says in group_faults(club.club.rules, group)
        ]
        proof = prove(club, library, group, goals, known)
        proofs.append(proof)
        findings += _hours(group, proof, skills)
    return Judgement(
        findings=tuple(sorted(findings, key=lambda each: not each.error)),
        proofs=tuple(proofs),
        never=_never(curriculum, library),
    )


def _guidance(group: AgeGroup, says: str, rules: RuleSet) -> Finding:
    source = f"{rules.source}; {rules.certainty}"
    return Finding("guidance", group.name, says, error=False, source=source)


def _order(club: Club, curriculum: ClubCurriculum, group: AgeGroup) -> Iterator[Finding]:
    """Tell what a group states that a younger one has reached, or passed."""
    before: dict[str, tuple[Stage, str]] = {}
    for other in younger(club, group):
        for skill, stage in reached_by(curriculum, [other]).items():
            if skill not in before or STAGES.index(stage) >= STAGES.index(before[skill][0]):
                before[skill] = (stage, other.name)
    for skill, stage in reached_by(curriculum, [group]).items():
        reached, name = before.get(skill, (None, ""))
        if reached == stage:
            says = f"{skill} ({stage}) is taught twice from new: {name} reaches it already"
            yield Finding("twice", group.name, says, error=False)
        elif reached is not None and STAGES.index(reached) > STAGES.index(stage):
            says = f"{skill} steps back to {stage}: {name} reaches {reached}"
            yield Finding("step back", group.name, says, error=True)


def _needs(
    group: AgeGroup,
    goals: tuple[Node, ...],
    known: tuple[Node, ...],
    library: Library,
    skills: Mapping[str, Skill],
) -> Iterator[Finding]:
    """Tell what a group's new stages need and neither it nor a younger group reaches."""
    graph = stage_graph(library)
    there = {
        (skill, stage)
        for skill, top in (*known, *goals)
        for stage in stages_up_to(skills[skill], top)
    }
    fresh = there - {
        (skill, stage) for skill, top in known for stage in stages_up_to(skills[skill], top)
    }
    for node in sorted(fresh):
        for need in sorted(graph.predecessors(node)):
            if need not in there:
                says = (
                    f"{node[0]} ({node[1]}) needs {need[0]} ({need[1]}), which this group and the "
                    "younger ones do not reach"
                )
                yield Finding("need", group.name, says, error=True)


def _suits(
    group: AgeGroup, goals: tuple[Node, ...], skills: Mapping[str, Skill]
) -> Iterator[Finding]:
    for skill, stage in goals:
        work = skills[skill].work(stage)
        if work.age is not None and work.age > max(group.ages):
            says = f"{skill} ({stage}) is usually taught from age {work.age} on"
            yield Finding("age", group.name, says, error=False)
        if work.players is not None and work.players > group.players:
            says = f"{skill} ({stage}) needs {work.players} players; {group.players} usually come"
            yield Finding("players", group.name, says, error=True)


def _hours(group: AgeGroup, proof: Proof, skills: Mapping[str, Skill]) -> Iterator[Finding]:
    if proof.late:
        names = [f"{skills[skill].name} ({stage})" for skill, stage in proof.late[:MOST_NAMED]]
        more = len(proof.late) - len(names)
        says = (
            f"a typical season of {proof.practices} practices does not reach "
            f"{', '.join(names)}{f' and {more} more' if more else ''}"
        )
        yield Finding("hours", group.name, says, error=True)


def _never(curriculum: ClubCurriculum, library: Library) -> tuple[Node, ...]:
    skills = {skill.id: skill for skill in library.skills}
    reached = {
        (skill, stage)
        for reach in curriculum.reach
        for skill, top in reach.cells()
        if skill in skills
        for stage in stages_up_to(skills[skill], top)
    }
    return tuple(
        (skill.id, stage)
        for skill in library.skills
        for stage in skill.stages
        if (skill.id, stage) not in reached
    )
