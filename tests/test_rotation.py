"""Rotations as graphs: who gets where, what is broken, and how often everybody has a turn."""

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from curriculum.models.drills import Drill
from curriculum.practice.rotation import (
    circles,
    learners,
    role_graph,
    rotation_problems,
    rotation_words,
    unfair,
)
from curriculum.practice.simulate import Tally, simulate
from tests.drill_build import drill


def loop(roles: int, seconds: int) -> Drill:
    """Return a drill whose players go round one loop of roles and a line; only role 1 counts."""
    places = ("top", "left-wing", "right-wing", "left-corner", "right-corner")
    names = [str(n + 1) for n in range(roles)]
    ring = [*names, "line"]
    return drill(
        "1 turn",
        spots=(*(f"{name} {at}" for name, at in zip(names, places, strict=False)), "line back"),
        rotation=tuple(f"{a} {b}" for a, b in zip(ring, [*ring[1:], "1"], strict=True)),
        seconds=seconds,
        learners=("1",),
    )


def three_on_three(**fields: object) -> Drill:
    """Return a game of three against three: attackers defend next, then rest."""
    places = ("top", "left-wing", "right-wing")
    attack = [f"{n} {at}" for n, at in enumerate(places, 1)]
    defend = [f"X{n} guards {n}" for n in (1, 2, 3)]
    arcs = [(f"{n} X{n}", f"X{n} line", f"line {n}") for n in (1, 2, 3)]
    return drill(
        "1 turn",
        spots=(*attack, *defend, "line back"),
        rotation=tuple(arc for arcs_of_one in arcs for arc in arcs_of_one),
    )


def turns_of_loop(players: int, seconds_each: int, seconds: int) -> tuple[int, int]:
    """Return the fewest and most turns in a single loop of roles, in closed form.

    One role counts, a repetition starts every `seconds_each`: each of n players gets a turn every
    n × seconds_each. In r whole repetitions everybody gets r // n, and r % n players one more.
    """
    rounds = seconds // seconds_each
    return rounds // players, -(-rounds // players)


@settings(max_examples=200)
@given(
    roles=st.integers(1, 5),
    waiting=st.integers(0, 12),
    each=st.integers(2, 60),
    minutes=st.integers(1, 30),
)
def test_turns_equal_the_closed_form(roles: int, waiting: int, each: int, minutes: int) -> None:
    """A loop of roles, n players, a repetition every t seconds: a turn every n × t seconds."""
    found = simulate(loop(roles, each), roles + waiting, minutes * 60)
    expected = turns_of_loop(roles + waiting, each, minutes * 60)

    assert (found.fewest, found.most) == expected


@settings(max_examples=200)
@given(roles=st.integers(1, 5), waiting=st.integers(0, 12), minutes=st.integers(1, 30))
def test_players_of_a_fair_rotation_differ_by_one_at_most(
    roles: int, waiting: int, minutes: int
) -> None:
    """In one loop nobody gets two turns more than anybody else."""
    found = simulate(loop(roles, 7), roles + waiting, minutes * 60)

    assert found.most - found.fewest <= 1


@settings(max_examples=100)
@given(roles=st.integers(1, 5), waiting=st.integers(0, 12), rounds=st.integers(1, 90))
def test_waiting_is_what_the_loop_leaves_over(roles: int, waiting: int, rounds: int) -> None:
    """At any moment all but the roles' players wait: their share of n players is w / n."""
    found = simulate(loop(roles, 5), roles + waiting, rounds * 5)

    assert found.waiting == pytest.approx(waiting / (roles + waiting))


@settings(max_examples=100)
@given(players=st.integers(6, 15), rounds=st.integers(1, 60))
def test_a_game_shares_its_possessions(players: int, rounds: int) -> None:
    """In three against three attackers go out in threes: turns in attack differ by one at most."""
    found = simulate(three_on_three(), players, rounds * 10)

    assert max(found.attacks) - min(found.attacks) <= 1


def test_a_turn_in_numbers() -> None:
    """Twelve players, one repetition every 10 seconds, 8 minutes: 48 repetitions, 4 turns each."""
    found = simulate(loop(2, 10), 12, 480)

    assert found == Tally(
        rounds=48, turns=(4,) * 12, attacks=(8,) * 12, waited=(40,) * 12, longest_wait=10
    )


def test_rests_of_a_game_in_numbers() -> None:
    """Nine players, three against three: two possessions of play, one of rest, over and over."""
    found = simulate(three_on_three(), 9, 90)

    assert (found.turns, found.attacks, found.waited, found.longest_wait) == (
        (6,) * 9,
        (3,) * 9,
        (3,) * 9,
        1,
    )


