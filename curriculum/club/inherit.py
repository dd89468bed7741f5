"""What a team's season takes from its club: gyms, weekly times, closures, goals, what is known."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from curriculum.club.reading import (
    CLUB_FILE,
    CURRICULUM_FILE,
    SLOTS_FILE,
    ClubFiles,
    club_folder_of,
    read_club,
    slots_of,
)
from curriculum.files.sources import key_path
from curriculum.models.club import AgeGroup, Club, ClubCurriculum, ClubTeam, TeamSlot
from curriculum.models.gymtimes import Closure, Slot, Venue
from curriculum.models.season import Goal, Importance, Known, Season
from curriculum.models.skills import STAGES, Stage
from curriculum.problems import Problem

Place = tuple[str, int]
"""A file as the reader knows it, and a line in it, 0 for the whole file."""


@dataclass(frozen=True)
class Inherited:
    """A season with what it takes from its club.

    places: where the entries that it took are written, by table and place in the table.
    """

    season: Season
    places: Mapping[tuple[str, int], Place]


class Heir:
    """A team whose season takes from its club; remembers where what it took is written."""

    def __init__(self, team: ClubTeam, files: ClubFiles) -> None:
        self.team = team
        self.files = files
        self.places: Mapping[tuple[str, int], Place] = {}

    def complete(self, season: Season) -> Season:
        """Return the team's season completed by its club."""
        inherited = inherit(season, self.team, self.files)
        self.places = inherited.places
        return inherited.season

    def placed(self, problems: Iterable[Problem], season_file: str) -> tuple[Problem, ...]:
        """Return problems, those of what the season took with the file of the club."""
        return tuple(sorted(place_inherited(problems, season_file, self.places)))


def heir_of(season_folder: Path) -> Heir | None:
    """Return the team whose season stands in a folder, None when it belongs to no club.

    Raises:
        FaultyInputError: The club's own files are wrong.

    """
    folder = club_folder_of(season_folder)
    if folder is None:
        return None
    files = read_club(folder, with_library=False)
    name = season_folder.resolve().name
    return next((Heir(team, files) for team in files.club.team if team.id == name), None)


def inherit(season: Season, team: ClubTeam, files: ClubFiles) -> Inherited:
    """Return a team's season completed by its club.

    Its own file goes first: its weekly times, goals and known stages each stand in for all of the
    club's of that kind; gyms and closures are added to its own.
    """
    club, group = files.club, files.club.group_of(team)
    places: dict[tuple[str, int], Place] = {}
    club_place = (str(files.folder / CLUB_FILE), 0)
    own = {venue.id for venue in season.venue}
    venues = [venue_of(club, gym.id) for gym in club.gym if gym.id not in own]
    _note(places, "venue", len(season.venue), len(venues), club_place)
    closures = [each for each in club.closure if _touches(each, season)]
    _note(places, "closure", len(season.closure), len(closures), club_place)
    taken: dict[str, object] = {
        "venue": (*season.venue, *venues),
        "closure": (*season.closure, *closures),
        "holidays": season.holidays or club.holidays,
    }
    if not season.slot and not season.practice_on:
        slots = slots_of(files, team.id)
        _note(places, "slot", 0, len(slots), (str(files.folder / SLOTS_FILE), 0))
        taken["slot"] = tuple(slot_of(club, slot) for slot in slots)
    curriculum_place = (str(files.folder / CURRICULUM_FILE), 0)
    if not season.known:
        known = known_of(club, files.curriculum, group)
        _note(places, "known", 0, len(known), curriculum_place)
        taken["known"] = known
    if not season.goal:
        goals = goals_of_group(club, files.curriculum, group)
        _note(places, "goal", 0, len(goals), curriculum_place)
        taken["goal"] = goals
    return Inherited(season.model_copy(update=taken), places)


def venue_of(club: Club, gym_id: str) -> Venue:
    """Return one of the club's gyms as a season names it."""
    gym = next(gym for gym in club.gym if gym.id == gym_id)
    baskets = min(20, gym.baskets * gym.courts)
    return Venue(id=gym.id, name=gym.name, baskets=baskets, address=gym.address)


def slot_of(club: Club, slot: TeamSlot) -> Slot:
    """Return a weekly gym time as a season writes it: on one court, with that court's baskets."""
    gym = next(gym for gym in club.gym if gym.id == slot.gym)
    return Slot(
        weekday=slot.weekday,
        start=slot.start,
        minutes=slot.minutes,
        venue=slot.gym,
        court=slot.court,
        baskets=gym.baskets,
    )


def younger(club: Club, group: AgeGroup) -> tuple[AgeGroup, ...]:
    """Return the age groups that a child passes through before this one, youngest first."""
    return tuple(each for each in club.ladder if each.ages[1] < group.ages[1])


def reached_by(curriculum: ClubCurriculum, groups: Iterable[AgeGroup]) -> dict[str, Stage]:
    """Return the highest stage of each skill that these age groups reach, in order of id."""
    names = {group.id for group in groups}
    found: dict[str, Stage] = {}
    for reach in curriculum.reach:
        if reach.age_group in names:
            for skill, stage in reach.cells():
                known = found.get(skill)
                if known is None or STAGES.index(stage) > STAGES.index(known):
                    found[skill] = stage
    return dict(sorted(found.items()))


def known_of(club: Club, curriculum: ClubCurriculum, group: AgeGroup) -> tuple[Known, ...]:
    """Return where a team of an age group stands when its season begins."""
    reached = reached_by(curriculum, younger(club, group))
    return tuple(Known(skill=skill, stage=stage) for skill, stage in reached.items())


def goals_of_group(club: Club, curriculum: ClubCurriculum, group: AgeGroup) -> tuple[Goal, ...]:
    """Return what an age group's season has to reach: its column, less what is known by then."""
    before = reached_by(curriculum, younger(club, group))
    needs = _needs(curriculum, group)
    return tuple(
        Goal(skill=skill, stage=stage, need=needs[skill, stage])
        for skill, stage in reached_by(curriculum, [group]).items()
        if skill not in before or STAGES.index(stage) > STAGES.index(before[skill])
    )


def _needs(curriculum: ClubCurriculum, group: AgeGroup) -> dict[tuple[str, Stage], Importance]:
    return {
        cell: reach.need
        for reach in curriculum.reach
        if reach.age_group == group.id
        for cell in reach.cells()
    }


def place_inherited(
    problems: Iterable[Problem], season_file: str, places: Mapping[tuple[str, int], Place]
) -> tuple[Problem, ...]:
    """Give the file of the club to the problems of what a season takes from it."""
    placed = []
    for problem in problems:
        path = key_path(problem.key)
        number = path[1] if len(path) > 1 and isinstance(path[1], int) else -1
        place = places.get((str(path[0]) if path else "", number))
        if place is not None and problem.file in ("", season_file):
            problem = replace(problem, file=place[0], line=place[1])
        placed.append(problem)
    return tuple(placed)


def _note(
    places: dict[tuple[str, int], Place], table: str, first: int, count: int, place: Place
) -> None:
    places.update({(table, first + number): place for number in range(count)})


def _touches(closure: Closure, season: Season) -> bool:
    return closure.from_ <= season.season.end and closure.until >= season.season.start
