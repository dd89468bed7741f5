"""Warnings: what a coach should know of a plan that keeps every rule; none is ever a breach."""

import datetime as dt
from collections.abc import Iterator
from itertools import pairwise

from curriculum.referee.facts import Facts
from curriculum.referee.tiers import gap_days
from curriculum.referee.verdict import LONG_GAPS, USUAL_AGE, WEEKLY_HOURS, Breach
from curriculum.spans import monday_of
from curriculum.wording import counted, dated

CAPS = ((15, "15 and over", 14), (12, "12-14", 10), (9, "9-11", 5), (0, "7-8", 3))
"""Most hours of organised basketball (practices and games) in a week: youngest age, band, hours.

NBA and USA Basketball; DiFiori et al. (2018), Sports Medicine 48:2053-2065, Table 4. Its highest
band is grades 9-12, taken here as 15 to 18 years; under 7 it sets nothing, and its lowest is taken.
"""
ADULT = 19


def usual_age(facts: Facts) -> Iterator[Breach]:
    """Yield the stages still to come that are usually taught only to older players."""
    oldest = max(facts.season.team.ages)
    for job in facts.workload.jobs:
        coming = [s for s in facts.lessons[job.node] if not facts.past(s.practice.date)]
        age = facts.skills[job.skill].work(job.stage).age
        if coming and age is not None and age > oldest:
            first = coming[0].practice
            says = (
                f"{dated(first.date)}: {facts.name(job.node)} is usually taught from age {age} on, "
                f"the oldest player is {oldest}"
            )
            yield Breach(USUAL_AGE, first.id, job.skill, job.stage, says)


def long_gaps(facts: Facts) -> Iterator[Breach]:
    """Yield gaps of more than `stretch_days` between introduce and build blocks of a skill."""
    most = facts.season.teaching.stretch_days
    for skill_id in facts.ladders:
        for before, standing in pairwise(facts.ladder_lessons(skill_id)):
            gap = gap_days(before, standing)
            if gap > most and not facts.past(standing.practice.date):
                says = (
                    f"{dated(standing.practice.date)}: {facts.title(standing)} comes "
                    f"{counted(gap, 'day')} after {facts.title(before)}, "
                    f"preferably it is at most {counted(most, 'day')}"
                )
                yield Breach(LONG_GAPS, standing.practice.id, *standing.node, says)


def weekly_hours(facts: Facts) -> Iterator[Breach]:
    """Yield weeks from Monday to Sunday with more organised basketball than the published cap.

    The cap is that of the youngest player's age; practices and games of the calendar count with
    all their minutes. Weeks that are wholly past are left out.
    """
    youngest = min(facts.season.team.ages)
    if youngest >= ADULT:
        return
    _, band, hours = next(cap for cap in CAPS if youngest >= cap[0])
    weeks: dict[dt.date, list[int]] = {}
    for practice in facts.gym.practices:
        weeks.setdefault(monday_of(practice.date), []).append(practice.minutes)
    games = {monday_of(game.date) for game in facts.gym.games}
    for monday in sorted(weeks.keys() | games):
        played = [game.minutes for game in facts.gym.games if monday_of(game.date) == monday]
        trained = weeks.get(monday, [])
        minutes = sum(trained) + sum(played)
        if minutes > hours * 60 and not facts.past(monday + dt.timedelta(days=6)):
            says = (
                f"week of {dated(monday)}: {minutes} minutes of organised basketball "
                f"({counted(len(trained), 'practice')}, {counted(len(played), 'game')}); the NBA "
                f"and USA Basketball guidelines (DiFiori et al. 2018, Table 4) set at most {hours} "
                f"hours for ages {band}; local rules and medical professionals come first"
            )
            yield Breach(WEEKLY_HOURS, None, None, None, says)
