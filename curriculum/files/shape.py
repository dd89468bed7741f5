"""What may stand where in a file, taken from the models and put into a coach's words."""

from functools import cache

from pydantic import BaseModel

from curriculum.files.nearest import quoted
from curriculum.files.positions import KeyPath
from curriculum.models.base import ID_PATTERN
from curriculum.models.skills import STAGES
from curriculum.wording import listed

Node = dict[str, object]
"""One part of a JSON Schema, its references resolved."""

ID = rf"^{ID_PATTERN.pattern}$"
NEED = rf"^{ID_PATTERN.pattern}(@({'|'.join(STAGES)}))?$"
PATTERNS = {
    ID: 'an id such as "north-gym-2"',
    NEED: 'an id such as "give-and-go" or "give-and-go@live"',
    rf"^{ID_PATTERN.pattern}@({'|'.join(STAGES)})$": 'a skill\'s stage such as "give-and-go@live"',
    r"^[A-Za-z0-9]+(-[a-z0-9]+)*$": 'a name such as "left-wing"',
    r"^[1-9]v[0-9]$|^0v[1-9]$": 'attackers and defenders such as "3v2"',
    r"^[^\x00-\x1f\x7f,;]+$": "text in quotes without comma or semicolon",
    r"^https?://[!-~]+$": 'a link such as "https://example.org/team"',
    r"^[^,;\\\x00-\x1f]+$": "text in quotes without comma, semicolon or backslash",
}
"""The patterns of the models in words."""


@cache
def root(model: type[BaseModel]) -> Node:
    """Return the JSON Schema of a whole file."""
    return model.model_json_schema()


def at(model: type[BaseModel], path: KeyPath) -> Node | None:
    """Return what may stand at a path; None where nothing may."""
    whole = root(model)
    node: Node | None = whole
    for part in path:
        node = _child(whole, node, part) if node is not None else None
    return node


def keys(node: Node | None) -> tuple[str, ...]:
    """Return the keys that a table may have, in the order of the format."""
    found = (node or {}).get("properties")
    if isinstance(found, dict):
        return tuple(found)
    names = (node or {}).get("propertyNames")
    return choices(names) if isinstance(names, dict) else ()


def required(node: Node | None) -> tuple[str, ...]:
    """Return the keys that a table must have."""
    found = (node or {}).get("required")
    return tuple(str(key) for key in found) if isinstance(found, list) else ()


def choices(node: Node) -> tuple[str, ...]:
    """Return the words among which a value is chosen; none when it is no choice."""
    found = node.get("enum")
    return tuple(str(word) for word in found) if isinstance(found, list) else ()


def options(node: Node) -> tuple[Node, ...]:
    """Return the kinds of value that may stand here, most often one."""
    found = node.get("anyOf")
    return tuple(found) if isinstance(found, list) else (node,)


def bounds(node: Node) -> tuple[int | None, int | None]:
    """Return the smallest and the largest number that a value may be."""
    low, high = node.get("minimum"), node.get("maximum")
    return low if isinstance(low, int) else None, high if isinstance(high, int) else None


def is_table_list(node: Node | None) -> bool:
    """Whether tables stand here that are written `[[name]]`."""
    items = (node or {}).get("items")
    return isinstance(items, dict) and ("$ref" in items or items.get("type") == "object")


def is_date_or_table(node: Node) -> bool:
    """Whether a table stands here that needs a date only, so that the bare date will do."""
    return required(node) == ("date",)


def repeating(model: type[BaseModel]) -> frozenset[str]:
    """Return the names of a file's tables that are written `[[name]]`."""
    return frozenset(key for key in keys(root(model)) if is_table_list(at(model, (key,))))


def tables_with(model: type[BaseModel], key: str) -> tuple[str, ...]:
    """Return the headers of a file's tables that know a key; "" is the file's top."""
    found = [""] if key in keys(root(model)) else []
    for name in keys(root(model)):
        node = at(model, (name,))
        if is_table_list(node) and key in keys(at(model, (name, 0))):
            found.append(f"[[{name}]]")
        elif key in keys(node):
            found.append(f"[{name}]")
    return tuple(found)


def in_words(node: Node) -> str:
    """Say what a value must be, so that it reads well behind "must be"."""
    if "anyOf" in node:
        return " or ".join(in_words(option) for option in options(node))
    if words := choices(node):
        one_of = "one of " if len(words) > 2 else ""
        return f"{one_of}{listed([quoted(word) for word in words], 'or')}"
    if "const" in node:
        return str(node["const"])
    if node.get("type") == "integer":
        return _number(*bounds(node))
    if node.get("type") == "string":
        return _string(node)
    if node.get("type") == "array":
        return _list(node)
    if is_date_or_table(node):
        return f"a date, or a table with {listed(keys(node))}"
    return "true or false" if node.get("type") == "boolean" else "a table"


def _number(low: int | None, high: int | None) -> str:
    if low is not None and high is not None:
        return f"a whole number from {low} to {high}"
    return "a whole number" if low is None else f"a whole number, {low} or more"


def _string(node: Node) -> str:
    kinds = {
        "date": "a date such as 2027-01-11",
        "time": "a time such as 17:30:00",
        "date-time": "a date with a time",
    }
    pattern = node.get("pattern")
    if isinstance(pattern, str):
        return PATTERNS.get(pattern, f"text of the form {pattern}")
    return kinds.get(str(node.get("format")), "text in quotes")


def _list(node: Node) -> str:
    if is_table_list(node):
        return "a list of tables"
    pair = node.get("prefixItems")
    if isinstance(pair, list):
        return f"a list of {len(pair)} whole numbers"
    items = node.get("items")
    whole = isinstance(items, dict) and items.get("type") == "integer"
    return "a list of whole numbers" if whole else "a list of texts"


def _child(whole: Node, node: Node, part: str | int) -> Node | None:
    if isinstance(part, str):
        found = node.get("properties")
        child = found.get(part) if isinstance(found, dict) else None
        if part in keys(node) and child is None:
            child = node.get("additionalProperties")
    else:
        pair = node.get("prefixItems")
        inside = isinstance(pair, list) and 0 <= part < len(pair)
        child = pair[part] if isinstance(pair, list) and inside else node.get("items")
    return _resolved(whole, child) if isinstance(child, dict) else None


def _resolved(whole: Node, node: Node) -> Node:
    """Follow a reference, and leave out that a value may be missing."""
    name = node.get("$ref")
    definitions = whole.get("$defs")
    if isinstance(name, str) and isinstance(definitions, dict):
        return _resolved(whole, definitions[name.removeprefix("#/$defs/")])
    several = node.get("anyOf")
    if not isinstance(several, list):
        return node
    kinds = [_resolved(whole, kind) for kind in several if kind.get("type") != "null"]
    return kinds[0] if len(kinds) == 1 else {"anyOf": kinds}
