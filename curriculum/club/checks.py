"""Compare the parts of a club file with each other: names, hours, ages."""

from collections.abc import Iterator

from curriculum.files.nearest import suggest
from curriculum.files.positions import KeyPath
from curriculum.files.sources import SourceMap
from curriculum.models.club import Club
from curriculum.problems import Problem

TABLES = ("gym", "age_group", "coach", "team")


def check_club(club: Club, sources: SourceMap) -> tuple[Problem, ...]:
    """Return what does not fit inside a club file, in file order."""
    problems: list[Problem] = []
    for check in (_ids_are_unique, _names_exist, _hours_run_forward, _numbers_fit, _busy_is_whole):
        problems += check(club, sources)
    return tuple(sorted(problems))


def _ids_are_unique(club: Club, sources: SourceMap) -> Iterator[Problem]:
    for table in TABLES:
        ids = [entry.id for entry in getattr(club, table)]
        for number, name in enumerate(ids):
            first = ids.index(name)
            if first < number:
                says = f"this id is taken by the [[{table}]] in line {sources.line(table, first)}"
                yield sources.problem((table, number, "id"), says, "give each one its own id")


def _names_exist(club: Club, sources: SourceMap) -> Iterator[Problem]:
    gyms, coaches = [gym.id for gym in club.gym], [coach.id for coach in club.coach]
    groups, teams = [group.id for group in club.age_group], [team.id for team in club.team]
    named: list[tuple[KeyPath, str | None, str, list[str]]] = []
    for n, opening in enumerate(club.opening):
        named.append((("opening", n, "gym"), opening.gym, "gym", gyms))
    for n, hours in enumerate(club.game_hours):
        named.append((("game_hours", n, "gym"), hours.gym, "gym", gyms))
    for n, way in enumerate(club.way):
        named += [
            (("way", n, "from"), way.from_, "gym", gyms),
            (("way", n, "to"), way.to, "gym", gyms),
        ]
    for n, closure in enumerate(club.closure):
        named.append((("closure", n, "venue"), closure.venue, "gym", gyms))
    for n, team in enumerate(club.team):
        named.append((("team", n, "age_group"), team.age_group, "age_group", groups))
        named += [(("team", n, "gyms", m), g, "gym", gyms) for m, g in enumerate(team.gyms)]
        named += [
            (("team", n, "coaches", m), c, "coach", coaches) for m, c in enumerate(team.coaches)
        ]
    for n, busy in enumerate(club.busy):
        named.append((("busy", n, "coach"), busy.coach, "coach", coaches))
        named.append((("busy", n, "team"), busy.team, "team", teams))
    for path, name, table, ids in named:
        if name is not None and name not in ids:
            way_out = suggest(name, ids, f'add a [[{table}]] with id = "{name}"')
            yield sources.problem(path, f"no [[{table}]] has this id", way_out)


def _hours_run_forward(club: Club, sources: SourceMap) -> Iterator[Problem]:
    for table in ("opening", "game_hours", "busy"):
        for number, hours in enumerate(getattr(club, table)):
            if hours.end <= hours.start:
                says = f"ends at or before its start, {hours.start:%H:%M}"
                way_out = "correct the two times; hours after midnight stand on the next weekday"
                yield sources.problem((table, number, "end"), says, way_out)
    for number, closure in enumerate(club.closure):
        if closure.until < closure.from_:
            says = f"the last day comes before the first, {closure.from_}"
            yield sources.problem(("closure", number, "until"), says, "swap from and until")


def _numbers_fit(club: Club, sources: SourceMap) -> Iterator[Problem]:
    courts = {gym.id: gym.courts for gym in club.gym}
    for table in ("opening", "game_hours"):
        for number, hours in enumerate(getattr(club, table)):
            if hours.courts is not None and hours.courts > courts.get(hours.gym, hours.courts):
                says = f"the gym's courts go from 1 to {courts[hours.gym]}"
                yield sources.problem((table, number, "courts"), says, "write fewer courts")
    for number, group in enumerate(club.age_group):
        if group.ages[0] > group.ages[1]:
            says = "the youngest player's age comes first"
            way_out = f"write ages = [{group.ages[1]}, {group.ages[0]}]"
            yield sources.problem(("age_group", number, "ages"), says, way_out)
        if group.shortest is not None and group.shortest > group.minutes:
            says = f"is longer than a usual practice, {group.minutes} minutes"
            way_out = f"write {group.minutes} or less"
            yield sources.problem(("age_group", number, "shortest"), says, way_out)
    for number, team in enumerate(club.team):
        if team.shortest and team.minutes and team.shortest > team.minutes:
            says = f"is longer than a usual practice, {team.minutes} minutes"
            yield sources.problem(("team", number, "shortest"), says, "write fewer minutes")


def _busy_is_whole(club: Club, sources: SourceMap) -> Iterator[Problem]:
    for number, busy in enumerate(club.busy):
        if (busy.coach is None) == (busy.team is None):
            says = "names a coach and a team" if busy.coach else "names neither a coach nor a team"
            yield sources.problem(("busy", number), says, "write one of coach = and team =")
