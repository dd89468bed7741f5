"""A club folder with all its teams' seasons, opened."""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from curriculum.club.clashes import TeamClash, clashes_of_teams
from curriculum.club.joiners import Standing, standing_of
from curriculum.club.page import ClubPage, TeamState, club_page, depth_of
from curriculum.club.reading import ClubFiles, read_club
from curriculum.club.uses import Use, uses_of
from curriculum.files.season import read_season_file
from curriculum.inquiry import outlook_of
from curriculum.models.season import Game
from curriculum.problems import Problem
from curriculum.risk import Outlook
from curriculum.workspace import Workspace, open_season


@dataclass(frozen=True)
class ClubSpace:
    """A club and the seasons of its teams that could be opened.

    faults: of the club's files and of each season by itself, errors of seasons too.
    """

    files: ClubFiles
    spaces: Mapping[str, Workspace]
    faults: tuple[Problem, ...]

    @cached_property
    def problems(self) -> tuple[Problem, ...]:
        """What is wrong in the club's files and its seasons, between these too."""
        return (*self.faults, *_shared_ids(self.spaces))

    @cached_property
    def uses(self) -> tuple[Use, ...]:
        """Who is in which gym when, over all seasons."""
        calendars = {team: space.gym for team, space in self.spaces.items()}
        return uses_of(self.files.club, self.files.slots, calendars)

    @cached_property
    def clashes(self) -> tuple[TeamClash, ...]:
        """What cannot be between the teams."""
        return clashes_of_teams(self.files.club, self.uses)

    def standings(self) -> tuple[tuple[str, Standing], ...]:
        """Return where every team with a plan stands against its age group, by its name."""
        files, found = self.files, []
        for team in files.club.team:
            space = self.spaces.get(team.id)
            if space is not None and space.plan is not None:
                group = files.club.group_of(team)
                known = space.workload.known
                stands = standing_of(
                    team.id, group, space.plan, known, files.club, files.curriculum, space.library
                )
                found.append((team.name, stands))
        return tuple(found)

    def outlooks(self, today: dt.date) -> dict[str, Outlook]:
        """Return what is at risk in every season that has a plan, by its team's id.

        The more teams, the less deeply each is looked into, so that the time stays bounded.
        """
        planned = {team: space for team, space in self.spaces.items() if space.plan is not None}
        depth = depth_of(len(planned))
        return {
            team: outlook_of(space, space.plan, today, depth)
            for team, space in planned.items()
            if space.plan is not None
        }

    def page(self, day: dt.date, outlooks: Mapping[str, Outlook] | None = None) -> ClubPage:
        """Return the club's page of the week that holds a date; without outlooks nothing is said
        of risks.
        """
        states = {
            team: TeamState(space.season, space.gym, space.library, space.plan)
            for team, space in self.spaces.items()
        }
        return club_page(self.files.club, states, self.uses, day, outlooks or {})


def open_club(folder: Path, now: dt.datetime) -> ClubSpace:
    """Open a club with all its teams.

    Raises FaultyInputError when the club's own files are wrong; faults of single seasons are
    among the problems, and those teams are left out.
    """
    files = read_club(folder)
    spaces: dict[str, Workspace] = {}
    problems = [*files.problems]
    for team in files.club.team:
        opening = open_season(files.season_folder(team.id), now)
        problems += opening.problems
        if opening.workspace is not None:
            spaces[team.id] = opening.workspace
    return ClubSpace(files, spaces, tuple(dict.fromkeys(problems)))


def _shared_ids(spaces: Mapping[str, Workspace]) -> Iterator[Problem]:
    """Tell seasons with the id of another team's: their entries would replace each other.

    A season that was copied from team to team has it, and one whose team's name differs from
    another's in punctuation alone.
    """
    first: dict[str, str] = {}
    for team, space in spaces.items():
        other = first.setdefault(space.season.season.id, team)
        if other != team:
            yield read_season_file(space.folder).sources.problem(
                ("season", "id"),
                f"the season of {other} has this id too, so in a phone their practices mix",
                "give one of the two an id of its own before its calendar goes out",
            )


def games_of(files: ClubFiles) -> dict[str, tuple[Game, ...]]:
    """Return the games of every team whose season file can be read, by the team's id."""
    found = {}
    for team in files.club.team:
        season = read_season_file(files.season_folder(team.id)).value
        if season is not None:
            found[team.id] = season.game
    return found
