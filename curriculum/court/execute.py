"""Play a drill through action by action; what makes no sense becomes a problem at its action.

Files and lines are not known here: a problem carries the drill's id and the number of the action,
such as `pass-and-go.actions[3]`, by which the library's sources find its line.
"""

from collections.abc import Callable, Iterable

from curriculum.court.clashes import near_spot, on_one_spot, unknown
from curriculum.court.geometry import FIBA, Court, Point, distance, toward
from curriculum.court.scene import Execution, Frame, Move
from curriculum.court.setup import Floor, arm_of, set_up
from curriculum.court.spots import FIVE_SPOTS, in_words, spots
from curriculum.court.stance import beside, make_room, screening_place, stance
from curriculum.models.drills import Action, Drill, is_attacker, is_cone, is_defender
from curriculum.problems import Problem
from curriculum.wording import listed

HAND_TO_HAND = 2.0
"""Metres that a handoff bridges at most."""

_Step = tuple[str, str]
"""What is wrong with an action, and the way out."""


def execute(drill: Drill, court: Court = FIBA) -> Execution:
    """Return the pictures of a drill, and its problems in the order of its actions.

    A faulty action is passed over, so that one fault is told once; actions are judged only when
    everybody has a place.
    """
    floor, problems = set_up(drill, court)
    play = _Play(drill, court, floor)
    faults = play.run()
    told = problems if floor.misplaced else [*problems, *faults]
    return Execution(tuple(play.frames), tuple(told))


def drill_problems(drills: Iterable[Drill]) -> tuple[Problem, ...]:
    """Return all problems of some drills, each with the drill's id and the place in its key."""
    return tuple(problem for drill in drills for problem in execute(drill).problems)


