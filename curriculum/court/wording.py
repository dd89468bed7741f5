"""Say in words what a drill's pictures show: for screen readers, and for whoever reads aloud."""

from curriculum.court.execute import execute
from curriculum.court.geometry import FIBA
from curriculum.court.scene import Frame, Move
from curriculum.court.setup import set_up
from curriculum.court.spots import in_words, spots
from curriculum.models.drills import Drill, Spot, is_coach
from curriculum.wording import listed


def describe_frame(drill: Drill, frame: int) -> str:
    """Return what one picture shows; the first one also says who stands where."""
    deeds = _deeds(drill, execute(drill).frames[frame])
    return f"{_start(drill)} {deeds}" if frame == 0 else deeds


def _start(drill: Drill) -> str:
    floor, _ = set_up(drill, FIBA)
    players = [_stands(spot) for spot in drill.spots if spot.who in floor.at]
    balls = [_name(spot.who) for spot in drill.spots if spot.ball]
    have = "has" if len(balls) == 1 else "have"
    ball = f" {listed(balls)} {have} the ball." if balls else ""
    return f"{'; '.join(players)}.{ball}"


def _stands(spot: Spot) -> str:
    if spot.at:
        return f"{_name(spot.who)} {_where(spot.at)}"
    verb, whom = next(
        (verb, whom)
        for verb, whom in (
            ("guards", spot.guards),
            ("denies", spot.denies),
            ("helps off", spot.helps),
        )
        if whom
    )
    return f"{_name(spot.who)} {verb} {whom}"


def _deeds(drill: Drill, frame: Frame) -> str:
    sentences: list[str] = []
    numbers: list[int] = []
    for move in frame.moves:
        words = _deed(drill, move)
        if numbers and numbers[-1] == move.number:
            sentences[-1] += f" while {words}"
        else:
            sentences.append(words)
        numbers.append(move.number)
    return " ".join(f"{words[0].upper()}{words[1:]}." for words in sentences)


def _deed(drill: Drill, move: Move) -> str:
    by, to = _name(move.by), _target(drill, move.to)
    way = f" by way of {listed([_target(drill, name) for name in move.via])}"
    via = way if move.via else ""
    match move.do:
        case "pass":
            return f"{by} passes to {to}"
        case "handoff":
            return f"{by} hands the ball to {to}"
        case "cut":
            return f"{by} cuts{via} to {to}"
        case "dribble":
            return f"{by} dribbles{via} to {to}"
        case "screen":
            return f"{by} screens{' the cone' if move.on.startswith('cone') else f' {move.on}'}"
        case "shot":
            return f"{by} shoots"
        case "rebound":
            return f"{by} rebounds"
        case "stop":
            return f"{by} stops on two feet"
        case "turn":
            return f"{by} pivots"
        case "defend":
            if not move.on:
                return f"{by} moves{via} to {to}"
            verb = {"guard": "guards", "deny": "denies", "help": "helps off"}[move.how]
            return f"{by} {verb} {move.on}"


def _target(drill: Drill, name: str) -> str:
    known = spots(FIBA, drill.court == "full")
    return in_words(name) if name in known else _name(name)


def _where(spot: str) -> str:
    words = in_words(spot)
    if words.startswith(("behind", "inside")):
        return words
    on = "on" if spot.endswith(("wing", "elbow", "block", "slot", "post", "midline")) else "at"
    return f"{'in' if spot.endswith('corner') else on} {words}"


def _name(who: str) -> str:
    if is_coach(who):
        return "the coach" if who == "C" else f"coach {who[1:]}"
    if who.startswith("cone"):
        return "the cone" if who == "cone" else f"cone {who.removeprefix('cone-')}"
    return who
