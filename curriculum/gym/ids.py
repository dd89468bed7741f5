"""The ids of practices: given once, kept through moves and edits of a slot's time."""

from collections.abc import Callable, Container, Iterable, Sequence

from curriculum.gym.bookings import Booking
from curriculum.gym.practices import At, Former

Rule = Callable[[str, Booking, Former], bool]

RULES: tuple[Rule, ...] = (
    # The same practice, where it was or where a move has taken it.
    lambda fresh, now, old: old.id == fresh and old.at in (now.first, now.at),
    # The same place and time, and the old one was no guest there: a slot edited once before.
    lambda _, now, old: old.at == now.at and old.id.startswith(_day_and_venue(old.at)),
    # The same practice, whose move has been changed or taken back.
    lambda fresh, _, old: old.id == fresh,
    # A slot edited once before, and a move that stands or is new.
    lambda _, now, old: old.at == now.at,
    lambda _, now, old: old.at == now.first,
)
"""When a booking, here with the id it would get afresh, is a practice of the older plan."""


def ids_of(bookings: Sequence[Booking], former: Iterable[Former] = ()) -> tuple[str, ...]:
    """Return the id of each booking; no two are equal.

    An id is the date, gym and time first planned: `2027-01-13-north-gym-1730`. A second practice
    first planned there and then gets `-2` behind it. Practices of an older plan keep theirs: first
    what agrees by the rules above, then the earliest booking whose date and gym are those of
    exactly one old practice not matched so far.
    """
    fresh = _fresh_ids(bookings)
    unmatched = {old.id: old for old in sorted(former)}
    kept: dict[int, str] = {}

    def keep(number: int, found: Sequence[str]) -> None:
        kept[number] = found[0]
        del unmatched[found[0]]

    for rule in RULES:
        for number, booking in _without(kept, bookings):
            found = [old.id for old in unmatched.values() if rule(fresh[number], booking, old)]
            if found:
                keep(number, found)
    for before_moves in (False, True):
        for number, booking in sorted(_without(kept, bookings), key=lambda pair: pair[1].at):
            at = booking.first if before_moves else booking.at
            found = [old.id for old in unmatched.values() if _same_day_and_venue(old.at, at)]
            if len(found) == 1:
                keep(number, found)
    used = set(kept.values())
    return tuple(
        kept[number] if number in kept else _claim(fresh[number], used)
        for number in range(len(bookings))
    )


def _without(kept: Container[int], bookings: Sequence[Booking]) -> list[tuple[int, Booking]]:
    return [(number, one) for number, one in enumerate(bookings) if number not in kept]


def _fresh_ids(bookings: Sequence[Booking]) -> tuple[str, ...]:
    used: set[str] = set()
    names = (f"{_day_and_venue(one.first)}-{one.first.start:%H%M}" for one in bookings)
    return tuple(_claim(name, used) for name in names)


def _claim(name: str, used: set[str]) -> str:
    free, count = name, 1
    while free in used:
        count += 1
        free = f"{name}-{count}"
    used.add(free)
    return free


def _day_and_venue(at: At) -> str:
    return f"{at.date}-{at.venue}"


def _same_day_and_venue(one: At, other: At) -> bool:
    return (one.date, one.venue) == (other.date, other.venue)
