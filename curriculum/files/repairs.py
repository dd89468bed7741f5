"""Tell what is wrong with a line that TOML refuses, and offer one that may stand in its place."""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from curriculum.files.mending import (
    CURLY,
    KEY,
    STRING,
    UNREADABLE,
    WORD,
    mended,
    mended_items,
)
from curriculum.files.values import correction

PAIR = re.compile(rf"\s*(?P<key>{KEY}(?:\s*\.\s*{KEY})*)\s*=\s*(?P<value>.*?)\s*$")
HEADER = re.compile(rf"\s*\[{{1,2}}\s*(?P<name>{KEY}(?:\s*\.\s*{KEY})*)\s*(?:\]|$)")
_COMMENT = re.compile(rf"(?:{STRING}|[^#\"'])*?(?P<comment>\s*#.*)$")
_Instead = Callable[[str], str]

UNREADABLE_HEADER = "[[unreadable]]"
"""Stands in place of a table's header that cannot be read, so that its keys stay together."""
IN_LIST = ("Unclosed array", "Invalid value")
"""How `tomllib` begins when something in a list, or behind one that has no end, is wrong."""


@dataclass(frozen=True)
class Repair:
    """What is wrong with a line, and the line that lets reading go on.

    found: the part of the line that is at fault.
    line: the line to read instead; never written to the coach's file.
    """

    says: str
    found: str
    way_out: str
    line: str


def repairs(line: str, message: str) -> Iterator[Repair]:
    """Offer repairs of one line, likeliest first; `message` is what `tomllib` says about it.

    The last one always applies: it takes the line's value, or the whole line, out of the reading.
    """
    if HEADER.match(line) or re.match(r"\s*\[", line):
        yield from _header(line)
    elif found := PAIR.match(line):
        value, comment = split_comment(found["value"])
        yield from _pair(found["key"], value, comment)
    elif message.startswith(IN_LIST) or re.match(r"\s*\{", line):
        yield from _inside_list(line)
    else:
        yield from _no_pair(line)
    yield out_of_reading(line, message)


def split_comment(text: str) -> tuple[str, str]:
    """Split a value from the comment behind it."""
    found = _COMMENT.match(text)
    if not found:
        return text.strip(), ""
    return text[: found.start("comment")].strip(), found["comment"]


def out_of_reading(line: str, message: str = "") -> Repair:
    """Return the repair that passes over a line; a key keeps a value that no field accepts."""
    says, found = "this cannot be read", PAIR.match(line)
    if re.match(r"\s*\[", line):
        way_out = "correct the name and its brackets"
        instead = "#" if message.startswith(IN_LIST) else UNREADABLE_HEADER
        return Repair(says, line.strip(), way_out, instead)
    if found:
        key = found["key"]
        way_out = f"write {key} = with a number, a date, true, false or text in quotes"
        return Repair(says, found["value"] or line.strip(), way_out, f"{key} = {UNREADABLE}")
    return Repair(says, line.strip(), "correct the line, or put # in front of it", "#")


def _pair(key: str, value: str, comment: str) -> Iterator[Repair]:
    def instead(new: str) -> str:
        return f"{key} = {new}{comment}"

    if not value:
        write = f"write a value behind {key} =, or put # in front of the line"
        yield Repair("has no value", "", write, instead(UNREADABLE))
    elif found := correction(value):
        chosen = found.instead[0] if found.instead else UNREADABLE
        way_out = found.way_out or f"write {key} = {' or '.join(found.instead)}"
        yield Repair(found.says, value, way_out, instead(chosen))
    elif value.translate(CURLY) != value:
        straight = value.translate(CURLY)
        says = "text stands in straight quotes, not in curly ones"
        yield Repair(says, value, f"write {key} = {straight}", instead(straight))
    elif value[0] in "[{":
        yield from _list_or_table(key, value, instead)
    elif value[0] in "\"'":
        yield from _text(key, value, instead)
    elif WORD.fullmatch(value.rstrip("\"'")):
        text = f'"{value.rstrip(chr(34) + chr(39)).strip()}"'
        yield Repair("text stands in quotes", value, f"write {key} = {text}", instead(text))


