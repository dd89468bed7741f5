"""The graph of skills, to be explored: by strand, and around one skill."""

import datetime as dt
from dataclasses import dataclass

from starlette.responses import Response

from curriculum.graph import split_need, stage_graph
from curriculum.models.plan import Plan
from curriculum.models.skills import Library, Skill
from curriculum.practice.progress import placed
from curriculum.practice.skillcard import skill_card
from curriculum.server.visits import RefusedError, Visit
from curriculum.workload import known_nodes

WIDE, HIGH, GAP, ROOM = 172, 44, 12, 56
"""Boxes of the picture, the space between two of them, and between two columns."""
LONGEST_NAME = 22


@dataclass(frozen=True)
class Box:
    """One skill in the picture around another; words: its name, shortened to fit."""

    skill: str
    name: str
    words: str
    x: int
    y: int


@dataclass(frozen=True)
class Around:
    """A picture: what a skill needs on the left, what it unlocks on the right; lines join them."""

    width: int
    height: int
    boxes: tuple[Box, ...]
    lines: tuple[tuple[int, int, int, int], ...]


@dataclass(frozen=True)
class Item:
    """One skill in the list.

    when: its first and last lesson, () without any. known: the highest stage at which the team
    stands already, "" for none.
    """

    skill: Skill
    when: tuple[dt.date, ...]
    known: str
    needs: int
    unlocks: int


def skills(visit: Visit) -> Response:
    """List all skills by strand, those that match what is looked for."""
    space = visit.space()
    wanted = visit.request.query_params.get("q", "").strip()[:60]
    dates = _dates(space.plan)
    needs = {skill.id: _needs(skill) for skill in space.library.skills}
    known = known_nodes(space.season, stage_graph(space.library))
    strands: dict[str, list[Item]] = {}
    for skill in space.library.skills:
        if wanted.casefold() in f"{skill.name} {skill.strand} {skill.why or ''}".casefold():
            unlocks = sum(skill.id in others for others in needs.values())
            stands = [stage for stage in skill.stages if (skill.id, stage) in known]
            at = stands[-1] if stands else ""
            item = Item(skill, dates.get(skill.id, ()), at, len(needs[skill.id]), unlocks)
            strands.setdefault(skill.strand, []).append(item)
    return visit.page("skills.html", space=space, strands=strands, wanted=wanted)


def skill(visit: Visit) -> Response:
    """Show one skill: its stages and dates, and the skills around it."""
    space, plan = visit.planned()
    try:
        card = skill_card(plan, space.season, space.library, visit.path("skill"))
    except KeyError as fault:
        raise RefusedError(404, "There is no such skill.") from fault
    return visit.page("skill.html", space=space, card=card, around=_around(space.library, card.id))


def _dates(plan: Plan | None) -> dict[str, tuple[dt.date, ...]]:
    found: dict[str, tuple[dt.date, ...]] = {}
    for each in placed(plan) if plan else ():
        if each.block.kind != "review":
            first = found.get(each.block.skill, (each.date,))[0]
            found[each.block.skill] = (first, each.date)
    return found


def _needs(skill: Skill) -> frozenset[str]:
    every = (*skill.needs, *(need for stage in skill.stages for need in skill.work(stage).needs))
    return frozenset(split_need(need)[0] for need in every) - {skill.id}


def _around(library: Library, centre: str) -> Around:
    graph = stage_graph(library)
    names = {skill.id: skill.name for skill in library.skills}
    stages = [(centre, stage) for stage in library.skill(centre).stages]
    needs = {node[0] for one in stages for node in graph.predecessors(one)} - {centre}
    unlocks = {node[0] for one in stages for node in graph.successors(one)} - {centre}
    columns = [sorted(needs), [centre], sorted(unlocks)]
    most = max(len(column) for column in columns)
    height = most * (HIGH + GAP) - GAP
    boxes: list[Box] = []
    for place, column in enumerate(columns):
        top = (height - len(column) * (HIGH + GAP) + GAP) // 2
        for row, skill_id in enumerate(column):
            name = names[skill_id]
            words = name if len(name) <= LONGEST_NAME else f"{name[: LONGEST_NAME - 1].rstrip()}…"
            boxes.append(
                Box(skill_id, name, words, place * (WIDE + ROOM), top + row * (HIGH + GAP))
            )
    middle = boxes[len(needs)]
    lines = [
        (box.x + WIDE, box.y + HIGH // 2, middle.x - 4, middle.y + HIGH // 2)
        for box in boxes[: len(needs)]
    ]
    lines += [
        (middle.x + WIDE, middle.y + HIGH // 2, box.x - 4, box.y + HIGH // 2)
        for box in boxes[len(needs) + 1 :]
    ]
    return Around(3 * WIDE + 2 * ROOM, height, tuple(boxes), tuple(lines))
