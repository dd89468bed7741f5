"""Edits of the season file: the coach's remarks stay, and only what passes every check is written.

The new text stands beside the season file under another name while it is checked, so that all
that it names is found, and takes its place in one step.
"""

import hashlib
import secrets
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Array
from tomlkit.items import Table as TomlTable

from curriculum.checks import reach_problems
from curriculum.files.season import season_file
from curriculum.files.sources import relocate
from curriculum.problems import FaultyInputError, Problem, errors
from curriculum.server.site import Site
from curriculum.server.tables import Value
from curriculum.store import write_atomic
from curriculum.workspace import open_season, read_files

Change = Callable[[tomlkit.TOMLDocument], None]


class OutdatedError(Exception):
    """The file has changed since the form was made from it."""


@dataclass(frozen=True)
class Draft:
    """A season file as text, with the mark by which a form names what it was made from."""

    text: str
    mark: str

    @property
    def document(self) -> tomlkit.TOMLDocument:
        """The file, to be edited; raises FaultyInputError when it is no TOML."""
        try:
            return tomlkit.parse(self.text)
        except TOMLKitError as fault:
            raise FaultyInputError([Problem("season.toml", 0, "", f"{fault}")]) from fault


def draft(site: Site) -> Draft:
    """Return the season file as it is; raises FaultyInputError when it cannot be read."""
    path = season_file(site.folder)
    try:
        data = path.read_bytes()
        return Draft(data.decode("utf-8-sig"), hashlib.sha256(data).hexdigest()[:24])
    except (OSError, UnicodeDecodeError) as fault:
        raise FaultyInputError([Problem(str(path), 0, "", "cannot be read")]) from fault


def edit(site: Site, mark: str, change: Change) -> tuple[Problem, ...]:
    """Change the season file and return the warnings about it.

    Raises OutdatedError when somebody else changed it first, and FaultyInputError with what a check
    found; then nothing is written.
    """
    with site.writing:
        before = draft(site)
        if before.mark != mark:
            raise OutdatedError
        document = before.document
        change(document)
        text = tomlkit.dumps(document)
        warnings = _checked(site, text)
        if draft(site).mark != mark:
            raise OutdatedError
        write_atomic(season_file(site.folder), text.encode())
    return warnings


def _checked(site: Site, text: str) -> tuple[Problem, ...]:
    """Return the warnings about a season file; raises FaultyInputError with its faults."""
    path = season_file(site.folder)
    trial = path.with_name(f".{path.stem}-{secrets.token_hex(6)}.toml")
    try:
        trial.write_text(text, encoding="utf-8")
        opening = open_season(trial, site.now())
        found = list(opening.problems)
        if opening.workspace is not None:
            space = opening.workspace
            sources = read_files(trial).season_sources
            reach = reach_problems(space.season, space.library, space.gym)
            # A must-goal out of reach is told, not refused: the plan says what would help.
            found += [replace(each, level="warning") for each in relocate(reach, sources)]
    finally:
        trial.unlink(missing_ok=True)
    named = [replace(each, file=_name(each.file, trial, path)) for each in found]
    if errors(named):
        raise FaultyInputError(errors(named))
    return tuple(named)


def _name(file: str, trial: Path, path: Path) -> str:
    return path.name if Path(file).name == trial.name else file


def entries(document: tomlkit.TOMLDocument, table: str) -> list[dict[str, Any]]:
    """Return the entries of a table as plain values, in the order of the file."""
    found = document.get(table, [])
    plain = found.unwrap() if hasattr(found, "unwrap") else found
    return (
        [dict(each) for each in plain if isinstance(each, dict)] if isinstance(plain, list) else []
    )


def setting(table: str, values: Mapping[str, Value | None]) -> Change:
    """Return the change that sets keys of one table."""

    def change(document: tomlkit.TOMLDocument) -> None:
        if not isinstance(document.get(table), dict):
            raise FaultyInputError([_by_hand(table)])
        _fill(document[table], values)

    return change


def adding(table: str, values: Mapping[str, Value | None]) -> Change:
    """Return the change that adds an entry at the end of a table."""

    def change(document: tomlkit.TOMLDocument) -> None:
        present = document.get(table)
        if present is None:
            present = tomlkit.aot()
            document.append(table, present)
        if not isinstance(present, AoT | Array):
            raise FaultyInputError([_by_hand(table)])
        entry = tomlkit.table() if isinstance(present, AoT) else tomlkit.inline_table()
        _fill(entry, values)
        if isinstance(entry, TomlTable):
            entry.add(tomlkit.nl())
        present.append(entry)

    return change


def replacing(table: str, place: int, values: Mapping[str, Value | None]) -> Change:
    """Return the change that sets keys of one entry, counted from 0; its other keys stay."""

    def change(document: tomlkit.TOMLDocument) -> None:
        _fill(_entry(document, table, place), values)

    return change


def removing(table: str, place: int) -> Change:
    """Return the change that takes an entry out, counted from 0."""

    def change(document: tomlkit.TOMLDocument) -> None:
        _entry(document, table, place)
        present = document[table]
        if not isinstance(present, AoT | Array):
            raise FaultyInputError([_by_hand(table)])
        del present[place]
        if not len(present):
            document.remove(table)

    return change


def _entry(document: tomlkit.TOMLDocument, table: str, place: int) -> Any:
    found = document.get(table)
    if not isinstance(found, AoT | Array) or not 0 <= place < len(found):
        raise FaultyInputError([_by_hand(table)])
    return found[place]


def _fill(entry: Any, values: Mapping[str, Value | None]) -> None:
    for key, value in values.items():
        if value is None:
            if key in entry:
                del entry[key]
        elif key not in entry or entry[key] != value:
            entry[key] = value


def _by_hand(table: str) -> Problem:
    says = "this part of the file is written in a way that can only be edited by hand"
    return Problem("season.toml", 0, table, says)
