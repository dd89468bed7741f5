"""One season as the server serves it: its folder, read anew only when a file of it has changed."""

import datetime as dt
import threading
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from zoneinfo import ZoneInfo

from curriculum.happened import within
from curriculum.records.database import RECORD_FILE, read_record
from curriculum.server.state import STATE_FILE, State
from curriculum.workspace import Opening, Workspace, open_season

Clock = Callable[[], dt.datetime]
Stamp = Mapping[str, tuple[int, int]]
"""Every file that a season is read from, with its time of change and its size."""

RECORD_FILES = (RECORD_FILE, f"{RECORD_FILE}-wal")
DEEPEST = 3


@dataclass(frozen=True)
class Opened:
    """What opening the folder gave, and the files as they were just before."""

    stamp: Stamp
    opening: Opening


class Place:
    """A folder that is served, with its clock.

    public: the address under which others reach the server, None when it is the one asked for.
    keys: the file that knows whose keys open it.
    """

    def __init__(self, folder: Path, clock: Clock, public: str | None, keys: State) -> None:
        self.folder = folder
        self.clock = clock
        self.public = public.rstrip("/") if public else None
        self.keys = keys

    def now(self) -> dt.datetime:
        """Return the moment, to the second, in UTC."""
        return self.clock().astimezone(dt.UTC).replace(microsecond=0)


class Site(Place):
    """A season folder with the server's own file; without `keys` that file knows them."""

    def __init__(
        self, folder: Path, clock: Clock, public: str | None = None, keys: State | None = None
    ) -> None:
        self.state = State(folder)
        super().__init__(folder, clock, public, keys or self.state)
        self.writing = threading.RLock()
        """Held by whoever compares files with what a page was made from, and then writes."""
        self._reading = threading.Lock()
        self._opened: Opened | None = None

    def today(self, space: Workspace) -> dt.date:
        """Return the date in the season's time zone."""
        return self.now().astimezone(ZoneInfo(space.season.season.timezone)).date()

    def stamp(self) -> Stamp:
        """Return the stamp of the files as they are."""
        return dict(_files(self._folders()))

    def opening(self) -> Opening:
        """Return the folder as it is now, with the problems that stand against it."""
        with self._reading:
            stamp = self.stamp()
            if self._opened is None or self._opened.stamp != stamp:
                self._opened = Opened(stamp, open_season(self.folder, self.now()))
            return self._opened.opening

    def loosely(self) -> Opening:
        """Return the folder for a new entry in the record.

        What follows from the record for dates and workload may be older than the record itself;
        that takes half a second to work out, and two hundred entries may come at once.
        """
        with self._reading:
            known, stamp = self._opened, self.stamp()
            if known and known.opening.workspace and _but(known.stamp) == _but(stamp):
                space = known.opening.workspace
                record, problems = read_record(space.folder / RECORD_FILE)
                if not problems:
                    space = replace(space, record=within(record, space.season))
                    return replace(known.opening, workspace=space)
        return self.opening()

    def adopt(self, space: Workspace, written: str) -> None:
        """Take over a folder in which only the file `written` was changed, by ourselves."""
        with self._reading:
            stamp, known = self.stamp(), self._opened
            if known and _but(known.stamp, written) == _but(stamp, written):
                self._opened = Opened(stamp, replace(known.opening, workspace=space))

    def _folders(self) -> tuple[Path, ...]:
        known = self._opened.opening.workspace if self._opened else None
        library = (known.season.season.library if known else None) or ()
        inside = (self.folder / name for name in library if name != "shipped")
        return (self.folder, *(path for path in inside if path.is_dir()))


def stamp_of(paths: Iterable[Path]) -> Stamp:
    """Return the stamp of some files; those that do not stand there are left out."""
    return dict(each for path in paths for each in _one(path))


def _files(folders: tuple[Path, ...]) -> Iterator[tuple[str, tuple[int, int]]]:
    """Yield the files of a season: its own, its libraries', and those of the club around it."""
    for folder in folders:
        yield from _below(folder, DEEPEST)
    for path in folders[0].resolve().parent.glob("*.toml"):
        yield from _one(path)


def _below(folder: Path, depth: int) -> Iterator[tuple[str, tuple[int, int]]]:
    for path in folder.iterdir():
        if path.name.startswith((".", STATE_FILE)) or path.name.endswith("-shm"):
            continue
        if not path.is_dir():
            yield from _one(path)
        elif depth > 1:
            yield from _below(path, depth - 1)


def _one(path: Path) -> Iterator[tuple[str, tuple[int, int]]]:
    try:
        known = path.stat()
    except FileNotFoundError:
        return
    # An empty log of the database only tells that somebody reads it.
    if known.st_size or not path.name.endswith("-wal"):
        yield str(path), (known.st_mtime_ns, known.st_size)


def _but(stamp: Stamp, *names: str) -> Stamp:
    """Return a stamp without some files; without names, without the record's."""
    left_out = names or RECORD_FILES
    return {path: known for path, known in stamp.items() if Path(path).name not in left_out}
