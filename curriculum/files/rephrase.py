"""Turn what the models object to into sentences for a coach, each at its line."""

import re
from collections.abc import Iterable

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from curriculum.files import shape
from curriculum.files.nearest import nearest, quoted, slug
from curriculum.files.positions import KeyPath
from curriculum.files.shape import Node
from curriculum.files.sources import SourceMap
from curriculum.files.values import dates_meant, time_meant, truth_meant
from curriculum.models.skills import STAGES
from curriculum.problems import Problem
from curriculum.wording import listed

_MOST_NAMES = 12
"""Keys that a message can list and still be read."""
_SCHEMAS = {"Season": "season", "LibraryFile": "skills", "Plan": "plan"}
"""What `curriculum schema` calls a file's model."""
_KEY_ITSELF = "[key]"
"""How pydantic says that not a value but its key is wrong."""


def rephrase(
    error: ValidationError, model: type[BaseModel], sources: SourceMap
) -> tuple[tuple[KeyPath, Problem], ...]:
    """Return one problem for each path that a model objects to, with that path."""
    found: dict[KeyPath, ErrorDetails] = {}
    for detail in error.errors(include_url=False):
        found.setdefault(faulty_path(model, detail), detail)
    unknown = [path for path, detail in found.items() if _is_unknown(detail)]
    problems = []
    for path, detail in found.items():
        if _is_unknown(detail):
            problems.append((path, _unknown(model, path, sources)))
        elif detail["type"] == "missing" and path not in sources.marks:
            if not _misspelt(path, unknown):
                problems.append((path, _missing(model, path, sources)))
        else:
            problems.append((path, _wrong(model, path, detail, sources)))
    return tuple(problems)


def faulty_path(model: type[BaseModel], detail: ErrorDetails) -> KeyPath:
    """Return the path in the file; names of alternatives, which pydantic adds, are left out."""
    path: KeyPath = ()
    for part in detail["loc"]:
        if part == _KEY_ITSELF or (
            shape.at(model, (*path, part)) is None and not _is_unknown(detail)
        ):
            break
        path = (*path, part)
    too_short = isinstance(path[-1], int) if path else False
    return path[:-1] if detail["type"] == "missing" and too_short else path


def _is_unknown(detail: ErrorDetails) -> bool:
    return detail["type"] == "extra_forbidden" or detail["loc"][-1:] == (_KEY_ITSELF,)


def _misspelt(path: KeyPath, unknown: Iterable[KeyPath]) -> bool:
    """Whether a missing key stands there under a similar name, which is told already."""
    beside = [str(other[-1]) for other in unknown if other[:-1] == path[:-1]]
    return any(nearest(name, [str(path[-1])]) for name in beside)


def _unknown(model: type[BaseModel], path: KeyPath, sources: SourceMap) -> Problem:
    key, table = str(path[-1]), path[:-1]
    node = shape.at(model, table)
    names = shape.keys(node)
    near = nearest(key, names)
    elsewhere = [header for header in shape.tables_with(model, key) if header != _header(table)]
    if near is not None:
        way_out = f'did you mean "{near}"?'
    elif elsewhere == [""]:
        way_out = "it stands at the top of the file, before the first table"
    elif len(elsewhere) == 1:
        way_out = f"move it under {elsewhere[0]}"
    elif len(names) <= _MOST_NAMES:
        way_out = f"delete it, or use one of {listed(names, 'or')}"
    else:
        name = _SCHEMAS.get(model.__name__, "--help")
        way_out = f'delete it; "curriculum schema {name}" prints what may stand here'
    where = f"{_header(table)} has no such key" if table else "there is no such table or key"
    return sources.problem(path, where, way_out, found="")


def _missing(model: type[BaseModel], path: KeyPath, sources: SourceMap) -> Problem:
    key, node = str(path[-1]), shape.at(model, path) or {}
    inside = shape.required(node)
    if shape.is_table_list(node):
        way_out = f"add a table [[{'.'.join(str(part) for part in path if isinstance(part, str))}]]"
    elif len(path) == 1 and shape.keys(node):
        way_out = f"add a table [{key}] with {listed(inside)}"
    else:
        way_out = f"add {key} = with {shape.in_words(node)}"
    return sources.problem(path, "is missing", way_out, found="")


