"""Builders of small skills, seasons, gym calendars and plans, every field defaulted.

The dates of 2027 are written without their year: `day("01-12")` is Tuesday 12 January 2027. A
season starts on Monday 11 January and has practices of 75 minutes, 37 of them usable, on Tuesdays
and Fridays at 17:30: 12, 15, 19, 22, 26, 29 January, and so on.
"""

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from curriculum.gym.practices import Gym, Practice
from curriculum.models.gymtimes import WEEKDAYS, Slot, Venue, Weekday
from curriculum.models.plan import (
    Block,
    GoalResult,
    Miss,
    Plan,
    PlannedClosure,
    PlannedGame,
    PlannedPractice,
    Proof,
    TierProof,
)
from curriculum.models.season import Frame, Game, Goal, Pin, Season, Teaching, Team
from curriculum.models.skills import STAGES, Library, Skill, Stage, StageWork
from curriculum.referee.tiers import TIERS, tiers
from curriculum.spans import days_between, week_of
from curriculum.workload import Target, Workload, workload_of

Work = StageWork | tuple[int, int] | None
"""What a stage takes: everything, or just (blocks, minutes)."""

START = dt.date(2027, 1, 11)


def day(text: str) -> dt.date:
    """Return a date of 2027, written `01-12`."""
    return dt.date.fromisoformat(f"2027-{text}")


def skill(
    skill_id: str,
    *,
    needs: tuple[str, ...] = (),
    strand: str = "Passing",
    unopposed: Work = None,
    guided: Work = None,
    live: Work = None,
) -> Skill:
    """Return a skill; without any stage it has one `unopposed` block of 8 minutes."""
    if unopposed is None and guided is None and live is None:
        unopposed = (1, 8)
    return Skill(
        id=skill_id,
        name=skill_id.capitalize(),
        strand=strand,
        needs=needs,
        unopposed=_work(unopposed),
        guided=_work(guided),
        live=_work(live),
    )


def _work(given: Work) -> StageWork | None:
    return StageWork(blocks=given[0], minutes=given[1]) if isinstance(given, tuple) else given


def library(*skills: Skill | str) -> Library:
    """Return a library; a bare id stands for a skill of one `unopposed` block."""
    return Library(skills=tuple(skill(s) if isinstance(s, str) else s for s in skills))


def goal(
    skill_id: str, stage: Stage = "unopposed", *, by: str | dt.date | None = None, **others: Any
) -> Goal:
    """Return a must-goal by the season's end."""
    return Goal(skill=skill_id, stage=stage, by=by, **{"need": "must", **others})


def game(game_id: str = "cup-1", date: dt.date | None = None, **others: Any) -> Game:
    """Return a game of 60 minutes on Saturday 30 January at 10:00."""
    start = {"start": dt.time(10, 0), "opponent": "Harbour Light"}
    return Game(id=game_id, date=date or day("01-30"), **{**start, **others})


def season(
    *,
    weeks: int = 3,
    weekdays: tuple[Weekday, ...] = ("tuesday", "friday"),
    minutes: int = 75,
    ages: tuple[int, int] = (10, 11),
    expected: int | None = None,
    teaching: Mapping[str, Any] | None = None,
    **tables: Any,
) -> Season:
    """Return a season; further tables (`goal`, `pin`, `game`, ...) are tuples of models."""
    tables.setdefault("venue", (Venue(id="north-gym", name="North Gym", baskets=4),))
    return Season(
        season=Frame(
            id="kestrel-quay-test",
            name="Winter term",
            start=START,
            end=START + dt.timedelta(days=7 * weeks - 1),
            timezone="Europe/Dublin",
        ),
        team=Team(name="Kestrel Quay Under-12", ages=ages, players=12, expected=expected),
        teaching=Teaching(**(teaching or {})),
        slot=tuple(
            Slot(weekday=weekday, start=dt.time(17, 30), minutes=minutes, venue="north-gym")
            for weekday in weekdays
        ),
        **tables,
    )


