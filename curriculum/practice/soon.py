"""What of a difference between two plans concerns people first; the rest in numbers."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from curriculum.practice.difference import BlockChange, PracticeChange, WordedDifference
from curriculum.spans import DAY
from curriculum.wording import counted

SOON = 14 * DAY
"""What changes within so many days is told in full: about what is printed and prepared ahead."""

FEW = 3
"""Later changes, at most, that are told in full too: a line that counts them would save nothing."""


@dataclass(frozen=True)
class Sooner:
    """The changes of a difference in two parts, what comes soon and what comes later."""

    practices: tuple[PracticeChange, ...]
    blocks: tuple[BlockChange, ...]
    later_practices: tuple[PracticeChange, ...] = ()
    later_blocks: tuple[BlockChange, ...] = ()

    @property
    def practices_words(self) -> str:
        """How many practices change later, "" when none does."""
        return _more(len(self.later_practices), "practice")

    @property
    def blocks_words(self) -> str:
        """How many blocks change later and what kind they are, "" when none does."""
        words = _more(len(self.later_blocks), "block")
        reviews = sum(change.review for change in self.later_blocks)
        if not reviews:
            return words
        if reviews == len(self.later_blocks):
            return f"{words}, all of them reviews"
        return f"{words}, {reviews} of them {'a review' if reviews == 1 else 'reviews'}"


def sooner(found: WordedDifference, today: dt.date) -> Sooner:
    """Return the changes of the two weeks that begin with the first one from a date on.

    So a change that lies far ahead is told with what it brings about. What has changed before that
    is told in full too, and so are later changes when there are few.
    """
    ahead = [each.soonest for each in _all(found) if each.soonest >= today]
    until = min(ahead, default=today) + SOON
    practices = [each for each in found.practices if each.soonest >= until]
    blocks = [each for each in found.blocks if each.soonest >= until]
    later_practices = tuple(practices) if len(practices) > FEW else ()
    later_blocks = tuple(blocks) if len(blocks) > FEW else ()
    return Sooner(
        tuple(each for each in found.practices if each not in later_practices),
        tuple(each for each in found.blocks if each not in later_blocks),
        later_practices,
        later_blocks,
    )


def whole(found: WordedDifference) -> Sooner:
    """Return all changes as what is told in full."""
    return Sooner(found.practices, found.blocks)


def _all(found: WordedDifference) -> Iterable[BlockChange | PracticeChange]:
    return (*found.practices, *found.blocks)


def _more(number: int, noun: str) -> str:
    return f"{counted(number, f'more {noun}')} later" if number else ""
