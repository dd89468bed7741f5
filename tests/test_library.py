"""The shipped library: it reads without a fault, holds together, and teaches what it lists.

What is taught when and how is common practice, no published source, unless a test names one.
"""

import re
from collections import Counter
from pathlib import Path

import networkx as nx
import pytest

from curriculum.court.execute import execute
from curriculum.court.geometry import COURTS, FIBA, Court
from curriculum.files.library import read_library
from curriculum.files.shipped import shipped
from curriculum.graph import Node, loops, order, stage_graph
from curriculum.models.drills import Drill, is_attacker
from curriculum.models.skills import STAGES, Skill
from curriculum.practice.rotation import learners, unfair
from curriculum.practice.soundness import drill_faults
from tests.court_arc import behind_arc
from tests.library import shipped_library

LIBRARY = shipped_library()
STAGES_OF_ALL: list[Node] = [(s.id, stage) for s in LIBRARY.skills for stage in s.stages]
LADDER = (
    "give-and-go",
    "fill-three-players",
    "fill-five-spots",
    "ball-reversal",
    "dribble-at-backdoor",
    "drive-and-kick",
)
"""The skills of the motion offense, screens apart."""


def taught(skill: str, stage: str) -> list[Drill]:
    """Return the drills of a stage."""
    return [drill for drill in LIBRARY.drills if f"{skill}@{stage}" in drill.serves]


@pytest.mark.parametrize("path", sorted(shipped("skills").glob("*.toml")), ids=lambda p: p.stem)
def test_every_file_says_its_strand(path: Path) -> None:
    """A file holds skills or drills of one strand, named as the skills' file names it."""
    strands = {skill.strand for skill in LIBRARY.skills}
    found = re.search(r'^strand = "(.+)"$', path.read_text(encoding="utf-8"), re.MULTILINE)

    assert found is not None
    assert found[1] in strands


def test_the_library_reads_without_a_fault() -> None:
    """No problem and no warning in any file."""
    _, problems, _ = read_library([shipped("skills")])

    assert problems == ()


def test_no_stage_waits_for_itself() -> None:
    """The graph of needs has no loop."""
    assert loops(stage_graph(LIBRARY)) == ()


def test_every_stage_can_be_reached_from_nothing() -> None:
    """Whoever starts with the stages that need nothing gets to all of them."""
    graph = stage_graph(LIBRARY)
    roots = [node for node in graph if graph.in_degree(node) == 0]
    reached = set(roots).union(*(nx.descendants(graph, root) for root in roots))

    assert reached == set(STAGES_OF_ALL)


def test_first_steps_need_nothing() -> None:
    """Some skills can be taught to beginners on the first day."""
    firsts = [skill.id for skill in LIBRARY.skills if not skill.needs]

    assert {"athletic-stance", "dribble-control", "five-spots", "form-shooting"} <= set(firsts)


def test_ids_and_names_are_unique() -> None:
    """No two skills or drills share an id, no two drills a name."""
    ids = Counter([s.id for s in LIBRARY.skills] + [d.id for d in LIBRARY.drills])
    names = Counter(drill.name for drill in LIBRARY.drills)

    assert [key for key, count in (ids + names).items() if count > 1] == []


def test_a_stage_takes_one_or_two_blocks_on_average() -> None:
    """Common practice, no published source: some stages come back once, none is drummed in."""
    blocks = [skill.work(stage).blocks for skill in LIBRARY.skills for stage in skill.stages]

    assert 1.1 < sum(blocks) / len(blocks) < 2.0


def test_the_longest_chain_fits_a_season() -> None:
    """The blocks that wait for one another, first to last, fit a year of weekly practices."""
    graph = stage_graph(LIBRARY)
    skills = {skill.id: skill for skill in LIBRARY.skills}
    chain: dict[Node, int] = {}
    for name, stage in order(graph):
        leads = [chain[lead] for lead in graph.predecessors((name, stage))]
        chain[name, stage] = max(leads, default=0) + skills[name].work(stage).blocks

    assert 10 < max(chain.values()) < 60


@pytest.mark.parametrize("skill", LIBRARY.skills, ids=lambda skill: skill.id)
def test_texts_of_skills_fit_a_sheet(skill: Skill) -> None:
    """Names up to 34 letters, cues and faults up to 60, each skill with a reason and cues."""
    lengths = [len(text) for text in (*skill.cues, *skill.faults)]

    assert len(skill.name) <= 34
    assert max(lengths) <= 60
    assert (bool(skill.why), len(skill.cues) >= 2) == (True, True)


def test_there_are_drills_enough() -> None:
    """The library promises at least ninety drills."""
    assert len(LIBRARY.drills) >= 90


@pytest.mark.parametrize(("skill", "stage"), STAGES_OF_ALL)
def test_every_stage_has_a_drill_that_its_fewest_players_can_run(skill: str, stage: str) -> None:
    """With as few players as the stage names there is still a way to teach it."""
    fewest = next(s for s in LIBRARY.skills if s.id == skill).work(stage).players  # type: ignore[arg-type]
    found = taught(skill, stage)

    assert found
    assert fewest is None or min(drill.players[0] for drill in found) <= fewest


@pytest.mark.parametrize("skill", LADDER)
@pytest.mark.parametrize("stage", STAGES)
def test_the_motion_ladder_has_several_drills_for_every_stage(skill: str, stage: str) -> None:
    """Two at least, so that two blocks of a stage need not look alike."""
    assert len(taught(skill, stage)) >= 2


