"""The club's page for one week: who teaches what, goals missed and at risk, gyms, load."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from curriculum.club.allocate.asks import hours_of
from curriculum.club.uses import Use
from curriculum.gym.practices import Gym
from curriculum.models.club import Club
from curriculum.models.plan import GoalResult, Plan, PlannedPractice
from curriculum.models.season import Importance, Season
from curriculum.models.skills import Library, Stage
from curriculum.referee.cautions import ADULT, CAPS
from curriculum.risk import Depth, Outlook
from curriculum.spans import DAY, monday_of

SOURCE = "NBA and USA Basketball; DiFiori et al. (2018), Sports Medicine 48:2053-2065, Table 4"
"""Where the caps on weekly hours come from."""
DEFERS = "local rules and medical professionals come first"

MOST_LOSSES, MOST_PLANS = 360, 24
"""Losses of a practice looked into over all teams of a club, and of these planned in earnest: some
seconds for a dozen teams, whatever their seasons."""


@dataclass(frozen=True)
class TeamState:
    """What a page needs of one team. plan: None when none was made yet."""

    season: Season
    gym: Gym
    library: Library
    plan: Plan | None


@dataclass(frozen=True)
class Lesson:
    """One practice of the week. number: its court, None when nobody said. what: blocks in words."""

    date: dt.date
    hours: str
    gym: str
    number: int | None
    team: str
    coaches: tuple[str, ...]
    what: tuple[str, ...]


@dataclass(frozen=True)
class TightGoal:
    """A goal that is missed, or taught in the last practice before it is due.

    days: from being taught to its date, negative when late, None when it never is.
    """

    team: str
    skill: str
    stage: Stage
    need: Importance
    by: dt.date
    days: int | None


@dataclass(frozen=True)
class TeamRisk:
    """A goal that losing some single practice would miss, in one sentence."""

    team: str
    by: dt.date
    says: str


@dataclass(frozen=True)
class GymUse:
    """Minutes of whole courts in a week: used, and there to be used."""

    gym: str
    used: int
    there: int

    @property
    def share(self) -> int:
        """Percent used, rounded down."""
        return 100 * self.used // max(1, self.there)


@dataclass(frozen=True)
class ClubPage:
    """One week of a club.

    risks: team by team, in order of date. tried: of how many remaining practices the loss was
    looked into, and how many remain over all teams; None when nobody looked. load: warnings in
    words, with their source.
    """

    club: str
    monday: dt.date
    lessons: tuple[Lesson, ...]
    tight: tuple[TightGoal, ...]
    gyms: tuple[GymUse, ...]
    load: tuple[str, ...]
    without_plan: tuple[str, ...]
    risks: tuple[TeamRisk, ...] = ()
    tried: tuple[int, int] | None = None


def depth_of(teams: int) -> Depth:
    """Return how deeply each of so many teams is looked into for what is at risk."""
    each = max(1, teams)
    return Depth(losses=max(1, MOST_LOSSES // each), plans=max(1, MOST_PLANS // each))


def club_page(
    club: Club,
    states: Mapping[str, TeamState],
    uses: Sequence[Use],
    day: dt.date,
    outlooks: Mapping[str, Outlook],
) -> ClubPage:
    """Return the page of the week that holds a date; `outlooks` are empty when nobody looked."""
    monday = monday_of(day)
    here = [use for use in uses if monday <= use.date < monday + 7 * DAY]
    teams = [team for team in club.team if team.id in states]
    return ClubPage(
        club=club.club.name,
        monday=monday,
        lessons=tuple(_lesson(club, states, use) for use in here),
        tight=tuple(goal for team in teams for goal in _tight(team.name, states[team.id], monday)),
        gyms=tuple(_gym_uses(club, here)),
        load=tuple(words for team in teams for words in _load(team.name, states[team.id], monday)),
        without_plan=tuple(team.name for team in teams if states[team.id].plan is None),
        risks=tuple(
            TeamRisk(team.name, risk.by, risk.says)
            for team in teams
            if team.id in outlooks
            for risk in outlooks[team.id].risks
        ),
        tried=_tried(outlooks),
    )


def _tried(outlooks: Mapping[str, Outlook]) -> tuple[int, int] | None:
    if not outlooks:
        return None
    found = outlooks.values()
    return sum(each.checked for each in found), sum(each.remaining for each in found)


def _lesson(club: Club, states: Mapping[str, TeamState], use: Use) -> Lesson:
    names = {coach.id: coach.name for coach in club.coach}
    gyms = {gym.id: gym for gym in club.gym}
    team = next(team for team in club.team if team.id == use.team)
    several = gyms[use.gym].courts > 1
    return Lesson(
        date=use.date,
        hours=use.hours,
        gym=gyms[use.gym].name,
        number=use.number if several else None,
        team=team.name,
        coaches=tuple(names.get(coach, coach) for coach in use.coaches),
        what=_what(states[use.team], use),
    )


def _what(state: TeamState, use: Use) -> tuple[str, ...]:
    if use.game:
        games = [g for g in state.gym.games if g.date == use.date]
        return tuple(f"game against {game.opponent}" for game in games[:1])
    if state.plan is None:
        return ()
    names = {skill.id: skill.name for skill in state.library.skills}
    signs = {"introduce": "NEW ", "build": "", "review": "review "}
    return tuple(
        f"{signs[block.kind]}{names.get(block.skill, block.skill)}, {block.stage}"
        for practice in state.plan.practices
        if _is(practice, use)
        for block in practice.blocks
    )


def _is(practice: PlannedPractice, use: Use) -> bool:
    begin = (use.date, use.span.start.time(), use.gym)
    return (practice.date, practice.start, practice.venue) == begin


def _tight(team: str, state: TeamState, monday: dt.date) -> list[TightGoal]:
    """Return goals still to come that are missed or have no practice in hand; could-goals aside."""
    if state.plan is None:
        return []
    names = {skill.id: skill.name for skill in state.library.skills}
    return [
        TightGoal(
            team=team,
            skill=names.get(goal.skill, goal.skill),
            stage=goal.stage,
            need=goal.need,
            by=goal.by,
            days=None if goal.reached is None else (goal.by - goal.reached).days,
        )
        for goal in sorted(state.plan.goals, key=lambda each: (each.by, each.skill, each.stage))
        if goal.need != "could" and goal.by >= monday and _no_practice_in_hand(goal, state.plan)
    ]


def _no_practice_in_hand(goal: GoalResult, plan: Plan) -> bool:
    if goal.met and goal.reached is None:
        return False
    if not goal.met or goal.reached is None:
        return True
    return not any(goal.reached < practice.date <= goal.by for practice in plan.practices)


def _gym_uses(club: Club, uses: Sequence[Use]) -> list[GymUse]:
    open_hours = club.model_copy(update={"game_hours": ()})
    there: dict[str, int] = {}
    for (court, _), spans in hours_of(open_hours).items():
        there[court[0]] = there.get(court[0], 0) + sum(end - start for start, end in spans)
    return [
        GymUse(
            gym.name,
            sum(use.minutes * use.units for use in uses if use.gym == gym.id) // 2,
            there.get(gym.id, 0),
        )
        for gym in club.gym
    ]


def _load(team: str, state: TeamState, monday: dt.date) -> list[str]:
    youngest = min(state.season.team.ages)
    if youngest >= ADULT:
        return []
    _, band, hours = next(cap for cap in CAPS if youngest >= cap[0])
    trained = [p.minutes for p in state.gym.practices if monday_of(p.date) == monday]
    played = [g.minutes for g in state.gym.games if monday_of(g.date) == monday]
    minutes = sum(trained) + sum(played)
    if minutes <= 60 * hours:
        return []
    words = f"{team}: {minutes} minutes of organised basketball, at most {hours} hours"
    return [f"{words} for ages {band} ({SOURCE}); {DEFERS}"]
