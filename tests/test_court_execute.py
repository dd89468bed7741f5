"""Actions are played, so that one which makes no sense is told at its place."""

from typing import Any

import pytest

from curriculum.court.execute import drill_problems, execute
from curriculum.court.geometry import FIBA, distance
from curriculum.court.spots import spots
from curriculum.models.drills import Drill
from tests.drill_build import drill

GUARDED = ("1 top ball", "2 left-wing", "3 right-wing", "X1 guards 1", "X3 guards 3")


def told(found: Drill) -> list[tuple[str, str]]:
    """Return key and sentence of each problem."""
    return [(problem.key, problem.says) for problem in execute(found).problems]


def guarded(*actions: str) -> Drill:
    """Return a drill of three against two with some actions."""
    return drill(*actions, spots=GUARDED, rotation=("1 1",), players=(5, 9))


def test_a_give_and_go_makes_sense() -> None:
    """Pass, cut, pass, shot: no problem, one picture, four moves in order."""
    played = execute(drill())

    assert (played.problems, [move.number for move in played.frames[0].moves]) == ((), [1, 2, 3, 4])


@pytest.mark.parametrize(
    ("actions", "at", "says"),
    [
        (("2 pass 1",), 1, "2 passes without a ball"),
        (("1 pass 3", "2 shot"), 2, "2 shoots without a ball"),
        (("1 pass 1",), 1, "1 passes to nobody"),
        (("1 pass rim",), 1, "1 passes to nobody"),
        (("1 pass X1",), 1, "1 passes to the defender X1"),
        (("1 cut rim",), 1, "1 runs with the ball"),
        (("2 dribble rim",), 1, "2 dribbles without a ball"),
        (("1 dribble left-elbow", "1 stop", "1 dribble rim"), 3, "1 dribbles again after a stop"),
        (("2 cut",), 1, "2 goes nowhere"),
        (("2 cut left-wing",), 1, "2 is already on the left wing"),
        (("1 handoff 3",), 1, "1 and 3 are 6.1 m apart, too far for a handoff"),
        (("2 screen",), 1, "2 screens nobody"),
        (("2 screen on 3",), 1, "2 screens 3, a team-mate"),
        (("1 screen on X3",), 1, "1 screens with the ball in hand"),
        (("X1 screen on X3",), 1, "X1 screens X3, a team-mate"),
        (("2 defend on 1",), 1, "2 is no defender"),
        (("X1 defend",), 1, "X1 defends nobody"),
        (("1 rebound",), 1, "1 rebounds, but nobody has shot"),
        (("2 cut right-wing",), 1, "2 and 3 end on one spot, the right wing"),
        (("X3 defend on 2", "2 cut rim", "3 cut rim"), 3, "2 and 3 end on one spot, the rim"),
        (("4 cut rim",), 1, "4 is not on the court"),
        (("2 screen on X2",), 1, "X2 is not on the court"),
        (("2 cut left-wnig",), 1, 'there is no spot or player "left-wnig"'),
        (("2 cut rim via nowhere",), 1, 'there is no spot or player "nowhere"'),
        (("1 pass 2", "2 cut rim / 3"), 2, "frame 3 cannot follow frame 1"),
    ],
)
def test_what_makes_no_sense_is_told_at_its_action(
    actions: tuple[str, ...], at: int, says: str
) -> None:
    """The problem carries the drill's id, the action's number and one clear sentence."""
    assert (f"a-drill.actions[{at}]", says) in told(guarded(*actions))


def test_one_fault_is_told_once() -> None:
    """A faulty action is passed over: what others do afterwards is judged on its own."""
    assert told(guarded("2 pass 3", "1 pass 3", "3 shot")) == [
        ("a-drill.actions[1]", "2 passes without a ball")
    ]


def test_two_who_stand_on_one_spot_are_told_once() -> None:
    """They may stay there for the rest of the drill; it is the first action that is to blame."""
    assert told(guarded("2 cut right-wing", "1 pass 2", "2 shot")) == [
        ("a-drill.actions[1]", "2 and 3 end on one spot, the right wing")
    ]


def test_players_may_swap_at_the_same_moment() -> None:
    """Two who move together change places without ever standing on one spot."""
    assert told(guarded("2 cut right-wing", "3 cut left-wing / together")) == []


def test_the_way_out_names_who_has_the_ball() -> None:
    """Whoever writes a pass by the wrong player learns who has the ball."""
    (problem,) = execute(guarded("2 pass 3")).problems

    assert problem.way_out == "1 has it; set ball = true, or pass first"