def usual_practice(date: dt.date, **changes: Any) -> Practice:
    """Return a practice in the north gym: 75 minutes from 17:30, 42 to teach in, 37 usable."""
    plain = Practice(
        id=f"{date}-north-gym-1730",
        date=date,
        start=dt.time(17, 30),
        end=dt.time(18, 45),
        minutes=75,
        venue="north-gym",
        court="full",
        baskets=4,
        expected=9,
        week=week_of(START, date),
        warm_up=12,
        scrimmage=12,
        cool_down=5,
        breaks=2,
        break_minutes=2,
        changeover=1,
        teaching_minutes=42,
        usable_minutes=37,
    )
    return replace(plain, **changes)


def practice(date: dt.date, of: Season | None = None, **changes: Any) -> Practice:
    """Return the usual practice at the first weekly time of a season, by its rules."""
    frame = of or season()
    slot = frame.slot[0]
    end = dt.datetime.combine(date, slot.start) + dt.timedelta(minutes=slot.minutes)
    teaching = slot.minutes - 12 - 12 - 5 - 2 * 2
    own = {
        "id": f"{date}-{slot.venue}-{slot.start:%H%M}",
        "start": slot.start,
        "end": end.time(),
        "minutes": slot.minutes,
        "venue": slot.venue,
        "expected": frame.team.usual,
        "week": week_of(frame.season.start, date),
        "teaching_minutes": teaching,
        "usable_minutes": teaching * (100 - frame.teaching.spare) // 100,
    }
    return usual_practice(date, **{**own, **changes})


def gym(
    of: Season | None = None,
    *,
    dates: Iterable[dt.date] | None = None,
    without: Iterable[dt.date] = (),
    changes: Mapping[dt.date, Mapping[str, Any]] | None = None,
    **everywhere: Any,
) -> Gym:
    """Return a calendar: the slots' dates or those given, less some, single practices changed."""
    frame = of or season()
    if dates is None:
        weekdays = {slot.weekday for slot in frame.slot}
        every = days_between(frame.season.start, frame.season.end)
        dates = tuple(date for date in every if WEEKDAYS[date.weekday()] in weekdays)
    held = sorted(set(dates) - set(without))
    own = changes or {}
    return Gym(
        practices=tuple(practice(d, frame, **{**everywhere, **own.get(d, {})}) for d in held),
        games=frame.game,
    )


Entry = Block | str
"""A block as it stands; or `pass`, `pass@live`, `review pass@live`, numbered and timed here."""


def block(skill_id: str, stage: Stage = "unopposed", **others: Any) -> Block:
    """Return a block: number 1 of 1, 8 minutes, introducing its skill."""
    plain = {"number": 1, "of": 1, "kind": "introduce", "minutes": 8}
    return Block(skill=skill_id, stage=stage, **{**plain, **others})


def plan_of(
    of: Season,
    skills: Library,
    held: Gym,
    blocks: Mapping[str, Iterable[Entry]],
    **changes: Any,
) -> Plan:
    """Return the plan with these blocks, honest in all that it says of itself.

    Blocks stand by date, `01-12`; by date and start, `01-12 19:00`, in a date's second practice.
    Goals, misses, status and proof follow from the blocks, so a test breaks one thing at a time:
    by an odd entry, or by `changes`, which replace fields of the finished plan.
    """
    work = workload_of(of, skills)
    practices = _practices(held, _numbered(blocks, work, of))
    goals = tuple(_result(target, practices, work, held) for target in work.targets)
    pins = [pin for pin in of.pin if not _honoured(pin, practices)]
    missed = {(goal.skill, goal.stage) for goal in goals if not goal.met}
    missed |= {(pin.skill, pin.stage) for pin in pins}
    partial = bool(pins) or any(g.need == "must" and not g.met for g in goals)
    plan = Plan(
        revision=1,
        made=dt.datetime(2027, 1, 5, 9, 0, tzinfo=dt.UTC),
        season=of.season.id,
        team=of.team.name,
        timezone=of.season.timezone,
        status="partial" if partial else "feasible",
        proof=Proof(tiers=(), practices_needed_at_least=0, critical_path_practices=0),
        practices=practices,
        not_held=held.not_held,
        games=tuple(PlannedGame(**each.model_dump()) for each in held.games),
        closures=tuple(PlannedClosure(**vars(closed)) for closed in held.closures),
        goals=goals,
        misses=tuple(Miss(skill=s, stage=stage, why="no room") for s, stage in sorted(missed)),
    )
    values = zip(TIERS, tiers(plan, of, skills, held), strict=True)
    proof = tuple(TierProof(name=name, value=value, bound=min(0, value)) for name, value in values)
    return plan.model_copy(
        update={"proof": plan.proof.model_copy(update={"tiers": proof}), **changes}
    )


