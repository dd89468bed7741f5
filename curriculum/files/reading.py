"""Read one TOML file into a model: all faults told, and what is sound kept for further checks."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Generic, TypeVar

from pydantic import BaseModel, ValidationError

from curriculum.files import shape
from curriculum.files.mending import UNREADABLE
from curriculum.files.positions import KeyPath, Mark
from curriculum.files.rephrase import faulty_path, rephrase
from curriculum.files.sources import SourceMap
from curriculum.files.syntax import parse
from curriculum.files.text import read_text
from curriculum.problems import Problem, errors

M = TypeVar("M", bound=BaseModel)


@dataclass(frozen=True)
class Reading(Generic[M]):
    """What a file holds.

    value: the whole, as far as it is sound; None when too little is. It may only be used for
        further checks unless `sound`.
    sources: where the elements of `value` are written.
    left_out: the tables of the file in which something had to be left out of `value`.
    """

    value: M | None
    problems: tuple[Problem, ...]
    sources: SourceMap
    left_out: frozenset[str] = frozenset()

    @property
    def sound(self) -> M | None:
        """The whole, and None when anything in the file is wrong."""
        return None if errors(self.problems) else self.value


def read(path: Path, model: type[M], way_out: str) -> Reading[M]:
    """Read a file; `way_out` is what to do when it is missing or empty."""
    source = read_text(path, way_out)
    if source.text is None:
        return Reading(None, source.problems, SourceMap(source.file))
    parsed = parse(source.text, source.file, lambda: shape.repeating(model))
    told = (*source.problems, *parsed.problems)
    sources = SourceMap(source.file, parsed.marks)
    if parsed.data is None:
        return Reading(None, told, sources)
    sources = replace(sources, names=_names(parsed.data))
    return _judge(model, parsed.data, told, sources, parsed.spoiled)


def _judge(
    model: type[M],
    data: Mapping[str, object],
    told: tuple[Problem, ...],
    sources: SourceMap,
    spoiled: frozenset[int],
) -> Reading[M]:
    """Judge the data, then again without what is faulty, until the rest is sound or nothing is."""
    problems = list(told)
    left_out: frozenset[str] = frozenset()
    written = sources
    for attempt in range(3):
        try:
            value = model.model_validate(_frozen(data), by_alias=True, by_name=False)
        except ValidationError as error:
            if attempt == 0:
                problems = _together(problems, rephrase(error, model, sources), sources, spoiled)
            details = error.errors(include_url=False)
            parts = {_deletable(model, faulty_path(model, detail)) for detail in details}
            doomed = parts - {()}
            left_out |= {str(path[0]) for path in doomed if _is_whole_table(path)}
            data, sources = _without(data, doomed, sources)
        else:
            return Reading(value, tuple(problems), sources, left_out)
    return Reading(None, tuple(problems), written, left_out)


def _together(
    told: list[Problem],
    faults: Iterable[tuple[KeyPath, Problem]],
    sources: SourceMap,
    spoiled: frozenset[int],
) -> list[Problem]:
    """Return all problems, one for a value that is neither well written nor the one wanted.

    Then what the model says goes further; what is found stays as the coach wrote it.
    """
    together = list(told)
    for path, problem in faults:
        mark = sources.marks.get(path)
        if mark is None or mark.line not in spoiled:
            together.append(problem)
        elif mark.text not in ("", UNREADABLE):
            for place, earlier in enumerate(together):
                if (earlier.line, earlier.key) == (problem.line, problem.key):
                    together[place] = replace(problem, found=earlier.found)
    return together


def _frozen(value: object) -> object:
    """Return a value with every list as a tuple, which is what the models hold."""
    if isinstance(value, dict):
        return {key: _frozen(each) for key, each in value.items()}
    return tuple([_frozen(each) for each in value]) if isinstance(value, list) else value


def _names(data: Mapping[str, object]) -> dict[KeyPath, str]:
    """Return the ids of a library's skills and drills, which messages use for `skill[17]`."""
    found: dict[KeyPath, str] = {}
    for table in ("skill", "drill"):
        entries = data.get(table)
        for n, entry in enumerate(entries if isinstance(entries, list) else ()):
            name = entry.get("id") if isinstance(entry, Mapping) else None
            if isinstance(name, str) and name:
                found[table, n] = name
    return found


def _deletable(model: type[BaseModel], path: KeyPath) -> KeyPath:
    """Return the smallest part around a fault that a file can do without; () when there is none."""
    for length in range(len(path), 0, -1):
        part, table = path[length - 1], shape.at(model, path[: length - 1])
        unknown = shape.at(model, path[:length]) is None
        if isinstance(part, str) and (unknown or part not in shape.required(table)):
            if table is not None:
                return path[:length]
        elif length == 2 and shape.is_table_list(table):
            return path[:2]
    return ()


def _is_whole_table(path: KeyPath) -> bool:
    return len(path) == 1 or (len(path) == 2 and isinstance(path[1], int))


def _without(
    data: Mapping[str, object], doomed: set[KeyPath], sources: SourceMap
) -> tuple[Mapping[str, object], SourceMap]:
    """Return the data without some parts, and the sources by the new places of what is left."""
    marks: dict[KeyPath, Mark] = {}

    def copy(value: object, old: KeyPath, new: KeyPath) -> object:
        if old in sources.marks:
            marks[new] = sources.marks[old]
        if isinstance(value, Mapping):
            kept = {key: each for key, each in value.items() if (*old, key) not in doomed}
            return {key: copy(each, (*old, key), (*new, key)) for key, each in kept.items()}
        if isinstance(value, list):
            rest = [n for n in range(len(value)) if (*old, n) not in doomed]
            return [copy(value[n], (*old, n), (*new, m)) for m, n in enumerate(rest)]
        return value

    copied = copy(data, (), ())
    return (copied if isinstance(copied, Mapping) else {}), replace(sources, marks=marks)
