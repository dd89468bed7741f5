"""The text of a new season file, commented so that a coach can go on in an editor."""

import datetime as dt

from curriculum.models.gymtimes import Holidays, Slot
from curriculum.models.season import Goal, Season, Team
from curriculum.models.skills import Library


def quoted(text: str) -> str:
    """Return a TOML basic string."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(each if each.isprintable() else " " for each in escaped) + '"'


def season_text(season: Season, library: Library) -> str:
    """Return the whole file: what was answered, and what may be added, as comments."""
    return "\n".join(
        [
            *_frame(season),
            *_venues(season),
            *_slots(season),
            *_holidays(season.holidays),
            *_games(season),
            *_known(),
            *_goals(season.goal, library),
        ]
    )


def _frame(season: Season) -> list[str]:
    frame, team = season.season, season.team
    return [
        "# The season of one team. Lines that begin with # are remarks.",
        "# After every change:  curriculum check  and then  curriculum plan",
        "",
        "[season]",
        f"id = {quoted(frame.id)}   # never change it: every calendar entry grows from it",
        f"name = {quoted(frame.name)}",
        f"start = {frame.start}",
        f"end = {frame.end}   # the last day, included",
        f"timezone = {quoted(frame.timezone)}",
        "",
        "[team]",
        f"name = {quoted(team.name)}",
        f"ages = [{team.ages[0]}, {team.ages[1]}]",
        f"players = {team.players}",
        f"expected = {team.usual}   # who usually comes",
        f"coaches = {team.coaches}",
        *_balls(team),
        "",
        "[teaching]",
        "new_skills = 2   # introductions per practice, at most",
        "blocks = 5   # teaching blocks per practice, at most",
        "spare = 10   # percent of the teaching minutes kept free",
        "",
    ]


def _balls(team: Team) -> list[str]:
    if team.balls is not None:
        return [f"balls = {team.balls}"]
    return [f"# balls = {team.usual}   # how many there are; else one for each who is expected"]


def _venues(season: Season) -> list[str]:
    lines = []
    for venue in season.venue:
        lines += [
            "[[venue]]",
            f"id = {quoted(venue.id)}",
            f"name = {quoted(venue.name)}",
            f"baskets = {venue.baskets}",
            '# address = "Street, town"',
            "",
        ]
    return lines


def _slots(season: Season) -> list[str]:
    lines = ["# One [[slot]] for each weekly gym time."]
    for slot in season.slot:
        lines += _slot(slot)
    return lines


def _slot(slot: Slot) -> list[str]:
    return [
        "[[slot]]",
        f"weekday = {quoted(slot.weekday)}",
        f"start = {slot.start:%H:%M:%S}",
        f"minutes = {slot.minutes}",
        f"venue = {quoted(slot.venue)}",
        "",
    ]


_REGION = '# subdivision = ""   # by its code, a state or region that has holidays of its own'


def _holidays(holidays: Holidays | None) -> list[str]:
    head = ["# Public holidays close the gym."]
    if holidays is not None:
        country = f"country = {quoted(holidays.country)}"
        return [*head, "[holidays]", country, _REGION, "close_gym = true", ""]
    return [*head, "# [holidays]", '# country = "IE"', "# close_gym = true", ""]


def _games(season: Season) -> list[str]:
    start, end = season.season.start, season.season.end
    middle = start + (end - start) // 2
    saturday = min(middle + dt.timedelta(days=(5 - middle.weekday()) % 7), end)
    return [
        "# School breaks and other days without gym, both ends included.",
        "# [[closure]]",
        f"# from = {middle}",
        f"# until = {min(middle + dt.timedelta(days=6), end)}",
        '# reason = "school break"',
        "",
        "# Games; a goal can be due by one, by its id.",
        "# [[game]]",
        '# id = "cup-1"',
        f"# date = {saturday}",
        "# start = 10:00:00",
        "# minutes = 60",
        '# opponent = "…"',
        "# home = true",
        '# address = "Street, town"   # where it is, when it is not in one of your gyms',
        "# arrive_before = 45   # minutes; calendars say when to be there",
        "",
    ]


def _known() -> list[str]:
    return [
        "# What the team can do already; lower stages, and what these need, count as known too.",
        "# [[known]]",
        '# skill = "partner-pass"',
        '# stage = "guided"',
        "",
    ]


def _goals(goals: tuple[Goal, ...], library: Library) -> list[str]:
    lines = [
        "# What the team should be able to do: must, should or could; by a date or a game's id,",
        "# without `by` by the season's end. `curriculum show --graph` lists all skills, and",
        "# `curriculum show --skill NAME` tells the id of one.",
    ]
    for goal in goals:
        skill = library.skill(goal.skill)
        lines += [
            f"[[goal]]   # {skill.name}",
            f"skill = {quoted(goal.skill)}",
            f"stage = {quoted(goal.stage)}",
            f"need = {quoted(goal.need)}",
            "",
        ]
    return lines