def _wrong(
    model: type[BaseModel], path: KeyPath, detail: ErrorDetails, sources: SourceMap
) -> Problem:
    node = shape.at(model, path) or {}
    key, text = str(path[-1]) if path else "", sources.text(*path)
    if _is_header(detail, path) and path:
        return _wrong_brackets(key, node, path, sources)
    says, way_out = f"must be {shape.in_words(node)}", _instead(node, text)
    if detail["type"] in {"string_too_short", "string_too_long"}:
        says, way_out = _wrong_length(detail)
    elif isinstance(path[-1], int):
        way_out = f"write {way_out}" if way_out else "correct or delete it"
    elif way_out:
        quotes = "it without quotes: " if text[:1] in "\"'" and way_out[0] not in "\"'[" else ""
        way_out = f"write {quotes}{key} = {way_out}"
    else:
        way_out = _bound(node, key, detail)
    return sources.problem(path, says, way_out)


def _instead(node: Node, text: str) -> str:
    """Return the value that was meant, as it is written; "" when that cannot be told."""
    for option in shape.options(node):
        for meant in _meant(option, text.strip("\"'").strip(), text):
            return meant
    return ""


def _meant(node: Node, bare: str, text: str) -> Iterable[str]:
    kind, form = node.get("type"), node.get("format")
    if kind == "integer":
        found = re.fullmatch(r"(-?\d{1,9})(?:\.\d*)?(?:\s*(?:[a-zA-Z]+|%))?", bare)
        low, high = shape.bounds(node)
        if found and (low or 0) <= int(found[1]) <= (high or 10**9):
            yield found[1]
    elif kind == "boolean":
        yield from filter(None, [truth_meant(bare)])
    elif form == "date" or shape.is_date_or_table(node):
        yield from dates_meant(re.sub(r"[Tt ]\d\d:.*", "", bare))[:1]
    elif form == "time":
        yield from filter(None, [time_meant(re.sub(r"^\d{4}-\d\d-\d\d[Tt ]", "", bare))])
    elif words := shape.choices(node):
        yield from [quoted(word) for word in filter(None, [nearest(bare, words)])]
    elif kind == "array" and "prefixItems" not in node and text[:1] not in "[{":
        yield f"[{text}]"
    elif node.get("pattern") == shape.NEED:
        name, at, stage = bare.partition("@")
        near = nearest(stage, STAGES)
        if slug(name) and (near or not at):
            yield quoted(f"{slug(name)}@{near}" if at else slug(name))
    elif node.get("pattern") == shape.ID and slug(bare) and text[:1] in "\"'":
        yield quoted(slug(bare)[:60].rstrip("-"))
    elif kind == "string" and "pattern" not in node and text and text[0] not in "\"'[{":
        yield quoted(bare)


def _wrong_length(detail: ErrorDetails) -> tuple[str, str]:
    limits = detail.get("ctx", {})
    if detail["type"] == "string_too_short" and limits.get("min_length") == 1:
        return "must not be empty", "write text between the quotes, or delete the line"
    if detail["type"] == "string_too_short":
        return f"must have {limits.get('min_length')} letters at least", "write it in full"
    return f"must have {limits.get('max_length')} letters at most", "shorten it"


def _bound(node: Node, key: str, detail: ErrorDetails) -> str:
    """Return the way out for a value of which only the limits are known."""
    low, high = shape.bounds(node)
    if detail["type"] == "greater_than_equal":
        return f"write {key} = {low} or more"
    if detail["type"] == "less_than_equal":
        return f"write {key} = {high} or less"
    if "prefixItems" in node:
        return f"write {key} = [10, 11]"
    if node.get("type") == "integer":
        return "write such a number in digits"
    if shape.keys(node):
        return f"write a table with {listed(shape.required(node) or shape.keys(node), 'and')}"
    return "write one of them" if shape.choices(node) else f"correct what stands behind {key} ="


def _is_header(detail: ErrorDetails, path: KeyPath) -> bool:
    """Whether a table stands where several must, or several where one must."""
    single = detail["type"] == "tuple_type" and isinstance(detail["input"], dict)
    several = detail["type"] == "model_type" and isinstance(detail["input"], (list, tuple))
    return (single or several) and len(path) <= 3


def _wrong_brackets(key: str, node: Node, path: KeyPath, sources: SourceMap) -> Problem:
    if shape.is_table_list(node):
        says = "this table can stand several times, so it has double brackets"
        return sources.problem(path, says, f"write [[{key}]]", found=f"[{key}]")
    says = "this table stands once, so it has single brackets"
    header = f"[{'.'.join(str(part) for part in path if isinstance(part, str))}]"
    return sources.problem(path, says, f"write {header}", found=f"[{header}]")


def _header(table: KeyPath) -> str:
    """Return a table's header as it stands in a file; "" for the file's top."""
    names = ".".join(part for part in table if isinstance(part, str))
    repeated = bool(table) and isinstance(table[-1], int)
    return f"[[{names}]]" if repeated else f"[{names}]" if names else ""