def _numbered(
    blocks: Mapping[str, Iterable[Entry]], work: Workload, of: Season
) -> dict[str, tuple[Block, ...]]:
    """Turn entries into blocks, in order of date."""
    seen: Counter[str] = Counter()
    reviews = Counter(
        entry.split()[1].partition("@")[0]
        for entries in blocks.values()
        for entry in entries
        if isinstance(entry, str) and entry.startswith("review ")
    )
    jobs = {job.node: job for job in work.jobs}
    numbered = {}
    for date in sorted(blocks):
        made = []
        for entry in blocks[date]:
            if isinstance(entry, Block):
                made.append(entry)
                continue
            skill_id, _, wanted = entry.removeprefix("review ").partition("@")
            stage = next((each for each in STAGES if each == wanted), STAGES[0])
            review = entry.startswith("review ")
            key = f"review {skill_id}" if review else f"{skill_id}@{stage}"
            seen[key] += 1
            job = jobs[skill_id, stage]
            first = job.introduces and seen[key] == 1
            made.append(
                Block(
                    skill=skill_id,
                    stage=stage,
                    number=seen[key],
                    of=reviews[skill_id] if review else job.blocks,
                    kind="review" if review else "introduce" if first else "build",
                    minutes=of.teaching.review_minutes if review else job.minutes,
                )
            )
        numbered[date] = tuple(made)
    return numbered


def _practices(held: Gym, blocks: Mapping[str, tuple[Block, ...]]) -> tuple[PlannedPractice, ...]:
    return tuple(planned(each, blocks.get(_key(each, held), ())) for each in held.practices)


def planned(practice: Practice, blocks: tuple[Block, ...]) -> PlannedPractice:
    """Return a practice of the gym as a plan holds it, with blocks."""
    return PlannedPractice(
        id=practice.id,
        date=practice.date,
        start=practice.start,
        end=practice.end,
        venue=practice.venue,
        week=practice.week,
        teaching_minutes=practice.teaching_minutes,
        blocks=blocks,
    )


def _key(practice: Practice, held: Gym) -> str:
    first = held.on(practice.date)[0]
    return f"{practice.date:%m-%d}" + (f" {practice.start:%H:%M}" if practice != first else "")


def _result(
    target: Target, practices: tuple[PlannedPractice, ...], work: Workload, held: Gym
) -> GoalResult:
    """Say what becomes of a goal, by counting its blocks."""
    stands = [
        practice
        for practice in practices
        for each in practice.blocks
        if (each.skill, each.stage) == target.node and each.kind != "review"
    ]
    needed = sum(job.blocks for job in work.jobs if job.node == target.node)
    last = stands[-1] if len(stands) == needed and stands else None
    met = target.known
    if last is not None:
        games = [each for each in held.games if each.id == target.game]
        on_time = all(last.date < each.date or last.end <= each.start for each in games)
        met = last.date <= target.due and on_time
    return GoalResult(
        skill=target.goal.skill,
        stage=target.goal.stage,
        by=target.due,
        need=target.goal.need,
        reached=last.date if last else None,
        met=met,
    )


def _honoured(pin: Pin, practices: tuple[PlannedPractice, ...]) -> bool:
    return any(
        (each.skill, each.stage) == (pin.skill, pin.stage) and pin.number in (None, each.number)
        for practice in practices
        if practice.date == pin.date
        for each in practice.blocks
    )