class _Play:
    """A drill in motion: the floor as it stands, the ball, and the pictures so far."""

    def __init__(self, drill: Drill, court: Court, floor: Floor) -> None:
        self.drill, self.court, self.floor = drill, court, floor
        self.at = dict(floor.at)
        self.holders = set(floor.holders)
        self.dead: set[str] = set()
        self.loose = 0
        self.frames: list[Frame] = []
        self._moves: list[Move] = []
        self._start: tuple[tuple[str, Point], ...] = ()
        self._holding: frozenset[str] = frozenset()
        self._spots = spots(court, drill.court == "full")

    def run(self) -> list[Problem]:
        """Play all actions and return what was wrong with them."""
        problems: list[Problem] = []
        number, current = 0, 1
        self._open_frame()
        for index, action in enumerate(self.drill.actions):
            frame = action.frame or current
            number += 0 if action.together and number else 1
            if frame not in (current, current + 1):
                way_out = f"write frame = {current} or {current + 1}, or leave it out"
                says = f"frame {frame} cannot follow frame {current}"
                problems.append(self._problem(index, says, way_out))
            if frame > current:
                self._close_frame()
                self._open_frame()
                current = frame
            problems += [
                self._problem(index, says, way_out)
                for says, way_out in self._play(action, number, self._last_of_step(index))
            ]
        self._close_frame()
        return problems

    def _open_frame(self) -> None:
        make_room(self.at, arm_of(self.drill) * 0.96)
        self._start, self._holding = tuple(self.at.items()), frozenset(self.holders)
        self._moves = []

    def _close_frame(self) -> None:
        self.frames.append(Frame(self._start, self._holding, tuple(self._moves)))

    def _last_of_step(self, index: int) -> bool:
        after = self.drill.actions[index + 1 : index + 2]
        return not (after and after[0].together)

    def _problem(self, index: int, says: str, way_out: str) -> Problem:
        key = f"{self.drill.id}.actions[{index + 1}]"
        return Problem("", 0, key, says, way_out=way_out)

    def _play(self, action: Action, number: int, settles: bool) -> list[_Step]:
        """Play one action; when it `settles` a moment, look whether two stand on one spot."""
        misnamed = unknown(action, self.at, self._spots)
        wrong = [misnamed] if misnamed else []
        if not wrong:
            deeds: dict[str, Callable[[Action, int], list[_Step]]] = {
                "pass": self._pass,
                "handoff": self._pass,
                "cut": self._run,
                "dribble": self._run,
                "defend": self._defend,
                "screen": self._screen,
                "shot": self._shot,
                "rebound": self._rebound,
                "stop": self._stay,
                "turn": self._stay,
            }
            wrong = deeds[action.do](action, number)
        if not wrong and settles:
            wrong = self._crowd(action.by)
        return wrong

    def _pass(self, action: Action, number: int) -> list[_Step]:
        by, to = action.by, action.to or ""
        word = "passes" if action.do == "pass" else "hands the ball over"
        wrong = self._no_ball(by, word)
        if not wrong and (to not in self.at or is_cone(to) or to == by):
            wrong = [(f"{by} {word} to nobody", "write to = and another player")]
        if not wrong and to in self.holders:
            wrong = [(f"{by} {word} to {to}, who has a ball already", "let that ball go first")]
        if not wrong and is_attacker(by) and is_defender(to):
            wrong = [(f"{by} {word} to the defender {to}", "pass to an attacker")]
        apart = distance(self.at[by], self.at.get(to, self.at[by]))
        if not wrong and action.do == "handoff" and apart > HAND_TO_HAND:
            says = f"{by} and {to} are {apart:.1f} m apart, too far for a handoff"
            wrong = [(says, f'bring them together first, such as to = "{by}"')]
        if wrong:
            return wrong
        self.holders.discard(by)
        self.holders.add(to)
        self.dead.discard(by)
        self._add(action, number, (self.at[by], self.at[to]))
        return []

    def _run(self, action: Action, number: int) -> list[_Step]:
        by, has = action.by, action.by in self.holders
        if action.do == "cut" and has:
            return [(f"{by} runs with the ball", 'write do = "dribble", or let the ball go first')]
        if action.do == "dribble":
            if wrong := self._no_ball(by, "dribbles"):
                return wrong
            if by in self.dead:
                return [(f"{by} dribbles again after a stop", "pass or shoot after a stop")]
        if action.to is None:
            return [(f"{by} goes nowhere", "write to = and a spot")]
        start = self.at[by]
        end = self._place(action.to, start)
        if distance(start, end) < 0.3 and not action.via:
            says = f"{by} is already {_at(action.to)}"
            return [(says, "write another spot, or via = to go out and back")]
        self._go(action, number, end)
        return []

    def _defend(self, action: Action, number: int) -> list[_Step]:
        if not is_defender(action.by):
            return [(f"{action.by} is no defender", "a defender is X and a number")]
        if action.on is None and action.to is None:
            return [(f"{action.by} defends nobody", "write on = and an attacker")]
        if action.on is not None:
            target = self.at[action.on]
            ball, start = self._ball_near(target), self.at[action.by]
            end = stance(action.how, target, ball, self._ring(), start, arm_of(self.drill))
        else:
            end = self._place(action.to or "", self.at[action.by])
        self._go(action, number, end)
        return []

    def _screen(self, action: Action, number: int) -> list[_Step]:
        by, on = action.by, action.on
        if by in self.holders:
            return [(f"{by} screens with the ball in hand", "pass it first")]
        if on is None or not (is_cone(on) or is_attacker(by) == is_defender(on)) or on == by:
            says = f"{by} screens {'nobody' if on is None else f'{on}, a team-mate'}"
            return [(says, "write on = and an opponent, or a cone where nobody defends")]
        last = self.at[by]
        for name in action.via:
            last = self._place(name, last)
        self._go(action, number, screening_place(last, self.at[on]))
        return []

    def _shot(self, action: Action, number: int) -> list[_Step]:
        if wrong := self._no_ball(action.by, "shoots"):
            return wrong
        self.holders.discard(action.by)
        self.dead.discard(action.by)
        self.loose += 1
        start = self.at[action.by]
        self._add(action, number, (start, self._nearest_ring(start)))
        return []

    def _rebound(self, action: Action, number: int) -> list[_Step]:
        if not self.loose:
            return [(f"{action.by} rebounds, but nobody has shot", "put a shot before it")]
        if action.by in self.holders:
            return [(f"{action.by} rebounds with a ball in hand", "let that ball go first")]
        self.loose -= 1
        self.holders.add(action.by)
        start = self.at[action.by]
        ring = self._nearest_ring(start)
        far = distance(start, ring)
        self._go(action, number, toward(ring, start, min(far, 1.3)))
        return []

    def _stay(self, action: Action, number: int) -> list[_Step]:
        if action.do == "stop" and action.by in self.holders:
            self.dead.add(action.by)
        self._add(action, number, (self.at[action.by],))
        return []

    def _crowd(self, mover: str) -> list[_Step]:
        """Find two on one spot after a moment; told at the action that brought it about."""
        wrong = []
        for who, other in on_one_spot(self.at):
            pair = frozenset((who, other))
            if pair not in self.floor.tied:
                self.floor.tied.add(pair)
                where = near_spot(self.at[who], self._spots)
                says = f"{listed(sorted(pair))} end on one spot{where}"
                wrong.append((says, f"send {mover} to another spot, or move the other first"))
        return wrong

    def _no_ball(self, who: str, word: str) -> list[_Step]:
        if who in self.holders:
            return []
        have = listed(sorted(self.holders))
        has = "nobody has one" if not have else f"{have} {'has' if ',' not in have else 'have'} it"
        return [(f"{who} {word} without a ball", f"{has}; set ball = true, or pass first")]

    def _place(self, name: str, start: Point) -> Point:
        return beside(start, self.at[name]) if name in self.at else self._spots[name]

    def _go(self, action: Action, number: int, end: Point) -> None:
        start = last = self.at[action.by]
        path = [start]
        for name in action.via:
            last = self._place(name, last)
            path.append(last)
        self.at[action.by] = end
        self._add(action, number, (*path, end) if distance(last, end) > 0.05 else tuple(path))

    def _add(self, action: Action, number: int, path: tuple[Point, ...]) -> None:
        self._moves.append(
            Move(
                number=number,
                do=action.do,
                by=action.by,
                path=path,
                round=action.round,
                to=action.to or "",
                via=action.via,
                on=action.on or "",
                how=action.how,
            )
        )

    def _ring(self) -> Point:
        """Return the basket that the attackers go for: on a full court the far one."""
        far = self.drill.court == "full"
        return 0.0, (self.court.length - self.court.ring if far else self.court.ring)

    def _nearest_ring(self, point: Point) -> Point:
        far = point[1] > self.court.length / 2
        return 0.0, (self.court.length - self.court.ring if far else self.court.ring)

    def _ball_near(self, point: Point) -> Point | None:
        balls = [self.at[who] for who in sorted(self.holders)]
        return min(balls, key=lambda ball: distance(ball, point), default=None)


def _at(place: str) -> str:
    return f"at {in_words(place)}" if place not in FIVE_SPOTS else f"on {in_words(place)}"
