"""Tell what clashes on the floor: names that stand for nobody, two players on one spot."""

from collections.abc import Iterator, Mapping

from curriculum.court.geometry import Point, distance
from curriculum.court.spots import in_words
from curriculum.files.nearest import suggest
from curriculum.models.drills import Action, is_coach, is_cone, is_defender

SAME_SPOT = 0.9
"""Metres below which two team-mates stand on one spot."""

CROWDED = 0.6
"""Metres below which two opponents do."""


def unknown(
    action: Action, at: Mapping[str, Point], spots: Mapping[str, Point]
) -> tuple[str, str] | None:
    """Return what is wrong with an action's names, and the way out; None when all are known."""
    people = tuple(who for who in at if not is_cone(who))
    if action.by not in people:
        return f"{action.by} is not on the court", suggest(action.by, people, "add a spot")
    for name in (*action.via, *((action.to,) if action.to else ())):
        if name not in at and name not in spots:
            way_out = suggest(name, (*spots, *people), "write the name of a spot")
            return f'there is no spot or player "{name}"', way_out
    if action.on and action.on not in at:
        way_out = suggest(action.on, tuple(at), "name somebody on the court")
        return f"{action.on} is not on the court", way_out
    return None


def on_one_spot(at: Mapping[str, Point]) -> Iterator[tuple[str, str]]:
    """Yield each two who stand on one spot: team-mates closer than opponents may be."""
    people = [who for who in at if not is_cone(who)]
    for first, who in enumerate(people):
        for other in people[first + 1 :]:
            same = is_defender(who) == is_defender(other) or is_coach(who) or is_coach(other)
            if distance(at[who], at[other]) < (SAME_SPOT if same else CROWDED):
                yield who, other


def near_spot(point: Point, spots: Mapping[str, Point]) -> str:
    """Return the spot at a point in words, behind a comma; "" when it is at none."""
    near = min(spots, key=lambda name: distance(spots[name], point))
    return f", {in_words(near)}" if distance(spots[near], point) < SAME_SPOT else ""
