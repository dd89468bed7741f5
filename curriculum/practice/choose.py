"""Choose the drill and the number of groups that give these players the most turns."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace

from curriculum.models.drills import Drill, Step, is_cone
from curriculum.models.skills import Court, Stage
from curriculum.practice.rotation import lines, roles
from curriculum.practice.simulate import Tally, simulate
from curriculum.wording import counted, listed

EVEN = 1.5
"""How many times the turns of others a player may get before groups count as uneven."""


@dataclass(frozen=True)
class Run:
    """One drill with one number of groups.

    sizes: players of each group, largest first. balls, coaches: what all groups need together.
    baskets: how many are in use. fewest, most: turns of a player in the minutes, over all groups.
    waiting: the share of all players' time spent in line, 0 to 1. rest: the longest wait in a line,
    in repetitions. rounds: repetitions of a group.
    crowded: a group is larger than the drill is made for.
    in_turns: of a drill for one player with a ball, there are fewer balls than players.
    """

    drill: Drill
    sizes: tuple[int, ...]
    fewest: int
    most: int
    attacks: int
    rounds: int
    waiting: float
    rest: int
    balls: int
    baskets: int
    coaches: int
    crowded: bool
    in_turns: bool = False

    @property
    def groups(self) -> int:
        """How many groups there are."""
        return len(self.sizes)

    @property
    def kit(self) -> tuple[tuple[str, int], ...]:
        """What has to be brought: balls, cones and bibs, each with its number, none left at 0.

        Bibs tell the teams apart where three or more play against three or more.
        """
        drill, groups = self.drill, self.groups
        cones = sum(is_cone(spot.who) for spot in drill.spots) * groups
        bibs = drill.defenders * groups if min(drill.attackers, drill.defenders) >= 3 else 0
        wanted = (("balls", self.balls), ("cones", cones), ("bibs", bibs))
        return tuple((name, count) for name, count in wanted if count)


@dataclass(frozen=True)
class Choice:
    """What suits best, and what it was weighed against.

    best: None when no drill can be run with these numbers.
    other: the same drill with the next fewer groups, None when there is no such way.
    sentence: both in words, for the sheet.
    """

    best: Run | None
    other: Run | None
    sentence: str


@dataclass(frozen=True)
class Means:
    """What stands ready for a block; minutes: of pure playing."""

    players: int
    baskets: int
    balls: int
    coaches: int
    minutes: int
    court: Court = "full"


def choose(
    drills: Iterable[Drill],
    players: int,
    baskets: int,
    balls: int,
    coaches: int,
    minutes: int,
    stage: Stage,
    *,
    court: Court = "full",
    used: Collection[str] = (),
) -> Choice:
    """Return the drill and the groups with the most turns for everybody and the least waiting.

    Among all ways to run the drills that teach the stage, drills not in `used` go first, then those
    whose groups are not too large; then the turns of the player who gets fewest, that nobody gets
    many more, the waiting, and fewer groups decide. `balls`, `baskets` and `coaches` are limits.
    `minutes` are of playing.
    """
    means = Means(players, baskets, balls, coaches, minutes, court)
    fitting = [drill for drill in drills if any(s.endswith(f"@{stage}") for s in drill.serves)]
    every = [run for drill in fitting for run in runs(drill, means)]
    if not every:
        return Choice(None, None, _nothing(fitting, means))
    best = min(every, key=lambda run: _rank(run, used))
    fewer = [run for run in every if run.drill.id == best.drill.id and run.groups < best.groups]
    other = min(fewer, key=lambda run: run.groups, default=None)
    return Choice(best, other, sentence(best, other, stage))


def _rank(run: Run, used: Collection[str]) -> tuple[bool, bool, int, bool, float, int, str]:
    return (
        run.drill.id in used,
        run.crowded,
        -run.fewest,
        run.most > EVEN * run.fewest,
        run.waiting,
        run.groups,
        run.drill.id,
    )


def runs(drill: Drill, means: Means) -> tuple[Run, ...]:
    """Return every way to run a drill with what stands ready, fewest groups first.

    Groups differ by one player at most. Groups larger than the drill is made for are marked. A
    drill for one player with a ball is done in turns where there are too few balls.
    """
    found = []
    for groups in range(1, most_groups(drill, means) + 1):
        sizes = split(means.players, groups)
        if sizes[-1] < drill.players[0] or (sizes[0] > len(roles(drill)) and not lines(drill)):
            continue
        tallies = {size: simulate(drill, size, means.minutes * 60) for size in set(sizes)}
        found.append(_run(drill, sizes, tallies, means))
    shared = None if found else _in_turns(drill, means)
    return (shared,) if shared else tuple(found)


def _in_turns(drill: Drill, means: Means) -> Run | None:
    """Return how players share the balls of a drill that each does alone, None where it is none."""
    alone = len(roles(drill)) == 1 and drill.balls == 1 and not lines(drill)
    groups = most_groups(drill, means)
    if not alone or not 0 < groups == means.balls < means.players:
        return None
    (role,) = roles(drill)
    steps = tuple(Step.model_validate({"from": a, "to": b}) for a, b in _there_and_back(role))
    sizes = split(means.players, groups)
    waited = drill.model_copy(update={"rotation": steps})
    tallies = {size: simulate(waited, size, means.minutes * 60) for size in set(sizes)}
    return replace(_run(drill, sizes, tallies, means), crowded=False, in_turns=True)


def _there_and_back(role: str) -> tuple[tuple[str, str], ...]:
    return (role, "line"), ("line", role)


def most_groups(drill: Drill, means: Means) -> int:
    """Return how many groups there is room, and there are balls and coaches, for."""
    if drill.court == "full" and (means.court != "full" or means.baskets < drill.baskets):
        return 0
    if means.baskets < drill.baskets:
        return 0
    stations = 1 if drill.court == "full" else max(1, means.baskets // max(1, drill.baskets))
    limits = [stations * drill.places, means.players // drill.players[0]]
    limits += [means.balls // drill.balls] if drill.balls else []
    limits += [means.coaches // drill.coaches] if drill.coaches else []
    return min(limits)


def split(players: int, groups: int) -> tuple[int, ...]:
    """Return groups as equal as they can be, the larger ones first.

    >>> split(14, 3)
    (5, 5, 4)
    """
    each, over = divmod(players, groups)
    return tuple(each + (place < over) for place in range(groups))


def _run(drill: Drill, sizes: tuple[int, ...], tallies: dict[int, Tally], means: Means) -> Run:
    groups = len(sizes)
    used = -(-groups // drill.places) * drill.baskets
    every = [tallies[size] for size in sizes]
    return Run(
        drill=drill,
        sizes=sizes,
        fewest=min(tally.fewest for tally in every),
        most=max(tally.most for tally in every),
        attacks=min(min(tally.attacks) for tally in every),
        rounds=means.minutes * 60 // drill.seconds,
        waiting=sum(tally.waiting * len(tally.turns) for tally in every) / means.players,
        rest=max(tally.longest_wait for tally in every),
        balls=groups * drill.balls,
        baskets=used,
        coaches=groups * drill.coaches,
        crowded=sizes[0] > drill.players[1],
    )


def sentence(best: Run, other: Run | None, stage: Stage) -> str:
    """Return a run in words, weighed against another one with fewer groups.

    `2 groups of 6: 11 repetitions each, 35 % waiting; one group: 5, 70 % waiting`
    """
    live = stage == "live"
    words = f"{_groups(best, live)}: {_turns(best, live)}, {_waiting(best, live)}"
    if other is not None:
        waits = f"{_share(other)} {'resting' if live else 'waiting'}"
        noun = "game" if live else "group"
        fewer = f"one {noun}" if other.groups == 1 else f"{other.groups} {noun}s"
        words += f"; {fewer}: {_number(other)}, {waits}"
    if best.crowded:
        words += f"; more than {best.drill.players[1]} in a group, so expect long lines"
    return words


def _groups(run: Run, live: bool) -> str:
    noun = "game" if live else "group"
    if run.in_turns:
        return f"{counted(run.balls, 'ball')} for {sum(run.sizes)} players, in turns"
    if run.sizes[0] == 1:
        return "Each player alone"
    if run.sizes[0] == run.sizes[-1]:
        count = f"One {noun}" if run.groups == 1 else f"{run.groups} {noun}s"
        pairs = "pair" if run.groups == 1 else "pairs"
        if run.sizes[0] == 2:
            return f"{'One' if run.groups == 1 else run.groups} {pairs}"
        return f"{count} of {run.sizes[0]}"
    if run.groups > 4:
        return f"{run.groups} {noun}s of {run.sizes[-1]} or {run.sizes[0]}"
    return f"{run.groups} {noun}s of {listed([str(size) for size in run.sizes])}"


def _turns(run: Run, live: bool) -> str:
    noun = "possession" if live else "repetition"
    return f"{_number(run)} {noun}{'' if _number(run) == '1' else 's'} each"


def _number(run: Run) -> str:
    return str(run.fewest) if run.fewest == run.most else f"{run.fewest} to {run.most}"


def _waiting(run: Run, live: bool) -> str:
    if not run.waiting:
        return "no rests" if live else "no waiting"
    if not live:
        return f"{_share(run)} waiting"
    rest = "one possession" if run.rest == 1 else f"{run.rest} possessions"
    return f"{_share(run)} resting, {rest} at most"


def _share(run: Run) -> str:
    return f"{run.waiting:.0%}".replace("%", " %")


def _nothing(drills: list[Drill], means: Means) -> str:
    """Say why no drill can be run, by the one that lacks least."""
    if not drills:
        return "No drill teaches this stage."
    drill = min(drills, key=lambda each: (each.players[0], each.baskets, each.balls, each.id))
    needs = f"{drill.players[0]} players"
    if means.players >= drill.players[0]:
        parts = [(drill.baskets, "basket"), (drill.balls, "ball"), (drill.coaches, "coach")]
        needs = listed([f"{count} {noun}" for count, noun in parts if count])
        needs += " and the full court" if drill.court == "full" else ""
    return f"No drill can be run: {drill.name} needs {needs}."
