"""The scheduling problem in integers: practices, jobs and goals by index, days from the start.

Ids stay outside; `build` is the only place where they turn into numbers.
"""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from curriculum.graph import Node
from curriculum.gym.practices import Gym, Practice
from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.schedule.past import (
    after_the_last,
    blocks_held,
    clear_of,
    needs_left,
    passed_over,
    reviews_held,
)
from curriculum.workload import Job, Target, Workload

MUST, SHOULD, COULD = 0, 1, 2
IMPORTANCE = {"must": MUST, "should": SHOULD, "could": COULD}


@dataclass(frozen=True)
class GoalLimit:
    """A goal in numbers.

    job: the job to be reached, -1 when it is known already.
    limit: how many of the first practices count as in time.
    due: day of the due date.
    """

    job: int
    limit: int
    due: int
    importance: int
    weight: int


@dataclass(frozen=True)
class Pin:
    """A block of a job (1-based number, 0 for any) that stands in one of these practices."""

    job: int
    number: int
    practices: tuple[int, ...]


@dataclass(frozen=True)
class Instance:
    """One season to schedule. Practices are in order of time; jobs in an order of their needs.

    days: day of each practice, 0 is the season's first day.
    usable: minutes that blocks may take, changeovers included.
    changeover: minutes that each block costs beyond its own.
    quiet: whether nothing may be introduced.
    first_open: practices before this index are past.
    horizon: the day that stands for never (the season's length in days).
    jobs' columns: minutes, blocks, introduces, skill, strand, needs (jobs to be reached before),
    allowed (practices where players, baskets and court suffice and the past is far enough away,
    as one bit a practice; for a job that is held in full: where its skill may be reviewed),
    last (job is the highest asked for of its skill), weight.
    chains: jobs of each skill, easiest first.
    held: blocks that are past, as (job, number, practice), numbers from 1 without a gap. They need
    not be in the order of their needs: a lost block may have been passed over.
    reviews_held: reviews that are past, as (skill, practice), where the skill was finished by then.
    focus: for each practice, the weight of each strand's minutes there.
    target: minutes per practice above which a practice counts as uneven.
    former: where each block of each job stood in the plan that people know, -1 for nowhere; empty
    when no plan has been published yet. former_reviews: the same for each skill's reviews.
    """

    days: tuple[int, ...]
    usable: tuple[int, ...]
    changeover: tuple[int, ...]
    quiet: tuple[bool, ...]
    first_open: int
    horizon: int
    minutes: tuple[int, ...]
    blocks: tuple[int, ...]
    introduces: tuple[bool, ...]
    skill: tuple[int, ...]
    strand: tuple[int, ...]
    needs: tuple[tuple[int, ...], ...]
    allowed: tuple[int, ...]
    last: tuple[bool, ...]
    weight: tuple[int, ...]
    chains: tuple[tuple[int, ...], ...]
    goals: tuple[GoalLimit, ...]
    pins: tuple[Pin, ...]
    held: tuple[tuple[int, int, int], ...]
    reviews_held: tuple[tuple[int, int], ...]
    focus: tuple[tuple[int, ...], ...]
    target: int
    gap: int
    stretch: int
    most_blocks: int
    most_new: int
    within: bool
    review_after: tuple[int, ...]
    review_minutes: int
    former: tuple[tuple[int, ...], ...] = ()
    former_reviews: tuple[tuple[int, ...], ...] = ()

    @property
    def noticed(self) -> bool:
        """Whether changes against a former plan count, because people know that plan."""
        return bool(self.former)

    @property
    def practices(self) -> int:
        """How many practices there are."""
        return len(self.days)

    def asks(self, pin: Pin) -> bool:
        """Whether a pin still asks for something; one on a past practice does not."""
        return pin.practices[-1] >= self.first_open


@dataclass(frozen=True)
class Held:
    """Blocks (stage, number, practice id) and reviews (skill, practice id) of a former plan."""

    blocks: tuple[tuple[Node, int, str], ...] = ()
    reviews: tuple[tuple[str, str], ...] = ()


def held_of(plan: Plan, before: dt.date | None = None) -> Held:
    """Return what a plan holds in the practices before a date, in all of them without one."""
    practices = [each for each in plan.practices if before is None or each.date < before]
    return Held(
        blocks=tuple(
            ((block.skill, block.stage), block.number, practice.id)
            for practice in practices
            for block in practice.blocks
            if block.kind != "review"
        ),
        reviews=tuple(
            (block.skill, practice.id)
            for practice in practices
            for block in practice.blocks
            if block.kind == "review"
        ),
    )


