"""What a dated practice and a season's gym calendar are; how they come about is told elsewhere."""

import datetime as dt
from dataclasses import dataclass
from typing import NamedTuple

from curriculum.models.plan import NotHeld
from curriculum.models.season import Game
from curriculum.models.skills import Court
from curriculum.problems import Problem


class At(NamedTuple):
    """Where and when a practice begins, by the wall clock."""

    date: dt.date
    start: dt.time
    venue: str


class Former(NamedTuple):
    """A practice of an older plan, as it stood there; its id must live on."""

    id: str
    date: dt.date
    start: dt.time
    venue: str

    @property
    def at(self) -> At:
        """Where and when it stood."""
        return At(self.date, self.start, self.venue)


@dataclass(frozen=True)
class Practice:
    """One practice that is held: wall-clock times in the season's zone, minutes of its parts.

    end: the moment after the last minute.
    baskets: those that this team can use (half a court halves the gym's, rounded down, at least 1).
    expected: players who usually come.
    teaching_minutes: minutes less warm-up, scrimmage, cool-down and breaks.
    usable_minutes: teaching minutes less the spare share, rounded down.
    changeover: minutes that every block costs on top of its own.
    before_game: nothing new may be introduced here, because a game follows at once.
    """

    id: str
    date: dt.date
    start: dt.time
    end: dt.time
    minutes: int
    venue: str
    court: Court
    baskets: int
    expected: int
    week: int
    warm_up: int
    scrimmage: int
    cool_down: int
    breaks: int
    break_minutes: int
    changeover: int
    teaching_minutes: int
    usable_minutes: int
    before_game: bool = False


@dataclass(frozen=True)
class Closed:
    """Dates without gym, both ends included; `venue` None means every gym."""

    from_: dt.date
    until: dt.date
    reason: str
    venue: str | None = None


@dataclass(frozen=True)
class Gym:
    """The dated practices of a season in order of date and start, and what stands beside them.

    not_held: every date on which a practice would have stood, with the reason why it does not.
    A practice that moved to another date stands in both: held there, not held here, under one id.
    closures: the season's own, and public holidays within it if they close the gym.
    problems: clashes and oddities found on the way, each with its place in the season file
    left open (file "", line 0) and the key path in `key`.
    """

    practices: tuple[Practice, ...]
    not_held: tuple[NotHeld, ...] = ()
    games: tuple[Game, ...] = ()
    closures: tuple[Closed, ...] = ()
    problems: tuple[Problem, ...] = ()

    def on(self, day: dt.date, venue: str | None = None) -> tuple[Practice, ...]:
        """Return the practices of one date, of one venue when it is given."""
        return tuple(
            practice
            for practice in self.practices
            if practice.date == day and venue in (None, practice.venue)
        )