def test_a_near_name_is_offered() -> None:
    """A misspelt spot brings the nearest one."""
    (problem,) = execute(guarded("2 cut left-wnig via left-elbow")).problems

    assert problem.way_out == 'did you mean "left-wing"?'


@pytest.mark.parametrize(
    ("spots_given", "key", "says"),
    [
        (("1 top ball", "2 topp"), "spots[2]", 'there is no spot "topp"'),
        (("1 top ball", "1 left-wing"), "spots[2]", "1 stands there twice"),
        (("1 top ball", "2 top"), "spots[2]", "1 and 2 start on one spot"),
        (("1 top ball", "X1 guards 2"), "spots[2]", "2 is no attacker here"),
        (("1 top ball", "2 guards 1"), "spots[2]", "2 is no defender"),
    ],
)
def test_spots_that_make_no_sense(spots_given: tuple[str, ...], key: str, says: str) -> None:
    """Faults of a setting are told at the spot."""
    faulty = drill("1 turn", spots=spots_given, rotation=("1 1",))

    assert (f"a-drill.{key}", says) in told(faulty)


def test_actions_are_not_judged_while_somebody_has_no_place() -> None:
    """A misspelt spot is one problem, not one for every action of its player."""
    assert told(drill(spots=("1 top ball", "2 topp", "line back"))) == [
        ("a-drill.spots[2]", 'there is no spot "topp"')
    ]


@pytest.mark.parametrize(
    ("fields", "key", "says"),
    [
        ({"numbers": "2v1"}, "numbers", "2 attackers and 0 defenders stand on the court"),
        (
            {"players": (1, 6)},
            "players",
            "2 players stand on the court, but a group may have fewer",
        ),
        ({"coaches": 1}, "coaches", "0 of the spots are coaches"),
        ({"balls": 0}, "balls", "1 ball in hand at the start"),
    ],
)
def test_counts_agree_with_the_setting(fields: dict[str, Any], key: str, says: str) -> None:
    """What a drill says of its numbers is what stands on the court."""
    assert told(drill(**fields)) == [(f"a-drill.{key}", says)]


def test_a_screener_stops_an_arm_short() -> None:
    """A screen ends beside the defender, on the side from which the screener comes."""
    played = execute(guarded("1 pass 2", "1 screen on X3")).frames[0]
    x3 = dict(played.stand)["X3"]
    place = played.moves[1].end

    assert (round(distance(place, x3), 2), place[0] < x3[0]) == (1.25, True)


@pytest.mark.parametrize(
    ("how", "nearer"), [("guard", "ring"), ("deny", "ball"), ("help", "middle")]
)
def test_a_defender_stands_as_told(how: str, nearer: str) -> None:
    """Guard: toward the ring. Deny: in the lane to the ball. Help: toward the middle."""
    end = execute(guarded(f"X3 defend on 3 {how}")).frames[0].moves[0].end
    three, top = spots(FIBA)["right-wing"], spots(FIBA)["top"]
    ring = (0.0, FIBA.ring)
    gains = {
        "ring": distance(end, ring) < distance(three, ring) - 1,
        "ball": distance(end, top) < distance(three, top) - 0.8,
        "middle": abs(end[0]) < 2,
    }

    assert [name for name in gains if gains[name]][-1:] == [nearer]


def test_frames_begin_where_the_last_one_ended() -> None:
    """The second picture shows the receiver with the ball and the cutter at the rim."""
    played = execute(drill("1 pass 2", "1 cut rim", "2 pass 1 / 2"))
    second = played.frames[1]

    assert (dict(second.stand)["1"], second.holders) == (spots(FIBA)["rim"], frozenset({"2"}))


def test_a_full_court_attack_goes_to_the_far_ring() -> None:
    """On a full court a defender guards the way to the far basket, and shots go to the near one."""
    played = execute(
        drill(
            "1 dribble half",
            "X1 defend on 1",
            "1 dribble far-rim",
            "1 shot",
            spots=("1 top ball", "X1 free-throw-line"),
            rotation=("1 X1", "X1 1"),
            court="full",
            baskets=2,
        )
    ).frames[0]
    ends = [round(played.moves[n].end[1], 3) for n in (1, 3)]

    assert ends == [16.0, round(FIBA.length - FIBA.ring, 3)]


def test_problems_of_several_drills_come_together() -> None:
    """Each problem names its drill."""
    faulty = [drill("2 shot", id="one-drill"), drill("2 shot", id="other-drill")]

    assert [problem.key for problem in drill_problems(faulty)] == [
        "one-drill.actions[1]",
        "other-drill.actions[1]",
    ]
