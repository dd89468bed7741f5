"""The scrimmage: who plays whom, and a rule that rewards what the day is about."""

from dataclasses import dataclass

from curriculum.models.skills import Court, Skill
from curriculum.practice.choose import split
from curriculum.practice.kit import Kit

SIDE = 5
"""Players of one side in a game of basketball."""

CHANGE = "change every 3 minutes"
"""Short turns keep those who rest warm; common practice, no published source."""

DEFENCE = "defen"
"""How the name of a strand about defending begins, in either spelling."""


@dataclass(frozen=True)
class Teams:
    """Who plays whom in the scrimmage, and what that takes."""

    words: str
    kit: Kit


def teams(players: int, baskets: int, court: Court, balls: int) -> Teams:
    """Return the sides of a scrimmage in which as few as can be stand beside it.

    More than fourteen play two games at once where both halves, and two balls, are there. Common
    practice.
    """
    if players < 2:
        return Teams("Everybody plays.", Kit(balls=1))
    two_games = players > SIDE * 2 + 4 and min(baskets, balls) > 1 and court == "full"
    sizes = [min(SIDE, size) for size in split(players, 4 if two_games else 2)]
    games = [f"{sizes[place]} against {sizes[place + 1]}" for place in range(0, len(sizes), 2)]
    words = f"Two games at once, {' and '.join(games)}" if two_games else games[0].capitalize()
    rest = players - sum(sizes)
    if rest:
        words += f"; {rest} {'rests' if rest == 1 else 'rest'}, {CHANGE}"
    return Teams(f"{words}.", Kit(balls=len(games), bibs=sum(sizes[1::2])))


def rule_of_the_day(skill: Skill | None) -> str:
    """Return the rule that rewards a skill in free play; "" without a skill.

    A skill that is itself a way to play, so has no stage but live, is rewarded by its passes.
    """
    if skill is None:
        return ""
    if skill.strand.casefold().startswith(DEFENCE):
        return f"Rule of the day: a stop with a good “{skill.name}” on the way counts as a basket."
    if skill.stages == ("live",):
        return "Rule of the day: the pass that leads to a basket is worth a point as well."
    return f"Rule of the day: a basket with a good “{skill.name}” on the way counts double."
