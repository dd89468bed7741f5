"""Who missed the introduction of which skill: for the coach's own screen and sheet alone."""

import datetime as dt
from dataclasses import dataclass

from curriculum.models.record import Record


@dataclass(frozen=True)
class Missed:
    """A player who was absent when a skill was introduced.

    date: of the introduction. since: the first later practice with the player at which the skill
    was taught, None while there is none.
    """

    player: str
    skill: str
    date: dt.date
    since: dt.date | None


def missed_introductions(record: Record, before: dt.date) -> tuple[Missed, ...]:
    """Return who missed an introduction before a date, by date, then skill, then name.

    Only recorded practices tell; of an unrecorded one nobody knows who was there.
    """
    found: dict[tuple[str, str], Missed] = {}
    for entry in record.entries:
        taught = {block.skill for block in entry.blocks if block.held != "not held"}
        new = {block.skill for block in entry.blocks if block.kind == "introduce"} & taught
        if entry.date >= before:
            break
        for (player, skill), missed in list(found.items()):
            if skill in taught and player not in entry.absent and missed.since is None:
                found[player, skill] = Missed(player, skill, missed.date, entry.date)
        for skill in new:
            for player in entry.absent:
                found.setdefault((player, skill), Missed(player, skill, entry.date, None))
    return tuple(sorted(found.values(), key=lambda each: (each.date, each.skill, each.player)))


def to_catch_up(record: Record, before: dt.date) -> dict[str, tuple[str, ...]]:
    """Return for each skill the players who missed its introduction and were not taught it since.

    before: the date of the practice that could help them to catch up.
    """
    found: dict[str, tuple[str, ...]] = {}
    for missed in missed_introductions(record, before):
        if missed.since is None:
            found[missed.skill] = (*found.get(missed.skill, ()), missed.player)
    return found
