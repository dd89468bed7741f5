"""A drill as a sheet shows it: its words, and what it comes to for the players of one practice."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from string import ascii_uppercase

from curriculum.models.drills import Drill, is_attacker, is_line
from curriculum.models.season import Group, Level
from curriculum.practice.kit import Kit, kit_of
from curriculum.practice.pick import Picked
from curriculum.practice.rotation import rotation_words
from curriculum.wording import listed

MOST_CUES = 4
"""Cues of one block: more is not kept in mind; common practice, no published source."""

ALIKE = 0.75
"""The share of words in common from which two cues say the same."""


@dataclass(frozen=True)
class Version:
    """How one group of the team runs the drill.

    group: its name with its number of players, "" for a team without groups. words: what is
    different, "" where nothing is.
    """

    group: str
    level: Level
    words: str


@dataclass(frozen=True)
class Exercise:
    """A drill with what it comes to for the players, baskets and coaches of a practice.

    id: of a drill of the library. frames: how many pictures it has.
    groups: the groups and each player's turns in a sentence, or why it cannot be run.
    coaches: which coach is with which groups, "" where that goes without saying.
    """

    id: str
    name: str
    numbers: str
    frames: int
    full_court: bool
    how: str
    rule: str
    rotation: str
    groups: str
    coaches: str
    kit: Kit
    versions: tuple[Version, ...]
    cues: tuple[str, ...]
    cautions: tuple[str, ...]


def exercise(picked: Picked, coaches: int, groups: Sequence[Group]) -> Exercise:
    """Return a drill as the sheet of a team shows it."""
    drill, run = picked.drill, picked.choice.best
    return Exercise(
        id=drill.id,
        name=drill.name,
        numbers=drill.numbers.replace("v", " v "),
        frames=drill.frames,
        full_court=drill.court == "full",
        how=drill.how,
        rule=drill.rule or "",
        rotation=rotation_in_short(drill),
        groups=picked.choice.sentence,
        coaches=with_whom(run.sizes if run else (1,), coaches),
        kit=kit_of(drill, run),
        versions=tuple(_versions(drill, groups)),
        cues=drill.cues,
        cautions=drill.cautions,
    )


def _versions(drill: Drill, groups: Sequence[Group]) -> Iterator[Version]:
    """Yield the version of each group of the team; of a team without groups the other two.

    A group for which the drill has no version of its own runs it as it is written.
    """
    words: dict[Level, str] = {
        "easier": drill.easier or "",
        "as written": "",
        "harder": drill.harder or "",
    }
    for group in groups:
        level = group.level if words[group.level] else "as written"
        yield Version(f"{group.name} ({group.players})", level, words[level])
    if not groups:
        for level in ("easier", "harder"):
            if words[level]:
                yield Version("", level, words[level])


def with_whom(sizes: Sequence[int], coaches: int) -> str:
    """Return which coach (A, B, ...) is with which of the groups (1, 2, ...); "" for one alone.

    Coaches beyond one a group go round. Common practice, no published source.

    sizes: the players of each group.

    >>> with_whom([3, 3, 2, 2], 2)
    'A with groups 1 and 2, B with groups 3 and 4'
    """
    groups = len(sizes)
    if coaches < 2:
        return ""
    if sizes[0] == 1 and groups > 1:
        return "each with a part of the floor"
    if groups == 1:
        return "one leads, the others correct" if coaches > 2 else "one leads, one corrects"
    busy = min(groups, coaches)
    each, over = divmod(groups, busy)
    words, first = [], 1
    for coach in range(1, busy + 1):
        last = first + each + (coach <= over) - 1
        words.append(f"{ascii_uppercase[coach - 1]} with {_numbered(first, last)}")
        first = last + 1
    if coaches > busy:
        words.append("the others go round")
    return ", ".join(words)


def _numbered(first: int, last: int) -> str:
    if first == last:
        return f"group {first}"
    joined = listed([str(first), str(last)]) if last == first + 1 else f"{first} to {last}"
    return f"groups {joined}"


def merged(first: Sequence[str], second: Sequence[str], most: int = MOST_CUES) -> tuple[str, ...]:
    """Return cues of two sources, in turns; of two in much the same words only the first.

    >>> merged(["Hands up", "Go"], ["Hands up high", "See the ball", "Talk"])
    ('Hands up', 'Go', 'See the ball', 'Talk')
    """
    found: list[str] = []
    for place in range(max(len(first), len(second))):
        for cue in (*first[place : place + 1], *second[place : place + 1]):
            if not any(_alike(cue, other) for other in found):
                found.append(cue)
    return tuple(found[:most])


def _alike(cue: str, other: str) -> bool:
    """Whether nearly all words of the shorter cue stand in the longer one."""
    words, others = (frozenset(re.findall(r"\w+", each.casefold())) for each in (cue, other))
    return len(words & others) >= ALIKE * min(len(words), len(others))


def rotation_in_short(drill: Drill) -> str:
    """Return who goes where next: as a circle, `1 → 2 → line → 1`, or by sides.

    A side is all attackers, all defenders or a line; told so when each goes to another as a whole.
    Any other rotation is told step by step.
    """
    arcs = [(step.from_.replace("-", " "), step.to.replace("-", " ")) for step in drill.rotation]
    sides = [(_side(step.from_), _side(step.to)) for step in drill.rotation]
    for each in (arcs, list(dict.fromkeys(sides))):
        circle = _circle(each)
        if len(circle) > 1:
            return " → ".join((*circle, circle[0]))
    return rotation_words(drill)


def _circle(arcs: Sequence[tuple[str, str]]) -> tuple[str, ...]:
    """Return the one circle that all arcs are part of, from the first on; empty for none."""
    after = dict(arcs)
    if len(after) < len(arcs):
        return ()
    circle = [arcs[0][0]]
    while after.get(circle[-1]) not in (None, circle[0]) and len(circle) < len(after):
        circle.append(after[circle[-1]])
    whole = len(circle) == len(after) and after.get(circle[-1]) == circle[0]
    return tuple(circle) if whole else ()


def _side(who: str) -> str:
    if is_line(who):
        return who.replace("-", " ")
    return "attack" if is_attacker(who) else "defence"
