"""Tell what is wrong with one value of a list or of a table in braces, however deep it stands."""

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass

from curriculum.files.values import correction

KEY = r"(?:[A-Za-z0-9_-]+|\"[^\"\n]*\"|'[^'\n]*')"
STRING = r"\"(?:\\.|[^\"\\])*\"|'[^']*'"
CURLY = str.maketrans("“”„‟«»‘’‚‛", '""""""\'\'\'\'')
UNREADABLE = "nan"
"""Stands in place of a value that cannot be read: no field of any model accepts it."""
WORD = re.compile(r"[^\s\[\]{}\"'#=,][^\[\]{}\"'#=]*")

_PIECE = re.compile(rf"{STRING}|[\[\]{{}},]|[^\[\]{{}},\"']+|.")
_ENTRY = re.compile(rf"(?P<key>{KEY}(?:\s*\.\s*{KEY})*)\s*(?P<sign>[=:]?)\s*(?P<value>.*)")
_TWO_PAIRS = re.compile(rf"(?P<first>{STRING}|[^\s\"'{{}}\[\]]+)\s+(?P<second>{KEY}\s*=.*)")
_DEEPEST = 6
"""Brackets around a value that is still looked into; the formats of this program need three."""
_SHORT = 64
"""Signs of a value that a message can hold whole."""


@dataclass(frozen=True)
class Mended:
    """A value as TOML wants it; `says` is "" when it was right as it stood.

    found: the part at fault. way_out: what to do where nothing right can be told, else "".
    part: the smallest part to be written instead, such as `start = 17:30:00`.
    """

    line: str
    says: str = ""
    found: str = ""
    way_out: str = ""
    part: str = ""

    def told(self, before: str = "") -> str:
        """Return the way out; `before` is what stands before the value, such as `start = `."""
        whole = f"{before}{self.line}"
        plain = len(whole) <= _SHORT and not re.search(rf"\b{UNREADABLE}\b", whole)
        return self.way_out or f"write {whole if plain else self.part or whole}"


def mended(value: str, depth: int = 0) -> Mended:
    """Return a value as TOML wants it, with what is wrong with it.

    depth: of brackets around it; what stands too deep is left as it is.
    """
    value = value.strip()
    if depth > _DEEPEST or _is_sound(value):
        return Mended(value)
    if value[:1] in ("[", "{"):
        return _inside(value, depth + 1)
    if found := correction(value):
        line = found.instead[0] if found.instead else UNREADABLE
        return Mended(line, found.says, value, found.way_out, line)
    straight = value.translate(CURLY)
    if straight != value:
        return _instead(value, straight, "text stands in straight quotes, not in curly ones")
    if WORD.fullmatch(value) and not re.fullmatch(r"true|false|[-+0-9.:_T ]+", value):
        return _instead(value, f'"{value}"', "text stands in quotes")
    return Mended(value)


def mended_items(inside: str, *, pairs: bool, depth: int = 0) -> Mended:
    """Return the values of a list, or the pairs of a table in braces, without their brackets."""
    texts = list(_split(inside))
    if not pairs and not texts[-1].strip():
        texts.pop()
    items = [_item(text, pairs=pairs, depth=depth) for text in texts]
    whole = ", ".join(item.line for item in items if item.line)
    wrong = next((item for item in items if item.says), Mended(""))
    return Mended(whole, wrong.says, wrong.found, wrong.way_out, wrong.part)


def _instead(value: str, line: str, says: str) -> Mended:
    return Mended(line, says, value, "", line)


def _is_sound(value: str) -> bool:
    try:
        tomllib.loads(f"x = {value}")
    except (ValueError, RecursionError):
        return False
    return True


def _inside(value: str, depth: int) -> Mended:
    """Return a list or a table in braces, closed and with everything in it set right."""
    close = {"[": "]", "{": "}"}[value[0]]
    closed = value.endswith(close)
    inside = mended_items(value[1:].removesuffix(close), pairs=close == "}", depth=depth)
    line = f"{value[0]}{inside.line}{close}"
    if inside.says or closed:
        return Mended(line, inside.says, inside.found, inside.way_out, inside.part)
    says = "the list is not closed" if close == "]" else "the braces are not closed"
    return _instead(value, line, says)


def _split(inside: str) -> Iterator[str]:
    """Yield what stands between commas, those within quotes and brackets left aside."""
    depth, text = 0, ""
    for piece in _PIECE.findall(inside):
        if piece == "," and depth <= 0:
            yield text
            text = ""
            continue
        depth += (piece in ("[", "{")) - (piece in ("]", "}"))
        text += piece
    yield text


def _item(text: str, *, pairs: bool, depth: int) -> Mended:
    text = text.strip()
    if not text:
        return Mended("", "a comma stands where nothing follows", ",", "delete the comma")
    if not pairs:
        return mended(text, depth)
    found = _ENTRY.fullmatch(text)
    if found is None or not found["value"]:
        return Mended("", "this cannot be read", text, "write it as key = value, or delete it")
    key, value = found["key"], found["value"]
    if found["sign"] != "=":
        says = "an = stands between a key and its value"
        return _instead(text, f"{key} = {mended(value, depth).line}", says)
    two = _TWO_PAIRS.fullmatch(value)
    if two and _is_sound(two["first"]):
        line = f"{key} = {two['first']}, {_item(two['second'], pairs=True, depth=depth).line}"
        return _instead(text, line, "a comma is missing between two keys in braces")
    right = mended(value, depth)
    part = right.part if value[0] in "[{" else f"{key} = {right.part}"
    return Mended(f"{key} = {right.line}", right.says, right.found, right.way_out, part)
