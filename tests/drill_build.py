"""Builders of small drills, every field defaulted, in a short form.

Spots: `"1 top ball"`, `"X1 guards 1"`, `"line back"`. Actions: `"1 pass 2"`, `"1 cut rim"`,
`"2 screen on X1"`, `"1 shot"`; `together` and `frame` behind a slash: `"1 cut rim / together"`.
Rotation: `"1 2"` leads from 1 to 2.
"""

from typing import Any

from curriculum.models.drills import Action, Drill, Spot, Step

GIVE_AND_GO = ("1 pass 2", "1 cut rim", "2 pass 1", "1 shot")


def spot(text: str) -> Spot:
    """Return a spot from its short form."""
    who, *words = text.split()
    ball = "ball" in words
    words = [word for word in words if word != "ball"]
    key = words[0] if words[0] in {"guards", "denies", "helps"} else "at"
    fields: dict[str, Any] = {"who": who, "ball": ball, key: words[-1]}
    return Spot(**fields)


def action(text: str) -> Action:
    """Return an action from its short form."""
    said, _, extra = text.partition("/")
    by, do, *words = said.split()
    fields: dict[str, Any] = {"by": by, "do": do}
    if "via" in words:
        at = words.index("via")
        fields["via"] = tuple(words[at + 1].split(","))
        words = words[:at]
    if "on" in words:
        fields["on"] = words[words.index("on") + 1]
        fields["how"] = words[-1] if words[-1] in {"deny", "help", "guard"} else "guard"
    elif words:
        fields["to"] = words[0]
    for word in extra.split():
        if word == "together":
            fields["together"] = True
        else:
            fields["frame"] = int(word)
    return Action(**fields)


def step(text: str) -> Step:
    """Return an arc of a rotation."""
    start, end = text.split()
    return Step(from_=start, to=end)


def drill(
    *actions: str,
    spots: tuple[str, ...] = ("1 top ball", "2 left-wing", "line back"),
    rotation: tuple[str, ...] = ("1 2", "2 line", "line 1"),
    **fields: Any,
) -> Drill:
    """Return a drill; without more it is a give and go of two with a line."""
    people = [each.split()[0] for each in spots]
    attackers = sum(who.isdigit() for who in people)
    defenders = sum(who[0] == "X" for who in people)
    plain: dict[str, Any] = {
        "id": "a-drill",
        "name": "A drill",
        "serves": ("give-and-go@unopposed",),
        "numbers": f"{attackers}v{defenders}",
        "players": (attackers + defenders, 9),
        "balls": 3,
        "seconds": 10,
        "how": "Pass, cut, shoot.",
        "spots": tuple(spot(each) for each in spots),
        "actions": tuple(action(each) for each in actions or GIVE_AND_GO),
        "rotation": tuple(step(each) for each in rotation),
    }
    return Drill(**{**plain, **fields})
