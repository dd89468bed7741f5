"""See a drill's rotation as a directed graph of roles: is it whole, does everybody get round."""

from collections.abc import Iterable
from typing import TypeAlias

import networkx as nx

from curriculum.court.spots import in_words
from curriculum.files.nearest import suggest
from curriculum.models.drills import Drill, is_line, is_player
from curriculum.problems import Problem
from curriculum.wording import listed

RoleGraph: TypeAlias = "nx.DiGraph[str]"


def role_graph(drill: Drill) -> RoleGraph:
    """Return the graph of roles; an arc leads from a role to the one taken after it."""
    graph: RoleGraph = nx.DiGraph()
    graph.add_nodes_from(roles(drill))
    graph.add_edges_from((step.from_, step.to) for step in drill.rotation)
    return graph


def roles(drill: Drill) -> tuple[str, ...]:
    """Return the roles that players take in one repetition, in the order of their spots."""
    return tuple(spot.who for spot in drill.spots if is_player(spot.who))


def learners(drill: Drill) -> tuple[str, ...]:
    """Return the roles whose turns count as repetitions."""
    return drill.learners or roles(drill)


def lines(drill: Drill) -> tuple[str, ...]:
    """Return the lines of a rotation, in the order in which it names them."""
    named = [name for step in drill.rotation for name in (step.from_, step.to)]
    return tuple(dict.fromkeys(name for name in named if is_line(name)))


def rotation_problems(drills: Iterable[Drill]) -> tuple[Problem, ...]:
    """Return what keeps rotations from going round, each problem with the drill's id in its key.

    Every role is left by one player and taken by one each repetition, every line gives as many as
    it gets.
    """
    return tuple(problem for drill in drills for problem in _problems(drill))


def _problems(drill: Drill) -> list[Problem]:
    found = []
    known, waiting = roles(drill), lines(drill)
    for number, step in enumerate(drill.rotation, 1):
        for name in (step.from_, step.to):
            if name not in known and name not in waiting:
                key = f"{drill.id}.rotation[{number}]"
                says = f"nobody plays {name}"
                way_out = suggest(name, known, "name a player of the diagram or a line")
                found.append(Problem("", 0, key, says, way_out=way_out))
    for name in (*known, *waiting):
        gone = sum(step.from_ == name for step in drill.rotation)
        come = sum(step.to == name for step in drill.rotation)
        says = _imbalance(name, gone, come)
        if says:
            key, way_out = f"{drill.id}.rotation", "as many come into a role as leave it"
            found.append(Problem("", 0, key, says, way_out=way_out))
    for number, name in enumerate(drill.learners, 1):
        if name not in known:
            key, says = f"{drill.id}.learners[{number}]", f"nobody plays {name}"
            way_out = suggest(name, known, "name a player of the diagram")
            found.append(Problem("", 0, key, says, way_out=way_out))
    return found


def _imbalance(name: str, gone: int, come: int) -> str:
    if is_line(name):
        return "" if gone == come else f"{name} gets {come} and gives {gone} each repetition"
    if gone != 1:
        return f"{name} goes to {gone} places" if gone else f"nothing says where {name} goes next"
    if come != 1:
        return f"{come} players come to {name}" if come else f"nothing says who becomes {name}"
    return ""


def circles(drill: Drill) -> tuple[tuple[str, ...], ...]:
    """Return the sets of roles between which players change; one set when all get round.

    The set with the most roles that count comes first.
    """
    graph, counted = role_graph(drill), frozenset(learners(drill))
    order = {name: place for place, name in enumerate((*roles(drill), *lines(drill)))}
    knots = [
        tuple(sorted(knot, key=lambda name: order.get(name, 0)))
        for knot in nx.strongly_connected_components(graph)
    ]
    return tuple(sorted(knots, key=lambda knot: (-len(counted & set(knot)), knot)))


def unfair(drill: Drill) -> str:
    """Return who never swaps with whom, as a sentence; "" when everybody gets to what counts.

    Since every role is left by one and taken by one, roles fall into circles; with more than one
    circle somebody never gets to a role of the others.
    """
    main, *rest = circles(drill)
    others = [name for knot in rest for name in knot]
    if not others:
        return ""
    verb = "never swaps" if len(others) == 1 else "never swap"
    return f"{_called(drill, others)} {verb} with {_called(drill, main)}"


def rotation_words(drill: Drill) -> str:
    """Return who goes where next: `1 to 2, 2 to the line, first in line to 1`."""
    stays = [step.from_ for step in drill.rotation if step.from_ == step.to]
    if len(stays) == len(drill.rotation):
        return "everybody stays"
    return ", ".join(_step(step.from_, step.to) for step in drill.rotation)


def _step(start: str, end: str) -> str:
    if start == end:
        return f"{start} stays"
    left = f"first in {_line(start)}" if is_line(start) else start
    return f"{left} to {_the(end) if is_line(end) else end}"


def _line(name: str) -> str:
    return name.replace("-", " ")


def _the(name: str) -> str:
    return f"the {_line(name)}"


def _called(drill: Drill, names: Iterable[str]) -> str:
    """Return roles as a coach calls them: `2 (the left wing) and the line`."""
    places = {spot.who: spot.at for spot in drill.spots}
    words = []
    for name in names:
        at = places.get(name)
        if is_line(name):
            words.append(_the(name))
        else:
            words.append(f"{name} ({in_words(at)})" if at else name)
    return listed(words)
