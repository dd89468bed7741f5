"""Which practices come so close before a game that nothing new belongs in them."""

import datetime as dt
from collections.abc import Iterable, Sequence

from curriculum.gym.practices import Practice
from curriculum.models.season import Game

QUIET_DAYS = 3
"""Days before a game, at most, at which its last practice is still close to it."""


def quiet_ids(practices: Iterable[Practice], games: Iterable[Game]) -> frozenset[str]:
    """Return the ids of practices in which nothing may be introduced.

    That is the last practice that ends before a game starts, if it is at most 3 days before it and
    not the only practice since the game before, or since the season's start for the first game.
    """
    found = set()
    since: dt.datetime | None = None
    for game in sorted(games, key=lambda game: (game.date, game.start)):
        start = dt.datetime.combine(game.date, game.start)
        between = _between(practices, since, start)
        if len(between) > 1 and (game.date - between[-1].date).days <= QUIET_DAYS:
            found.add(between[-1].id)
        since = start
    return frozenset(found)


def _between(
    practices: Iterable[Practice], since: dt.datetime | None, until: dt.datetime
) -> Sequence[Practice]:
    """Return the practices that end by `until`, but not by `since`, in order of their end."""
    ends = [(dt.datetime.combine(one.date, one.end), one.id, one) for one in practices]
    return [
        one
        for end, _, one in sorted(ends, key=lambda row: row[:2])
        if end <= until and (since is None or end > since)
    ]
