"""Of many changes two weeks are told in full, and the rest is counted."""

import datetime as dt

import pytest

from curriculum.practice.difference import BlockChange, PracticeChange, WordedDifference
from curriculum.practice.soon import sooner, whole

FIRST = dt.date(2027, 1, 13)


def day(after: int) -> dt.date:
    """Return the date so many days after the first one."""
    return FIRST + dt.timedelta(days=after)


def moved(after: int, to: int | None = None, *, review: bool = False) -> BlockChange:
    """Return a block that stands elsewhere."""
    was, now = day(after), day(after if to is None else to)
    return BlockChange("moved", f"{after}", f"{was}", f"{now}", was, min(was, now), review)


def gone(after: int) -> PracticeChange:
    """Return a practice that is gone."""
    return PracticeChange("gone", f"{after}", "", day(after), day(after))


def difference(
    blocks: list[BlockChange], practices: list[PracticeChange] | None = None
) -> WordedDifference:
    """Return a difference of these changes."""
    return WordedDifference(1, 2, tuple(practices or ()), tuple(blocks), (), ())


def shown(found: WordedDifference, today: dt.date) -> list[str]:
    """Return the blocks that are told in full."""
    return [each.block for each in sooner(found, today).blocks]


def test_two_weeks_begin_with_the_first_change_ahead() -> None:
    """A change that lies far ahead is told with all that follows within a fortnight."""
    found = difference([moved(40), moved(53), *(moved(54 + more) for more in range(4))])

    assert shown(found, FIRST) == ["40", "53"]
    assert sooner(found, FIRST).blocks_words == "4 more blocks later"


def test_what_is_past_is_told_and_begins_nothing() -> None:
    """A loss that was recorded late does not hide what changes next."""
    found = difference([moved(-20, 30), moved(9), *(moved(30 + more) for more in range(5))])

    assert shown(found, day(5)) == ["-20", "9"]


def test_a_block_that_comes_nearer_counts_by_its_new_date() -> None:
    """What moves from March into next week changes next week."""
    found = difference([moved(0), moved(60, 3), *(moved(70 + more) for more in range(4))])

    assert shown(found, FIRST) == ["0", "60"]


def test_few_later_changes_are_told_in_full() -> None:
    """Three later ones take no more room than a line that counts them."""
    three = difference([moved(0), moved(20), moved(30), moved(40)])

    assert (len(shown(three, FIRST)), sooner(three, FIRST).blocks_words) == (4, "")


@pytest.mark.parametrize(
    ("reviews", "says"),
    [
        (0, "5 more blocks later"),
        (1, "5 more blocks later, 1 of them a review"),
        (4, "5 more blocks later, 4 of them reviews"),
        (5, "5 more blocks later, all of them reviews"),
    ],
)
def test_later_reviews_are_counted(reviews: int, says: str) -> None:
    """Reviews are what a coach can do without soonest."""
    later = [moved(30 + each, review=each < reviews) for each in range(5)]

    assert sooner(difference([moved(0), *later]), FIRST).blocks_words == says


def test_practices_and_blocks_share_the_two_weeks() -> None:
    """Practices that are lost later are counted beside, by the same days."""
    practices = [gone(3), *(gone(17 + each) for each in range(4))]
    found = sooner(difference([moved(16), moved(17)], practices), FIRST)

    assert ([each.was for each in found.practices], found.practices_words) == (
        ["3"],
        "4 more practices later",
    )
    assert (len(found.blocks), found.blocks_words) == (2, "")


def test_all_is_all() -> None:
    """Whoever asks for everything gets it, and nothing is counted."""
    blocks = [moved(each) for each in range(0, 90, 3)]
    found = whole(difference(blocks, [gone(0)]))

    assert (found.blocks, len(found.practices)) == (tuple(blocks), 1)
    assert (found.blocks_words, found.practices_words) == ("", "")
