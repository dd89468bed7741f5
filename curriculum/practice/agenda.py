"""A season in date order: weeks, and in each what is held, played, closed or lost."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from curriculum.gym.practices import Gym
from curriculum.models.plan import Plan, PlannedPractice, TierProof
from curriculum.models.season import Season
from curriculum.models.skills import Library, Stage
from curriculum.practice.goals import GoalLine, against, goal_lines
from curriculum.practice.progress import in_order
from curriculum.practice.thin import thin_practices
from curriculum.practice.words import KIND_WORD, KindWord, skill_name
from curriculum.spans import monday_of, week_of
from curriculum.wording import clock, date_range, short_date

EntryKind = Literal["practice", "game", "closed", "not held"]

STATUS_WORDS = {
    "optimal": "optimal: proved that no plan is better",
    "feasible": "good: every must-goal is met, but it is not proved that no plan is better",
    "partial": "partial: not every must-goal or pin can be honoured",
}


@dataclass(frozen=True)
class BlockLine:
    """One block as lists show it; count is `1/2`."""

    kind: KindWord
    skill: str
    stage: Stage
    count: str
    minutes: int
    pinned: bool


@dataclass(frozen=True)
class Entry:
    """What stands on a date.

    text: the venue of a practice, the opponent of a game, the reason of a closure, or why a date is
    not held ("" where the closure over it has told that).
    practice, game: the id of what stands there, "" where it is something else.
    used, usable: minutes of its blocks with their changeovers, and those that may be used.
    note: why much of them is unused, else "".
    """

    kind: EntryKind
    date: dt.date
    when: str
    text: str
    practice: str = ""
    game: str = ""
    used: int = 0
    usable: int = 0
    blocks: tuple[BlockLine, ...] = ()
    note: str = ""


@dataclass(frozen=True)
class Week:
    """One week of the season, Monday to Sunday; dates is `Mon 11 Jan to Sun 17 Jan`."""

    number: int
    monday: dt.date
    dates: str
    entries: tuple[Entry, ...]


@dataclass(frozen=True)
class MissLine:
    """What the plan does not honour, why, and what would help."""

    skill: str
    stage: Stage
    why: str
    remedies: tuple[str, ...]


@dataclass(frozen=True)
class Tier:
    """What is known of one tier: its value, a bound that no plan beats, and whether they meet."""

    name: str
    value: int
    bound: int
    proved: bool


@dataclass(frozen=True)
class Agenda:
    """A whole season as it is shown."""

    team: str
    season: str
    dates: str
    practices: int
    games: int
    revision: int
    status: str
    status_words: str
    weeks: tuple[Week, ...]
    goals: tuple[GoalLine, ...]
    misses: tuple[MissLine, ...]
    tiers: tuple[Tier, ...]
    practices_needed_at_least: int
    critical_path_practices: int


def agenda(plan: Plan, season: Season, library: Library, gym: Gym) -> Agenda:
    """Return the season of a plan, in weeks and in words."""
    frame = season.season
    return Agenda(
        team=season.team.name,
        season=frame.name,
        dates=_dates(frame.start, frame.end),
        practices=len(plan.practices),
        games=len(plan.games),
        revision=plan.revision,
        status=plan.status,
        status_words=STATUS_WORDS[plan.status],
        weeks=weeks(plan, season, library, gym),
        goals=goal_lines(plan, season, library),
        misses=tuple(
            MissLine(skill_name(library, miss.skill), miss.stage, miss.why, miss.remedies)
            for miss in plan.misses
        ),
        tiers=tuple(_tier(tier) for tier in plan.proof.tiers),
        practices_needed_at_least=plan.proof.practices_needed_at_least,
        critical_path_practices=plan.proof.critical_path_practices,
    )


def _dates(first: dt.date, last: dt.date) -> str:
    year = "" if first.year == last.year else f" {first.year}"
    return f"{short_date(first)}{year} to {short_date(last)} {last.year}"


def weeks(plan: Plan, season: Season, library: Library, gym: Gym) -> tuple[Week, ...]:
    """Return the weeks of a season that hold anything, each with its entries in date order."""
    start = season.season.start
    found: dict[int, list[tuple[dt.date, int, str, Entry]]] = {}
    ranks: dict[EntryKind, int] = {"closed": 0, "not held": 1, "practice": 2, "game": 3}
    for entry in _entries(plan, season, library, gym):
        key = (entry.date, ranks[entry.kind], entry.when, entry)
        found.setdefault(week_of(start, entry.date), []).append(key)
    listed = []
    for number in sorted(found):
        monday = monday_of(start) + dt.timedelta(weeks=number - 1)
        ordered = sorted(found[number], key=lambda key: key[:3])
        listed.append(
            Week(
                number=number,
                monday=monday,
                dates=date_range(monday, monday + dt.timedelta(days=6)),
                entries=tuple(key[3] for key in ordered),
            )
        )
    return tuple(listed)


def _entries(plan: Plan, season: Season, library: Library, gym: Gym) -> Iterator[Entry]:
    venues = {venue.id: venue.name for venue in season.venue}
    calendar = {practice.id: practice for practice in gym.practices}
    thin = thin_practices(plan, season, library, gym)
    for planned in in_order(plan):
        held = calendar.get(planned.id)
        change = held.changeover if held else 0
        yield Entry(
            kind="practice",
            date=planned.date,
            when=f"{short_date(planned.date)} {clock(planned.start)}",
            text=venues.get(planned.venue, planned.venue),
            practice=planned.id,
            used=sum(block.minutes + change for block in planned.blocks),
            usable=held.usable_minutes if held else planned.teaching_minutes,
            blocks=block_lines(planned, library),
            note=thin.get(planned.id, ""),
        )
    for absent in plan.not_held:
        told = any(
            closed.from_ <= absent.date <= closed.until and closed.reason in absent.why
            for closed in plan.closures
            if closed.from_ < closed.until
        )
        why = "" if told else absent.why
        yield Entry("not held", absent.date, short_date(absent.date), why)
    for game in plan.games:
        when = f"{short_date(game.date)} {clock(game.start)}"
        yield Entry("game", game.date, when, against(game), game=game.id)
    for closed in plan.closures:
        if closed.from_ == closed.until and any(
            absent.date == closed.from_ and closed.reason in absent.why for absent in plan.not_held
        ):
            continue
        where = f" ({venues.get(closed.venue, closed.venue)})" if closed.venue else ""
        when = date_range(closed.from_, closed.until)
        yield Entry("closed", closed.from_, when, closed.reason + where)


def block_lines(planned: PlannedPractice, library: Library) -> tuple[BlockLine, ...]:
    """Return the blocks of a practice in the order in which they are held."""
    return tuple(
        BlockLine(
            kind=KIND_WORD[block.kind],
            skill=skill_name(library, block.skill),
            stage=block.stage,
            count=f"{block.number}/{block.of}",
            minutes=block.minutes,
            pinned=block.pinned,
        )
        for block in planned.blocks
    )


def _tier(tier: TierProof) -> Tier:
    return Tier(tier.name, tier.value, tier.bound, proved=tier.value == tier.bound)
