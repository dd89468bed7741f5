"""A club folder as the server serves it: its teams by their ids, each with a season of its own."""

import datetime as dt
import threading
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

from curriculum.club.reading import (
    CLUB_FILE,
    CURRICULUM_FILE,
    SLOTS_FILE,
    ClubFiles,
    read_club,
)
from curriculum.files.season import SEASON_FILE
from curriculum.fleet.clubspace import ClubSpace
from curriculum.problems import FaultyInputError, Problem
from curriculum.risk import Outlook
from curriculum.server.site import Clock, Place, Site, Stamp, stamp_of
from curriculum.server.state import State
from curriculum.workspace import Workspace

CLUB_FILES = (CLUB_FILE, CURRICULUM_FILE, SLOTS_FILE)


class ClubSite(Place):
    """A club folder; one coach's key opens it with all its seasons.

    Raises FaultyInputError when the club's files are faulty at the start.
    """

    def __init__(self, folder: Path, clock: Clock, public: str | None = None) -> None:
        super().__init__(folder, clock, public, State(folder))
        self._lock = threading.RLock()
        self._gathering = threading.Lock()
        self._sites: dict[str, Site] = {}
        self._stamp = self._now()
        self._files = read_club(folder)
        self._looking = threading.Lock()
        self._outlooks: tuple[ClubSpace, dt.date, Mapping[str, Outlook]] | None = None
        self._space: tuple[dict[str, Stamp], ClubSpace] | None = None

    def files(self) -> ClubFiles:
        """Return the club's files as they are; raises FaultyInputError when they are faulty."""
        with self._lock:
            stamp = self._now()
            if stamp != self._stamp:
                self._files = read_club(self.folder)
                self._stamp = stamp
            return self._files

    def has(self, team: str) -> bool:
        """Whether a season of this team is there, by the last club file without fault."""
        with suppress(FaultyInputError):
            self.files()
        known = any(each.id == team for each in self._files.club.team)
        return known and (self._files.season_folder(team) / SEASON_FILE).is_file()

    def site(self, team: str) -> Site:
        """Return the season of a team, the same one every time; KeyError for a team without one."""
        with self._lock:
            if not self.has(team):
                raise KeyError(team)
            if team not in self._sites:
                folder = self._files.season_folder(team)
                self._sites[team] = Site(folder, self.clock, self.public, self.keys)
            return self._sites[team]

    def space(self) -> ClubSpace:
        """Return the club with all seasons that can be opened, read anew when a file changed.

        Raises FaultyInputError when the club's own files are faulty.
        """
        with self._gathering:
            files = self.files()
            sites = {team.id: self.site(team.id) for team in files.club.team if self.has(team.id)}
            stamps = {team: site.stamp() for team, site in sites.items()}
            if self._space is None or self._space[0] != stamps:
                spaces: dict[str, Workspace] = {}
                problems: list[Problem] = [*files.problems]
                for team, site in sites.items():
                    opening = site.opening()
                    problems += opening.problems
                    if opening.workspace is not None:
                        spaces[team] = opening.workspace
                self._space = stamps, ClubSpace(files, spaces, tuple(dict.fromkeys(problems)))
            return self._space[1]

    def outlooks(self, today: dt.date) -> Mapping[str, Outlook]:
        """Return what is at risk in every season with a plan; looked into again after a change."""
        space = self.space()
        with self._looking:
            if (
                self._outlooks is None
                or self._outlooks[0] is not space
                or self._outlooks[1] != today
            ):
                self._outlooks = space, today, space.outlooks(today)
            return self._outlooks[2]

    def _now(self) -> Stamp:
        return stamp_of(self.folder / name for name in CLUB_FILES)
