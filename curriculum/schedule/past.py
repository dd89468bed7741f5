"""What is past, in numbers: blocks and reviews held, and how long they keep a skill away."""

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from curriculum.graph import Node

Blocks = tuple[tuple[int, int, int], ...]
"""Past blocks as (job, number, practice)."""
Reviews = tuple[tuple[int, int], ...]
"""Past reviews as (skill, practice)."""


def blocks_held(
    blocks: Iterable[tuple[Node, int, str]],
    asked: Sequence[int],
    number: Mapping[Node, int],
    place: Mapping[str, int],
) -> Blocks:
    """Return the past blocks; when one was lost between them, those held count from 1 again.

    asked: the blocks of each job; what was held beyond them is left out. number: the job of each
    stage; place: the practice of each id.
    """
    stood: dict[int, set[int]] = {}
    for node, _, practice in blocks:
        if node in number and practice in place:
            stood.setdefault(number[node], set()).add(place[practice])
    return tuple(
        (job, block, practice)
        for job, practices in sorted(stood.items())
        for block, practice in enumerate(sorted(practices), start=1)
        if block <= asked[job]
    )


def reviews_held(
    reviews: Iterable[tuple[str, str]], skills: Mapping[str, int], place: Mapping[str, int]
) -> Reviews:
    """Return the past reviews of skills that are still asked for, in practices still held."""
    return tuple(
        sorted(
            (skills[skill], place[practice])
            for skill, practice in reviews
            if skill in skills and practice in place
        )
    )


def after_the_last(
    reviews: Reviews, past: Blocks, chains: Sequence[Sequence[int]], asked: Sequence[int]
) -> Reviews:
    """Return the reviews of skills that were finished by then; the others were none, after all."""
    ends = {job: practice for job, number, practice in past if number == asked[job]}
    return tuple(
        (skill, practice)
        for skill, practice in reviews
        if ends.get(chains[skill][-1], practice) < practice
    )


def needs_left(
    needs: Sequence[Sequence[int]],
    past: Blocks,
    chains: Sequence[Sequence[int]],
    asked: Sequence[int],
) -> tuple[tuple[int, ...], ...]:
    """Return the jobs that each job waits for, in order.

    A stage waits for the one below it, and for one further below that was passed over, so that the
    ladder goes on from what is missing.
    """
    held = Counter(job for job, _, _ in past)
    found = [set(row) for row in needs]
    for chain in chains:
        for place, job in enumerate(chain[1:], start=1):
            missing = [lower for lower in chain[:place] if held[lower] < asked[lower]]
            found[job] |= set(missing[-1:])
    return tuple(tuple(sorted(row)) for row in found)


def clear_of(
    past: Blocks,
    reviews: Reviews,
    chains: Sequence[Sequence[int]],
    days: Sequence[dt.date],
    gap: int,
    first_open: int,
) -> tuple[int, ...]:
    """Return for each skill the practices far enough from what is past, as one bit a practice.

    Along a ladder the order of blocks keeps the gap; it does not where a block is held late.
    """
    skill_of = {job: skill for skill, chain in enumerate(chains) for job in chain}
    touched = [(skill_of[job], practice) for job, _, practice in past] + list(reviews)
    clear = [(1 << len(days)) - 1 for _ in chains]
    for skill, held in touched:
        for index in range(first_open, len(days)):
            if (days[index] - days[held]).days < gap:
                clear[skill] &= ~(1 << index)
    return tuple(clear)


def passed_over(
    past: Blocks, chains: Sequence[Sequence[int]], asked: Sequence[int]
) -> tuple[int, ...]:
    """Return the last jobs that were held in full while a stage below them still misses blocks.

    Their skills are not reviewed before that is made good.
    """
    held = Counter(job for job, _, _ in past)
    return tuple(
        chain[-1]
        for chain in chains
        if held[chain[-1]] == asked[chain[-1]] and any(held[job] < asked[job] for job in chain)
    )