def test_drills_fit_the_court_of_their_stage() -> None:
    """A stage of the full court has full-court drills; no other needs one."""
    wrong = []
    for skill in LIBRARY.skills:
        for stage in skill.stages:
            courts = {drill.court for drill in taught(skill.id, stage)}
            if courts != {"full"} if skill.work(stage).court == "full" else "half" not in courts:
                wrong.append((skill.id, stage, courts))

    assert wrong == []


@pytest.mark.parametrize("court", COURTS.values(), ids=COURTS)
def test_every_drill_makes_sense_on_every_court(court: Court) -> None:
    """All actions can be executed wherever the lines lie."""
    wrong = [str(p) for drill in LIBRARY.drills for p in execute(drill, court).problems]

    assert wrong == []


def test_every_rotation_goes_round_and_leaves_nobody_out() -> None:
    """No problem of a rotation, and everybody gets to every role that counts."""
    assert drill_faults(LIBRARY.drills) == ()
    assert [drill.id for drill in LIBRARY.drills if unfair(drill)] == []


@pytest.mark.parametrize("drill", LIBRARY.drills, ids=lambda drill: drill.id)
def test_every_drill_is_complete(drill: Drill) -> None:
    """Cues, an easier and a harder version; a rule wherever somebody defends under one."""
    stages = {served.partition("@")[2] for served in drill.serves}

    assert (2 <= len(drill.cues) <= 4, bool(drill.easier), bool(drill.harder)) == (True,) * 3
    assert bool(drill.rule) or stages == {"unopposed"}


@pytest.mark.parametrize("drill", LIBRARY.drills, ids=lambda drill: drill.id)
def test_unopposed_means_without_a_defender(drill: Drill) -> None:
    """Nobody defends where an attacking skill is learnt unopposed, somebody does elsewhere."""
    defence = {skill.id for skill in LIBRARY.skills if skill.strand == "Defence"} | {"get-back"}
    attack = [s.partition("@") for s in drill.serves if s.partition("@")[0] not in defence]
    unopposed = {stage == "unopposed" for _, _, stage in attack}

    assert unopposed in ({drill.defenders == 0}, set())


@pytest.mark.parametrize("drill", LIBRARY.drills, ids=lambda drill: drill.id)
def test_guided_means_that_somebody_is_limited(drill: Drill) -> None:
    """Guided: no more defenders than attackers. Live: equal numbers or a small edge."""
    stages = {served.partition("@")[2] for served in drill.serves}
    edge = drill.attackers - drill.defenders

    assert "live" not in stages or edge in (-1, 0, 1)
    assert "guided" not in stages or edge >= 0


def test_three_on_two_games_have_no_screens() -> None:
    """One more attacker is enough of an edge; screens come in from four on three on."""
    games = [d for d in LIBRARY.drills if d.numbers == "3v2" and d.serves[0].endswith("@live")]

    assert games
    assert [d.id for d in games if any(action.do == "screen" for action in d.actions)] == []


def test_games_keep_the_spacing_rule() -> None:
    """In games of the motion nobody is off one of the five spots for more than three seconds."""
    spread = ("fill-three-players", "fill-five-spots", "three-on-three", "four-on-four")
    games = [drill for skill in (*spread, "five-on-five") for drill in taught(skill, "live")]

    assert games
    assert [d.id for d in games if "three seconds" not in (d.rule or "")] == []


def test_the_ladder_grows_from_one_pass_and_cut() -> None:
    """From pass and go drill by drill to fills, five spots, screens on and off the ball, live."""
    graph = nx.DiGraph((d.grows_from, d.id) for d in LIBRARY.drills if d.grows_from)
    grown = nx.descendants(graph, "pass-and-go")
    reached = {served for drill in LIBRARY.drills if drill.id in grown for served in drill.serves}

    assert nx.is_directed_acyclic_graph(graph)
    assert {
        "give-and-go@live",
        "mid-range-shot@guided",
        "three-point-shot@guided",
        "fill-three-players@live",
        "backdoor-cut@guided",
        "fill-five-spots@live",
        "drive-and-kick@unopposed",
        "screen-away-in-motion@live",
        "ball-screen-in-motion@live",
        "five-on-five@live",
    } <= reached


def test_drills_for_attackers_count_attackers() -> None:
    """Where a defender only helps to teach an attacking skill, his turns are no repetitions."""
    defence = {skill.id for skill in LIBRARY.skills if skill.strand == "Defence"} | {"get-back"}
    wrong = [
        drill.id
        for drill in LIBRARY.drills
        if all(s.endswith("@guided") and s.partition("@")[0] not in defence for s in drill.serves)
        and not all(is_attacker(role) for role in learners(drill))
    ]

    assert wrong == []


def test_three_point_drills_shoot_from_behind_the_arc() -> None:
    """Somebody shoots from where it counts three on a court with the published 6.75 m."""
    wrong = [
        drill.id
        for drill in LIBRARY.drills
        if any(served.startswith("three-point-shot@") for served in drill.serves)
        and not any(
            move.do == "shot" and behind_arc(FIBA, move.path[0])
            for frame in execute(drill).frames
            for move in frame.moves
        )
    ]

    assert wrong == []
