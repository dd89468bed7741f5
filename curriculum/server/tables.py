"""Which parts of a season file can be edited in the browser, and how a form's words become TOML."""

import datetime as dt
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

FieldKind = Literal[
    "text", "date", "time", "number", "tick", "skill", "stage", "by", "need", "venue"
]
Value = str | int | bool | dt.date | dt.time


@dataclass(frozen=True)
class Field:
    """One field of an entry. asked: it must be filled in. least, most: of a number."""

    key: str
    label: str
    kind: FieldKind = "text"
    asked: bool = False
    least: int = 0
    most: int = 999


@dataclass(frozen=True)
class Table:
    """A table of the season file whose entries can be added, changed and taken out.

    one: what one entry is called, with its article.
    """

    name: str
    title: str
    one: str
    words: str
    fields: tuple[Field, ...]


FRAME = (
    Field("start", "First day", "date", asked=True),
    Field("end", "Last day", "date", asked=True),
)

TABLES: Mapping[str, Table] = {
    table.name: table
    for table in (
        Table(
            "goal",
            "Goals",
            "a goal",
            "What the team should be able to do, and by when. Without a date: by the season's end.",
            (
                Field("skill", "Skill", "skill", asked=True),
                Field("stage", "Stage", "stage", asked=True),
                Field("by", "By: a date, or a game's id", "by"),
                Field("need", "How much it matters", "need", asked=True),
                Field("weight", "Weight, 1 to 9", "number", least=1, most=9),
            ),
        ),
        Table(
            "game",
            "Games",
            "a game",
            "",
            (
                Field("id", "Id: small letters and dashes", asked=True),
                Field("date", "Date", "date", asked=True),
                Field("start", "Start", "time", asked=True),
                Field("minutes", "Minutes", "number", least=10, most=300),
                Field("opponent", "Opponent", asked=True),
                Field("home", "At home", "tick"),
            ),
        ),
        Table(
            "closure",
            "Closed gym",
            "a closure",
            "Both days are included.",
            (
                Field("from", "First day", "date", asked=True),
                Field("until", "Last day", "date", asked=True),
                Field("reason", "Reason"),
            ),
        ),
        Table(
            "no_practice",
            "Dates without practice",
            "a date without practice",
            "",
            (
                Field("date", "Date", "date", asked=True),
                Field("reason", "Reason"),
            ),
        ),
        Table(
            "move",
            "Moved practices",
            "a moved practice",
            "What is left empty stays as it was.",
            (
                Field("of", "Date it had", "date", asked=True),
                Field("date", "New date", "date", asked=True),
                Field("start", "New start", "time"),
                Field("venue", "New gym", "venue"),
            ),
        ),
        Table(
            "practice_on",
            "Extra practices",
            "an extra practice",
            "",
            (
                Field("date", "Date", "date", asked=True),
                Field("start", "Start", "time", asked=True),
                Field("minutes", "Minutes", "number", asked=True, least=15, most=300),
                Field("venue", "Gym", "venue", asked=True),
            ),
        ),
    )
}


class MistypedError(ValueError):
    """What was typed into a field cannot be understood; the words say so."""


def value_of(field: Field, typed: str) -> Value | None:
    """Return what was typed as a value of the season file, None for an empty field.

    Raises MistypedError with a sentence.
    """
    if field.kind == "tick":
        return typed == "yes"
    if not typed:
        if field.asked:
            raise MistypedError(f"{field.label}: this is missing")
        return None
    try:
        return _understood(field, typed)
    except ValueError as fault:
        raise MistypedError(f"{field.label}: {fault} (found {typed[:40]})") from fault


def _understood(field: Field, typed: str) -> Value:
    if field.kind == "date":
        return _date(typed)
    if field.kind == "time":
        if not re.fullmatch(r"\d{2}:\d{2}(:\d{2})?", typed, re.ASCII):
            raise ValueError("write a time like 17:30")
        return dt.time.fromisoformat(typed)
    if field.kind == "number":
        if not re.fullmatch(r"\d{1,4}", typed, re.ASCII):
            raise ValueError("write a whole number")
        if not field.least <= int(typed) <= field.most:
            raise ValueError(f"write a number from {field.least} to {field.most}")
        return int(typed)
    if field.kind == "by" and typed[:1].isdecimal():
        return _date(typed)
    if not typed.isprintable():
        raise ValueError("write it in one line")
    return typed[:200]


def _date(typed: str) -> dt.date:
    if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", typed, re.ASCII):
        raise ValueError("write a date like 2027-01-20")
    try:
        return dt.date.fromisoformat(typed)
    except ValueError as fault:
        raise ValueError("there is no such date") from fault
