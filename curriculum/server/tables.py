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


DATE = Field("date", "Date", "date", asked=True)
START = Field("start", "Start", "time", asked=True)
REASON = Field("reason", "Reason")


def _days(first: str, last: str) -> tuple[Field, Field]:
    return Field(first, "First day", "date", asked=True), Field(
        last, "Last day", "date", asked=True
    )


def _minutes(least: int, *, asked: bool = False) -> Field:
    return Field("minutes", "Minutes", "number", asked, least, 300)


FRAME = _days("start", "end")

_TABLES = (
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
            DATE,
            START,
            _minutes(10),
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
            *_days("from", "until"),
            REASON,
            Field("venue", "Gym, where one alone is closed", "venue"),
        ),
    ),
    Table("no_practice", "Dates without practice", "a date without practice", "", (DATE, REASON)),
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
        (DATE, START, _minutes(15, asked=True), Field("venue", "Gym", "venue", asked=True)),
    ),
)
TABLES: Mapping[str, Table] = {table.name: table for table in _TABLES}


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
    if field.kind == "date" or (field.kind == "by" and typed[:1].isdecimal()):
        return _date(typed)
    if field.kind == "time":
        _like(r"\d{2}:\d{2}(:\d{2})?", typed, "write a time like 17:30")
        return dt.time.fromisoformat(typed)
    if field.kind == "number":
        _like(r"\d{1,4}", typed, "write a whole number")
        if not field.least <= int(typed) <= field.most:
            raise ValueError(f"write a number from {field.least} to {field.most}")
        return int(typed)
    if not typed.isprintable():
        raise ValueError("write it in one line")
    return typed[:200]


def _date(typed: str) -> dt.date:
    _like(r"\d{4}-\d{2}-\d{2}", typed, "write a date like 2027-01-20")
    try:
        return dt.date.fromisoformat(typed)
    except ValueError as fault:
        raise ValueError("there is no such date") from fault


def _like(form: str, typed: str, says: str) -> None:
    if not re.fullmatch(form, typed, re.ASCII):
        raise ValueError(says)
