"""Foreign calendars on their way into a season: looked at first, then taken in."""

from dataclasses import dataclass
from pathlib import Path

import tomlkit
from tomlkit.items import AoT

from curriculum.files.season import season_file
from curriculum.gym.imports.imported import Imported, imported
from curriculum.gym.imports.told import change_lines, report_lines
from curriculum.models.calendars import CalendarIn
from curriculum.models.season import Season
from curriculum.problems import FaultyInputError, Problem, errors
from curriculum.store import write_atomic
from curriculum.workspace import read_files


@dataclass(frozen=True)
class Preview:
    """What calendars would bring: in words, and what stands against it.

    report: every entry with what became of it or why it was skipped.
    changes: what is added, changed or taken away against the season as it stands.
    """

    found: Imported
    report: tuple[str, ...]
    changes: tuple[str, ...]

    @property
    def problems(self) -> tuple[Problem, ...]:
        """Faults and warnings of the calendar files."""
        return self.found.problems


def season_in(folder: Path) -> Season:
    """Return the season of a folder as its file says it; raises FaultyInputError."""
    files = read_files(folder)
    if files.season is None or errors(files.problems):
        raise FaultyInputError(files.problems)
    return files.season


def preview_all(folder: Path) -> Preview:
    """Look at every `[[calendar]]` of a season."""
    season = season_in(folder)
    found = imported(season, season_file(folder).parent)
    return Preview(found, tuple(report_lines(found.report)), ())


def preview_one(folder: Path, source: Path, entry: CalendarIn) -> Preview:
    """Look at a file that is to become one more `[[calendar]]`; nothing is changed.

    A file that is named there already takes the place of the one of its name.
    """
    season = season_in(folder)
    home = season_file(folder).parent
    others = imported(season, home, [one for one in season.calendar if one.file != source.name])
    before = imported(season, home)
    alone = imported(season, source.parent, [entry.model_copy(update={"file": source.name})])
    after = Imported(
        (*others.closures, *alone.closures),
        (*others.games, *alone.games),
        (*others.practices, *alone.practices),
    )
    return Preview(alone, tuple(report_lines(alone.report)), change_lines(before, after))


def take_in(folder: Path, source: Path, entry: CalendarIn) -> Path:
    """Copy a calendar file beside the season file and name it there; comments are kept.

    A file that is named there already is replaced, and its entry is made to say the same.

    Raises FaultyInputError when a file of that name lies there that the season does not name.
    """
    path = season_file(folder)
    target = path.parent / source.name
    data = source.read_bytes()
    document = tomlkit.parse(path.read_text(encoding="utf-8"))
    entries = document.get("calendar")
    wanted = {**entry.model_dump(mode="json", exclude_defaults=True), "file": source.name}
    named = [one for one in entries or () if one.get("file") == source.name]
    if not named and target.exists() and target.read_bytes() != data:
        says = "another file of this name lies beside the season file"
        raise FaultyInputError(
            [Problem(str(target), 0, "", says, "", "rename the one to be taken in")]
        )
    in_braces = entries is not None and not isinstance(entries, AoT)
    table = named[0] if named else tomlkit.inline_table() if in_braces else tomlkit.table()
    table.update(wanted)
    if entries is None:
        entries = tomlkit.aot()
        document.add(tomlkit.nl())
        document.append("calendar", entries)
    if not named:
        entries.append(table)
    write_atomic(target, data)
    write_atomic(path, tomlkit.dumps(document).encode())
    return target
