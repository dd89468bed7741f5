"""The graph of stages: arcs and their reasons, loops by name, order."""

from typing import Any

import networkx as nx
import pytest

from curriculum.graph import (
    StageGraph,
    after,
    before,
    loops,
    nearest_stage,
    order,
    ready,
    split_need,
    stage_graph,
)
from curriculum.models.skills import Library, Skill, Stage, StageWork
from tests.build import library, skill

WORK = (1, 8)
DIAMOND = library(
    "a", skill("b", needs=("a",)), skill("c", needs=("a",)), skill("d", needs=("b", "c"))
)


def arcs(graph: StageGraph) -> dict[str, str]:
    """Return the arcs between stages as `from > to`, each with its reason."""
    return {
        f"{'@'.join(lead)} > {'@'.join(last)}": graph.edges[lead, last]["why"]
        for lead, last in graph.edges
    }


def laddered(skill_id: str, stages: tuple[Stage, ...], needs: tuple[str, ...] = ()) -> Skill:
    """Return a skill that has just these stages."""
    work: dict[str, Any] = dict.fromkeys(stages, WORK)
    return skill(skill_id, needs=needs, **work)


@pytest.mark.parametrize(
    ("need", "expected"),
    [
        ("v-cut", ("v-cut", None)),
        ("v-cut@unopposed", ("v-cut", "unopposed")),
        ("v-cut@guided", ("v-cut", "guided")),
        ("v-cut@live", ("v-cut", "live")),
    ],
)
def test_a_need_as_written(need: str, expected: tuple[str, Stage | None]) -> None:
    """A bare need names no stage, one with @ does."""
    assert split_need(need) == expected


@pytest.mark.parametrize(
    ("has", "wanted", "nearest"),
    [
        (("unopposed", "guided", "live"), "guided", "guided"),
        (("unopposed", "live"), "guided", "unopposed"),
        (("unopposed",), "live", "unopposed"),
        (("guided", "live"), "unopposed", "guided"),
        (("live",), "guided", "live"),
    ],
)
def test_the_nearest_stage(has: tuple[Stage, ...], wanted: Stage, nearest: Stage) -> None:
    """The stage itself, else the nearest lower one, else the lowest."""
    assert nearest_stage(laddered("a", has), wanted) == nearest


def test_a_ladder_alone() -> None:
    """The stages of a skill follow each other, also where one is lacking."""
    skills = library(skill("a", unopposed=WORK, live=WORK))

    assert arcs(stage_graph(skills)) == {"a@unopposed > a@live": "ladder"}


def test_a_bare_need_between_whole_ladders() -> None:
    """`unopposed` waits for `unopposed`; `guided` and `live` both wait for `guided`, not `live`."""
    skills = library(
        skill("a", unopposed=WORK, guided=WORK, live=WORK),
        skill("b", needs=("a",), unopposed=WORK, guided=WORK, live=WORK),
    )

    assert arcs(stage_graph(skills)) == {
        "a@unopposed > a@guided": "ladder",
        "a@guided > a@live": "ladder",
        "b@unopposed > b@guided": "ladder",
        "b@guided > b@live": "ladder",
        "a@unopposed > b@unopposed": "need",
        "a@guided > b@guided": "need",
        "a@guided > b@live": "need",
    }


@pytest.mark.parametrize(
    ("has", "waiting", "arc"),
    [
        (("unopposed",), "guided", "a@unopposed > b@guided"),
        (("unopposed",), "live", "a@unopposed > b@live"),
        (("unopposed", "live"), "live", "a@unopposed > b@live"),
        (("guided", "live"), "unopposed", "a@guided > b@unopposed"),
        (("live",), "unopposed", "a@live > b@unopposed"),
        (("live",), "guided", "a@live > b@guided"),
    ],
)
def test_a_bare_need_of_a_stage_that_is_lacking(
    has: tuple[Stage, ...], waiting: Stage, arc: str
) -> None:
    """Where the stage meant is lacking its nearest lower one counts, else the lowest."""
    skills = library(laddered("a", has), laddered("b", (waiting,), needs=("a",)))
    found = arcs(stage_graph(skills))

    assert [each for each, why in found.items() if why == "need"] == [arc]


@pytest.mark.parametrize(("need", "lead"), [("a@live", "a@live"), ("a@guided", "a@guided")])
def test_a_need_of_a_stage_binds_the_first_stage(need: str, lead: str) -> None:
    """`a@live` on a skill holds back its first stage alone; the others come after it anyhow."""
    skills = library(
        skill("a", unopposed=WORK, guided=WORK, live=WORK),
        skill("b", needs=(need,), guided=WORK, live=WORK),
    )
    found = arcs(stage_graph(skills))

    assert [each for each, why in found.items() if why == "need"] == [f"{lead} > b@guided"]


