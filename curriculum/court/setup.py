"""Put the players of a drill on the court, and tell what is wrong with how they stand there."""

from dataclasses import dataclass, field

from curriculum.court.clashes import SAME_SPOT
from curriculum.court.geometry import Court, Point, distance
from curriculum.court.spots import spots
from curriculum.court.stance import ARM, FULL_COURT_ARM, stance
from curriculum.files.nearest import suggest
from curriculum.models.drills import (
    Drill,
    Manner,
    Spot,
    is_attacker,
    is_coach,
    is_defender,
    is_line,
    is_player,
)
from curriculum.problems import Problem
from curriculum.wording import counted


@dataclass
class Floor:
    """Who stands where at the start of a repetition, and who holds a ball.

    at: players, coaches and cones. lines: where lines of waiting players begin.
    tied: pairs of whom it has been told that they stand on one spot.
    misplaced: whose spot makes no sense; what they do is passed over.
    """

    at: dict[str, Point] = field(default_factory=dict)
    lines: dict[str, Point] = field(default_factory=dict)
    holders: set[str] = field(default_factory=set)
    tied: set[frozenset[str]] = field(default_factory=set)
    misplaced: set[str] = field(default_factory=set)


def set_up(drill: Drill, court: Court) -> tuple[Floor, list[Problem]]:
    """Return the floor of a drill, and a problem for each spot that makes no sense."""
    floor, problems = Floor(), []
    named = spots(court, drill.court == "full")
    ring = (0.0, court.length - court.ring if drill.court == "full" else court.ring)
    for rule in (_place, _defender):
        for index, spot in enumerate(drill.spots):
            for says, way_out in rule(spot, floor, named, ring, arm_of(drill)):
                floor.misplaced.add(spot.who)
                problems.append(_problem(drill, index, says, way_out))
    problems += [_problem(drill, index, *each) for index, each in _crowded(drill, floor)]
    if not floor.misplaced:
        problems += _numbers(drill, floor)
    return floor, problems


def arm_of(drill: Drill) -> float:
    """Return how far defenders stay off; farther on a full court, which is drawn smaller."""
    return FULL_COURT_ARM if drill.court == "full" else ARM


def _problem(drill: Drill, index: int, says: str, way_out: str) -> Problem:
    return Problem("", 0, f"{drill.id}.spots[{index + 1}]", says, way_out=way_out)


def _place(
    spot: Spot, floor: Floor, named: dict[str, Point], _ring: Point, _arm: float
) -> list[tuple[str, str]]:
    """Put one spot's own place on the floor, if it has one."""
    given = [key for key in ("at", "guards", "denies", "helps") if getattr(spot, key)]
    if len(given) != 1:
        has = " and ".join(given) or "no place"
        return [(f"{spot.who} has {has}", "write one of at, guards, denies and helps")]
    if spot.who in floor.at or spot.who in floor.lines:
        return [(f"{spot.who} stands there twice", "delete one of the two")]
    if spot.ball:
        floor.holders.add(spot.who)
    if spot.at is None:
        return []
    if spot.at not in named:
        way_out = suggest(spot.at, tuple(named), "write the name of a spot")
        return [(f'there is no spot "{spot.at}"', way_out)]
    (floor.lines if is_line(spot.who) else floor.at)[spot.who] = named[spot.at]
    return []


def _defender(
    spot: Spot, floor: Floor, _named: dict[str, Point], ring: Point, arm: float
) -> list[tuple[str, str]]:
    """Put a defender on the floor who stands by an attacker."""
    target = spot.guards or spot.denies or spot.helps
    if spot.who in floor.misplaced or spot.at is not None or target is None:
        return []
    if not is_defender(spot.who):
        return [(f"{spot.who} is no defender", "a defender is X and a number")]
    if target in floor.misplaced:
        floor.misplaced.add(spot.who)
        return []
    if target not in floor.at or not is_attacker(target):
        attackers = tuple(who for who in floor.at if is_attacker(who))
        return [(f"{target} is no attacker here", suggest(target, attackers, "add the attacker"))]
    how: Manner = "guard" if spot.guards else "deny" if spot.denies else "help"
    balls = [floor.at[who] for who in sorted(floor.holders) if who in floor.at]
    ball = min(balls, key=lambda each: distance(each, floor.at[target]), default=None)
    floor.at[spot.who] = stance(how, floor.at[target], ball, ring, arm=arm)
    return []


def _crowded(drill: Drill, floor: Floor) -> list[tuple[int, tuple[str, str]]]:
    found = []
    order = [spot.who for spot in drill.spots if spot.who in floor.at]
    numbers = {spot.who: index for index, spot in enumerate(drill.spots)}
    for place, who in enumerate(order):
        for other in order[:place]:
            if distance(floor.at[who], floor.at[other]) < SAME_SPOT:
                floor.tied.add(frozenset((other, who)))
                says = f"{other} and {who} start on one spot"
                found.append((numbers[who], (says, f"give {who} another spot")))
    return found


def _numbers(drill: Drill, floor: Floor) -> list[Problem]:
    """Compare the players on the court with what the drill says of their number."""
    found = []
    attackers = sum(is_attacker(who) for who in floor.at)
    defenders = sum(is_defender(who) for who in floor.at)
    if (attackers, defenders) != (drill.attackers, drill.defenders):
        says = (
            f"{counted(attackers, 'attacker')} and {counted(defenders, 'defender')} "
            "stand on the court"
        )
        key, way_out = f"{drill.id}.numbers", f'write numbers = "{attackers}v{defenders}"'
        found.append(Problem("", 0, key, says, drill.numbers, way_out))
    players = sum(is_player(who) for who in floor.at)
    if players > drill.players[0]:
        says = f"{players} players stand on the court, but a group may have fewer"
        key = f"{drill.id}.players"
        found.append(Problem("", 0, key, says, str(list(drill.players)), f"begin with {players}"))
    coaches = sum(is_coach(who) for who in floor.at)
    if coaches != drill.coaches:
        says = f"{coaches} of the spots are coaches"
        key, way_out = f"{drill.id}.coaches", f"write coaches = {coaches}"
        found.append(Problem("", 0, key, says, str(drill.coaches), way_out))
    if len(floor.holders) > drill.balls:
        says = f"{counted(len(floor.holders), 'ball')} in hand at the start"
        key, way_out = f"{drill.id}.balls", f"write balls = {len(floor.holders)} or more"
        found.append(Problem("", 0, key, says, str(drill.balls), way_out))
    return found