def build(
    season: Season,
    gym: Gym,
    workload: Workload,
    today: dt.date | None = None,
    held: Held | None = None,
    former: Held | None = None,
) -> Instance:
    """Turn a season into integers.

    Practices before `today` are past: they hold what `held` says and nothing new. Without `today`
    every practice is still open. `former` is the plan that people know; with it, changes count.
    """
    held = held or Held()
    start = season.season.start
    teaching = season.teaching
    jobs = workload.jobs
    number = {job.node: index for index, job in enumerate(jobs)}
    skills = {name: index for index, name in enumerate(sorted({job.skill for job in jobs}))}
    strands = {name: index for index, name in enumerate(sorted({job.strand for job in jobs}))}
    place = {practice.id: index for index, practice in enumerate(gym.practices)}
    chains: list[list[int]] = [[] for _ in skills]
    for index, job in enumerate(jobs):
        chains[skills[job.skill]].append(index)
    first_open = sum(today is not None and each.date < today for each in gym.practices)
    past = blocks_held(held.blocks, [job.blocks for job in jobs], number, place)
    reviews = reviews_held(held.reviews, skills, place)
    days = [practice.date for practice in gym.practices]
    unreviewed = passed_over(past, chains, [job.blocks for job in jobs])
    clear = clear_of(past, reviews, chains, days, teaching.gap_days, first_open)
    return Instance(
        days=tuple((practice.date - start).days for practice in gym.practices),
        usable=tuple(practice.usable_minutes for practice in gym.practices),
        changeover=tuple(practice.changeover for practice in gym.practices),
        quiet=tuple(practice.before_game for practice in gym.practices),
        first_open=first_open,
        horizon=(season.season.end - start).days + 1,
        minutes=tuple(job.minutes for job in jobs),
        blocks=tuple(job.blocks for job in jobs),
        introduces=tuple(job.introduces for job in jobs),
        skill=tuple(skills[job.skill] for job in jobs),
        strand=tuple(strands[job.strand] for job in jobs),
        needs=needs_left(
            [[number[node] for node in job.after] for job in jobs],
            past,
            chains,
            [job.blocks for job in jobs],
        ),
        allowed=tuple(
            0 if index in unreviewed else _allowed(job, gym.practices) & clear[skills[job.skill]]
            for index, job in enumerate(jobs)
        ),
        last=tuple(job.last for job in jobs),
        weight=tuple(job.weight for job in jobs),
        chains=tuple(tuple(chain) for chain in chains),
        goals=tuple(_goal(target, season, gym, number) for target in workload.targets),
        pins=tuple(_pins(season, gym, number)),
        held=past,
        reviews_held=after_the_last(reviews, past, chains, [job.blocks for job in jobs]),
        focus=tuple(_focus(practice, season, strands) for practice in gym.practices),
        target=-(-workload.minutes // max(1, len(gym.practices))),
        gap=teaching.gap_days,
        stretch=teaching.stretch_days,
        most_blocks=teaching.blocks,
        most_new=teaching.new_skills,
        within=teaching.build_within_practice,
        review_after=teaching.review_after,
        review_minutes=teaching.review_minutes,
        former=_former(former, jobs, number, place),
        former_reviews=_former_reviews(former, skills, place),
    )


def _former(
    former: Held | None, jobs: Sequence[Job], number: dict[Node, int], place: dict[str, int]
) -> tuple[tuple[int, ...], ...]:
    if former is None:
        return ()
    rows = [[-1] * job.blocks for job in jobs]
    for node, block, practice in former.blocks:
        if node in number and block <= jobs[number[node]].blocks:
            rows[number[node]][block - 1] = place.get(practice, -1)
    return tuple(tuple(row) for row in rows)


def _former_reviews(
    former: Held | None, skills: dict[str, int], place: dict[str, int]
) -> tuple[tuple[int, ...], ...]:
    if former is None:
        return ()
    rows: list[list[int]] = [[] for _ in skills]
    for skill, practice in former.reviews:
        if skill in skills and practice in place:
            rows[skills[skill]].append(place[practice])
    return tuple(tuple(sorted(row)) for row in rows)


def _allowed(job: Job, practices: Sequence[Practice]) -> int:
    bits = 0
    for index, practice in enumerate(practices):
        if (
            practice.expected >= job.players
            and practice.baskets >= job.baskets
            and (practice.court == "full" or not job.full_court)
        ):
            bits |= 1 << index
    return bits


def _goal(target: Target, season: Season, gym: Gym, number: dict[Node, int]) -> GoalLimit:
    return GoalLimit(
        job=-1 if target.known else number[target.node],
        limit=sum(in_time(target, season, practice) for practice in gym.practices),
        due=(target.due - season.season.start).days,
        importance=IMPORTANCE[target.goal.need],
        weight=target.goal.weight,
    )


def in_time(target: Target, season: Season, practice: Practice) -> bool:
    """Whether a practice ends early enough for a goal: on its due date, or before its game."""
    if target.game is None:
        return practice.date <= target.due
    start = next(game.start for game in season.game if game.id == target.game)
    return (practice.date, practice.end) <= (target.due, start)


def _pins(season: Season, gym: Gym, number: dict[Node, int]) -> Iterable[Pin]:
    for pin in season.pin:
        job = number.get((pin.skill, pin.stage))
        on_date = tuple(
            index for index, practice in enumerate(gym.practices) if practice.date == pin.date
        )
        if job is not None and on_date:
            yield Pin(job, pin.number or 0, on_date)


def _focus(practice: Practice, season: Season, strands: dict[str, int]) -> tuple[int, ...]:
    weights = [0] * len(strands)
    for focus in season.focus:
        if focus.strand in strands and focus.from_ <= practice.date <= focus.until:
            weights[strands[focus.strand]] += focus.weight
    return tuple(weights)