@pytest.mark.parametrize(
    ("need", "lead"), [("a", "a@guided"), ("a@live", "a@live"), ("a@unopposed", "a@unopposed")]
)
def test_a_need_on_a_stage_binds_that_stage(need: str, lead: str) -> None:
    """Both forms of a need may stand on a stage, and bind it alone."""
    skills = library(
        skill("a", unopposed=WORK, guided=WORK, live=WORK),
        skill("b", unopposed=WORK, live=StageWork(needs=(need,))),
    )
    found = arcs(stage_graph(skills))

    assert [each for each, why in found.items() if why == "need"] == [f"{lead} > b@live"]


def test_needs_of_nothing_add_no_arc() -> None:
    """A skill that no file defines and a stage that is lacking are reported elsewhere."""
    skills = library("a", skill("b", needs=("nobody", "a@live")))

    assert arcs(stage_graph(skills)) == {}


@pytest.mark.parametrize(
    ("skills", "expected"),
    [
        (library(), ()),
        (library("a"), ()),
        (DIAMOND, ()),
        (library(skill("a", needs=("a",))), ((("a", "unopposed"),),)),
        (
            library(skill("a", needs=("b",)), skill("b", needs=("a",))),
            ((("a", "unopposed"), ("b", "unopposed")),),
        ),
    ],
    ids=["nothing", "one", "diamond", "itself", "two"],
)
def test_loops_by_name(
    skills: Library, expected: tuple[tuple[tuple[str, Stage], ...], ...]
) -> None:
    """A loop lists its stages in the order in which they wait; without one there is nothing."""
    assert loops(stage_graph(skills)) == expected


def test_a_loop_through_a_ladder() -> None:
    """A first stage that waits for the last of what needs it runs through both ladders."""
    skills = library(
        skill("a", unopposed=StageWork(needs=("b@live",)), live=WORK),
        skill("b", unopposed=WORK, live=StageWork(needs=("a@live",))),
    )

    assert loops(stage_graph(skills)) == ((("a", "live"), ("b", "live"), ("a", "unopposed")),)


def test_one_shortest_loop_for_each_knot() -> None:
    """In a knot of two loops the shorter one is named; a second knot has one of its own."""
    skills = library(
        skill("a", needs=("c",)),
        skill("b", needs=("a",)),
        skill("c", needs=("b", "d")),
        skill("d", needs=("c",)),
        skill("x", needs=("y",)),
        skill("y", needs=("x",)),
    )
    u: Stage = "unopposed"

    assert loops(stage_graph(skills)) == ((("c", u), ("d", u)), (("x", u), ("y", u)))


@pytest.mark.parametrize("turned", [False, True])
def test_the_order_does_not_depend_on_files(turned: bool) -> None:
    """Among stages that are free, early names come first, however the files list them."""
    skills = library(
        skill("b", unopposed=WORK, live=WORK),
        skill("c", needs=("a",)),
        "a",
        skill("d", needs=("b",)),
    )
    if turned:
        skills = library(*skills.skills[::-1])

    assert order(stage_graph(skills)) == (
        ("a", "unopposed"),
        ("b", "unopposed"),
        ("b", "live"),
        ("c", "unopposed"),
        ("d", "unopposed"),
    )


def test_there_is_no_order_in_a_loop() -> None:
    """A loop makes every order unfeasible."""
    graph = stage_graph(library(skill("a", needs=("b",)), skill("b", needs=("a",))))

    with pytest.raises(nx.NetworkXUnfeasible):
        order(graph)


def test_before_and_after() -> None:
    """Everything on the way counts, the stage itself does not."""
    graph = stage_graph(DIAMOND)
    u: Stage = "unopposed"

    assert before(graph, ("d", u)) == {("a", u), ("b", u), ("c", u)}
    assert before(graph, ("a", u)) == frozenset()
    assert after(graph, ("a", u)) == {("b", u), ("c", u), ("d", u)}
    assert after(graph, ("d", u)) == frozenset()


def test_ready_is_what_waits_for_nothing_more() -> None:
    """What is reached is not ready again; what waits for two needs both."""
    graph = stage_graph(DIAMOND)
    u: Stage = "unopposed"

    assert ready(graph, ()) == {("a", u)}
    assert ready(graph, [("a", u)]) == {("b", u), ("c", u)}
    assert ready(graph, [("a", u), ("b", u)]) == {("c", u)}
    assert ready(graph, [("a", u), ("b", u), ("c", u), ("d", u)]) == frozenset()
