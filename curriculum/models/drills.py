"""Drills: who stands where, what happens in which order, and who goes where afterwards."""

from typing import Annotated, Literal

from pydantic import Field

from curriculum.models.base import Id, Model, Text

Deed = Literal[
    "pass",
    "cut",
    "dribble",
    "screen",
    "handoff",
    "shot",
    "rebound",
    "defend",
    "stop",
    "turn",
]
"""What a player can do in one action.

pass, handoff: the ball goes to a player. cut, dribble: the player goes somewhere, without or with
the ball. screen: stands in the way of `on`. shot: at the basket attacked. rebound: takes the ball
that was shot. defend: takes the place that guards, denies or helps on a player. stop: stops on two
feet with the ball. turn: pivots.
"""

Manner = Literal["guard", "deny", "help"]
"""How a defender stands: between player and basket, in the passing lane, or off toward the lane."""

Who = Annotated[str, Field(pattern=r"^[A-Za-z0-9]+(-[a-z0-9]+)*$", max_length=20)]
"""Somebody or something on the diagram, by its name.

A number is an attacker, X and a number a defender, C (C2, ...) a coach, `cone-1` a cone; any other
word is a line in which players wait.
"""

Place = Annotated[str, Field(pattern=r"^[A-Za-z0-9]+(-[a-z0-9]+)*$", max_length=30)]
"""A spot's name such as `left-wing`, or a player beside whom somebody ends."""

Served = Annotated[
    str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*@(unopposed|guided|live)$", max_length=80)
]
"""A skill and the stage at which a drill teaches it: `give-and-go@live`."""

Group = Annotated[int, Field(ge=1, le=40)]
Line = Annotated[Text, Field(max_length=90)]
Cue = Annotated[Text, Field(max_length=60)]


class Spot(Model):
    """Where somebody stands when a repetition starts; one of at, guards, denies and helps.

    at: a spot's name. guards, denies, helps: for a defender, the attacker whom they take.
    ball: whether they hold a ball at the start.
    """

    who: Who
    at: Place | None = None
    guards: Who | None = None
    denies: Who | None = None
    helps: Who | None = None
    ball: bool = False


class Action(Model):
    """One thing that one player does.

    to: where they go, or who gets the ball.
    via: spots on the way, each a sharp turn unless `round` is set.
    on: who is screened or defended.
    how: how a defender stands at the end.
    frame: the picture (1 to 3) that the action is drawn in; left out: that of the action before.
    together: happens at the same time as the action before it, and shares its number.
    """

    do: Deed
    by: Who
    to: Place | None = None
    via: tuple[Place, ...] = ()
    round: bool = False
    on: Who | None = None
    how: Manner = "guard"
    frame: Annotated[int, Field(ge=1, le=3)] | None = None
    together: bool = False


class Step(Model):
    """One arc of a rotation: after a repetition the player in one role goes to another one.

    A role is a player of the diagram or a line. Out of a line players leave in the order in which
    they came, and as many per repetition as it has arcs; the first arc takes the first in line.
    """

    from_: Annotated[Who, Field(alias="from")]
    to: Who


class Drill(Model):
    """A way to run a block.

    serves: which stages of which skills it teaches.
    grows_from: the simpler drill of which this one is a variation.
    numbers: attackers and defenders in one repetition, such as 3v2.
    players: fewest and most in one group, those in line included.
    court, baskets: what a group takes up; no basket: a stretch of floor.
    places: how many groups fit around one basket (or on one half court, or on a full court).
    balls, coaches: how many a group needs.
    seconds: from the start of one repetition to the start of the next.
    learners: the roles whose turns count as repetitions; left out: every player on the diagram.
    how: what happens, in a sentence or two for the sheet.
    rule: the constraint that shapes it; guided: what the defender may do, live: what scores.
    """

    id: Id
    name: Annotated[Text, Field(max_length=34)]
    serves: tuple[Served, ...] = Field(min_length=1)
    grows_from: Id | None = None
    numbers: Annotated[str, Field(pattern=r"^[1-9]v[0-9]$|^0v[1-9]$")]
    players: tuple[Group, Group]
    court: Literal["half", "full"] = "half"
    baskets: Annotated[int, Field(ge=0, le=2)] = 1
    places: Annotated[int, Field(ge=1, le=20)] = 1
    balls: Annotated[int, Field(ge=0, le=30)] = 1
    coaches: Annotated[int, Field(ge=0, le=4)] = 0
    seconds: Annotated[int, Field(ge=2, le=180)]
    how: Annotated[Text, Field(max_length=240)]
    rule: Annotated[Text, Field(max_length=160)] | None = None
    spots: tuple[Spot, ...] = Field(min_length=1)
    actions: tuple[Action, ...] = Field(min_length=1)
    rotation: tuple[Step, ...] = Field(min_length=1)
    learners: tuple[Who, ...] = ()
    cues: tuple[Cue, ...] = ()
    easier: Line | None = None
    harder: Line | None = None
    cautions: tuple[Line, ...] = ()

    @property
    def attackers(self) -> int:
        """How many attackers a repetition has, by its numbers."""
        return int(self.numbers[0])

    @property
    def defenders(self) -> int:
        """How many defenders a repetition has, by its numbers."""
        return int(self.numbers[-1])

    @property
    def frames(self) -> int:
        """How many pictures it takes to draw the drill, 1 to 3."""
        return max((action.frame or 1 for action in self.actions), default=1)


def is_attacker(who: str) -> bool:
    """Whether a name means an attacker: a number."""
    return who.isdigit()


def is_defender(who: str) -> bool:
    """Whether a name means a defender: X and a number."""
    return who[:1] == "X" and who[1:].isdigit()


def is_coach(who: str) -> bool:
    """Whether a name means a coach: C, or C and a number."""
    return who == "C" or (who[:1] == "C" and who[1:].isdigit())


def is_cone(who: str) -> bool:
    """Whether a name means a cone: cone, or cone- and a number."""
    return who == "cone" or who.startswith("cone-")


def is_player(who: str) -> bool:
    """Whether a name means a player on the diagram, attacker or defender."""
    return is_attacker(who) or is_defender(who)


def is_line(who: str) -> bool:
    """Whether a name means a line in which players wait."""
    return not (is_player(who) or is_coach(who) or is_cone(who))
