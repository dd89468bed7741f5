"""Progress and load: how far the skills are, who missed what, and the hours of the children."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from starlette.responses import Response

from curriculum.happened import open_from
from curriculum.insight.absences import missed_introductions
from curriculum.insight.load import load
from curriculum.insight.progress import StageProgress, State, progress
from curriculum.models.skills import Stage
from curriculum.practice.words import skill_name
from curriculum.server.visits import Visit
from curriculum.wording import counted, listed, short_date

STATES: tuple[State, ...] = ("learnt", "taught", "begun", "to come")


@dataclass(frozen=True)
class Rung:
    """One stage of a skill. says: its blocks, and its date as promised and as it is now."""

    stage: Stage
    state: State
    held: int
    asked: int
    says: str
    late: bool


@dataclass(frozen=True)
class Climb:
    """A skill with the stages that the season asks for, from the lowest."""

    id: str
    name: str
    rungs: tuple[Rung, ...]


def progressing(visit: Visit) -> Response:
    """Show the skills through their stages, planned against real; to coaches who missed what."""
    space, plan = visit.planned()
    today = visit.site.today(space)
    before = open_from(space.record, today) or today
    found = progress(space.record, plan, space.library, space.gym, space.workload, before)
    under_way = [each for each in found.stages if each.planned or each.held]
    ahead = [each for each in found.stages if not (each.planned or each.held)]
    missed = missed_introductions(space.record, before)
    return visit.page(
        "progress.html",
        space=space,
        found=found,
        summary=_summary(found.stages),
        under_way=_strands(under_way),
        ahead=_strands(ahead),
        waiting=len(ahead),
        missed=[(each, skill_name(space.library, each.skill)) for each in missed],
    )


def loading(visit: Visit) -> Response:
    """Show every week's hours and free days beside what published guidance asks for."""
    space = visit.space()
    found = load(space.season, space.gym, space.record, visit.site.today(space))
    limit = found.asks.hours * 60 if found.asks and found.asks.hours else 0
    return visit.page(
        "load.html",
        space=space,
        found=found,
        limit=limit,
        most=max([limit, *(week.minutes for week in found.weeks)], default=0) or 1,
        over=sum(bool(week.faults) for week in found.weeks),
    )


def _summary(stages: tuple[StageProgress, ...]) -> str:
    numbers = {state: sum(each.state == state for each in stages) for state in STATES}
    words = [f"{number} {state}" for state, number in numbers.items() if number]
    return f"{counted(len(stages), 'stage')} asked for: {listed(words)}." if words else ""


def _strands(stages: list[StageProgress]) -> dict[str, list[Climb]]:
    """Return the stages by strand and skill, in their order."""
    found: dict[str, list[Climb]] = {}
    for (strand, skill, name), each in groupby(
        stages, lambda stage: (stage.strand, stage.skill, stage.name)
    ):
        found.setdefault(strand, []).append(Climb(skill, name, tuple(map(_rung, each))))
    return found


def _rung(stage: StageProgress) -> Rung:
    says = "; ".join([_blocks(stage), *_dates(stage)])
    late = stage.late is not None and stage.late > 0
    return Rung(stage.stage, stage.state, stage.held, stage.asked, says, late)


def _blocks(stage: StageProgress) -> str:
    words = f"{stage.held} of {counted(stage.asked, 'block')} held"
    if stage.planned != stage.held:
        words += f", {stage.planned} planned by now"
    if stage.more:
        words += f", {stage.more} added because one was shaky"
    return words + (f"; the last one {stage.went}" if stage.went else "")


def _dates(stage: StageProgress) -> Iterator[str]:
    done = stage.state in ("learnt", "taught")
    now = f"{'taught' if done else 'now planned for'} {short_date(stage.now)}" if stage.now else ""
    if stage.now and stage.late == 0:
        yield f"{now}, as first planned" if done else f"planned for {short_date(stage.now)}"
        return
    if stage.promised is not None:
        yield f"first planned for {short_date(stage.promised)}"
    days = stage.late or 0
    shift = f", {counted(abs(days), 'day')} {'later' if days > 0 else 'earlier'}" if days else ""
    yield f"{now}{shift}" if now else "no date in the plan"