def test_no_time_gives_no_turns() -> None:
    """Less than one repetition's time: nothing is played, nobody waits."""
    assert (simulate(loop(1, 10), 3, 9).turns, simulate(loop(1, 10), 3, 9).waiting) == (
        (0, 0, 0),
        0.0,
    )


def test_too_few_players_are_misuse() -> None:
    """A drill of two cannot be played by one."""
    with pytest.raises(ValueError, match="needs 2 players, there are 1"):
        simulate(drill(), 1, 60)


def test_players_without_a_line_are_misuse() -> None:
    """Where the rotation has no line nobody can wait."""
    with pytest.raises(ValueError, match="no line in which"):
        simulate(drill(rotation=("1 2", "2 1")), 3, 60)


def test_a_rotation_is_a_graph_of_roles() -> None:
    """Arcs lead from role to role, lines included."""
    graph = role_graph(drill())

    assert sorted(graph.edges) == [("1", "2"), ("2", "line"), ("line", "1")]


def test_one_loop_is_strongly_connected() -> None:
    """Everybody gets everywhere: networkx finds one circle, and there is nothing to say."""
    assert (nx.is_strongly_connected(role_graph(drill())), unfair(drill())) == (True, "")


@pytest.mark.parametrize(
    ("spots", "rotation", "learn", "says"),
    [
        (
            ("1 top ball", "2 left-wing", "3 right-wing", "line back"),
            ("1 line", "line 1", "2 3", "3 2"),
            ("1",),
            "2 (the left wing) and 3 (the right wing) never swap with 1 (the top) and the line",
        ),
        (
            ("1 top ball", "2 left-wing", "line back"),
            ("1 line", "line 1", "2 2"),
            ("1", "2"),
            "2 (the left wing) never swaps with 1 (the top) and the line",
        ),
        (
            ("1 left-wing ball", "2 right-wing", "left-line left-back", "right-line right-back"),
            ("1 left-line", "left-line 1", "2 right-line", "right-line 2"),
            (),
            (
                "2 (the right wing) and the right line never swap with 1 (the left wing) "
                "and the left line"
            ),
        ),
    ],
)
def test_who_never_swaps_is_told(
    spots: tuple[str, ...], rotation: tuple[str, ...], learn: tuple[str, ...], says: str
) -> None:
    """Two circles of roles mean that somebody never gets to what counts."""
    assert unfair(drill(spots=spots, rotation=rotation, learners=learn)) == says


def test_the_circle_that_counts_comes_first() -> None:
    """Circles are sorted by how many of their roles count."""
    split = drill(rotation=("1 1", "2 line", "line 2"), learners=("2",))

    assert circles(split) == (("2", "line"), ("1",))


def test_without_learners_every_role_counts() -> None:
    """All players on the diagram count when the drill does not say which."""
    assert (learners(drill()), learners(drill(learners=("1",)))) == (("1", "2"), ("1",))


@pytest.mark.parametrize(
    ("rotation", "key", "says"),
    [
        (("1 2", "2 line", "line 1", "1 line"), "rotation", "1 goes to 2 places"),
        (("1 2", "line 1"), "rotation", "nothing says where 2 goes next"),
        (("1 2", "2 line", "line 2"), "rotation", "nothing says who becomes 1"),
        (("1 2", "2 2"), "rotation", "2 players come to 2"),
        (("1 line", "2 line", "line 1"), "rotation", "line gets 2 and gives 1 each repetition"),
        (("1 2", "2 3", "3 1"), "rotation[2]", "nobody plays 3"),
    ],
)
def test_rotations_that_do_not_go_round(rotation: tuple[str, ...], key: str, says: str) -> None:
    """As many come into each role as leave it."""
    found = [
        (problem.key, problem.says) for problem in rotation_problems([drill(rotation=rotation)])
    ]

    assert (f"a-drill.{key}", says) in found


def test_learners_are_roles() -> None:
    """A role that counts has to be on the diagram."""
    (problem,) = rotation_problems([drill(learners=("1", "4"))])

    assert (problem.key, problem.says) == ("a-drill.learners[2]", "nobody plays 4")


@pytest.mark.parametrize(
    ("rotation", "said"),
    [
        (("1 2", "2 line", "line 1"), "1 to 2, 2 to the line, first in line to 1"),
        (("1 1", "2 line", "line 2"), "1 stays, 2 to the line, first in line to 2"),
        (("1 1", "2 2"), "everybody stays"),
    ],
)
def test_rotation_in_words(rotation: tuple[str, ...], said: str) -> None:
    """Who goes where is one short line of the sheet."""
    assert rotation_words(drill(rotation=rotation)) == said