def _text(key: str, value: str, instead: _Instead) -> Iterator[Repair]:
    quote = value[0]
    if "\\" in value and quote == '"':
        slashes = value.replace("\\", "/")
        says = "a backslash does not stand for itself in double quotes"
        yield Repair(says, value, f"write {key} = {slashes}", instead(slashes))
    if value[:3] in ('"""', "'''"):
        says = f"the text that begins here with {value[:3]} has no end"
        write = f"close it with {value[:3]}"
        yield Repair(says, value, write, instead(value + value[:3]))
    if found := re.match(rf"({STRING})\s*(?P<rest>\S.*)$", value):
        says = "more stands behind the text than one value"
        way_out = f"write {key} = {found[1]}, or put # before the rest"
        yield Repair(says, found["rest"], way_out, instead(found[1]))
    if value.count(quote) == 1 and value[-1:] in "\"'" and len(value) > 1:
        same = value[:-1] + quote
        says = "the two quotes around a text must be alike"
        yield Repair(says, value, f"write {key} = {same}", instead(same))
    closed = f"{value}{quote}"
    yield Repair("the quote is not closed", value, f"write {key} = {closed}", instead(closed))


def _list_or_table(key: str, value: str, instead: _Instead) -> Iterator[Repair]:
    right = mended(value)
    if right.says:
        yield Repair(right.says, right.found, right.told(f"{key} = "), instead(right.line))
    elif value[0] == "[":
        spaced = re.sub(rf"({STRING}|[\w.+-]+)\s+(?=[^\s\]])", r"\1, ", value)
        says = "a comma is missing between two values of the list"
        yield Repair(says, value, f"write {key} = {spaced}", instead(spaced))


def _inside_list(line: str) -> Iterator[Repair]:
    """Offer repairs of a line that holds nothing but values of a list begun further up."""
    text, comment = split_comment(line.strip())
    right = mended_items(text, pairs=False)
    ends = "," if text.endswith(",") or text.startswith("{") else ""
    if right.says:
        comma = ends if right.told().endswith("}") else ""
        whole = f"{right.line}{ends}{comment}"
        yield Repair(right.says, right.found, f"{right.told()}{comma}", whole)
    says = "a comma is missing between two values of the list"
    yield Repair(says, text, f"write {text},", f"{text},{comment}")


def _header(line: str) -> Iterator[Repair]:
    text, comment = split_comment(line.strip())
    both = text.startswith("[[") or text.endswith("]]")
    inside = text.strip("[] \t")
    found = re.match(rf"({KEY}(?:\s*\.\s*{KEY})*)(?:\s*\]{{1,2}}\s*(?P<rest>.*))?$", inside)
    if found and found["rest"]:
        whole = f"[[{found[1]}]]" if both else f"[{found[1]}]"
        says = "nothing but a comment may stand behind the name of a table"
        yield Repair(says, found["rest"], f"write {whole} and go on in the next line", whole)
    elif found:
        whole = f"[[{inside}]]" if both else f"[{inside}]"
        says = "the brackets around the name of a table do not match"
        yield Repair(says, text, f"write {whole}", f"{whole}{comment}")
    elif re.fullmatch(r"[A-Za-z0-9_ -]+", inside):
        name = "_".join(inside.split())
        whole = f"[[{name}]]" if both else f"[{name}]"
        yield Repair("the name of a table is one word", text, f"write {whole}", f"{whole}{comment}")


def _no_pair(line: str) -> Iterator[Repair]:
    text, comment = split_comment(line.strip())
    if re.match(r"(//|--|;|/\*|%|!|')", text):
        says = "a comment begins with #"
        yield Repair(says, text, f"write # {text.lstrip('/-;*%!').strip()}", "#")
    found = re.fullmatch(rf"({KEY})\s*(?::=|:|\s)\s*(\S.*)", text)
    if found and found[2][:3] not in ('"""', "'''"):
        written = f"{found[1]} = {found[2]}"
        says = "an = stands between a key and its value"
        yield from _also(says, text, written, comment)
    if found := re.fullmatch(r"([^=\"'#\[\]]*[^=\"'#\[\]\s])\s*=\s*(.*)", text):
        name = "_".join(re.findall(r"[A-Za-z0-9_-]+", found[1]))
        if " " in found[1] and name:
            written = f"{name} = {found[2]}"
            yield from _also("a key is one word", found[1], written, comment)
        else:
            says = "a key is written with the letters a to z, digits, - and _"
            yield Repair(says, found[1], "correct the key", "#")


def _also(says: str, found: str, written: str, comment: str) -> Iterator[Repair]:
    """Offer the line as it was meant, its value set right as well where that too is wrong."""
    yield Repair(says, found, f"write {written}", f"{written}{comment}")
    pair = PAIR.match(written)
    for better in _pair(pair["key"], pair["value"], comment) if pair else ():
        line, _ = split_comment(better.line)
        yield Repair(says, found, f"write {line}", better.line)
