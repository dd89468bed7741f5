"""The place of every element is the line on which a person finds it."""

import json
import tomllib

import tomlkit
from hypothesis import given
from hypothesis import strategies as st

from curriculum.files.positions import KeyPath, json_marks, toml_marks

DOCUMENT = '''# a remark with [brackets] and "quotes
title = "x # no remark"   # a remark
[season]
name = """
two
lines"""
"odd key".b = 1
a.b.'c d' = [1,  # one
  [2, 3],
  "]",
]
[[slot]]
start = 17:30:00
of = { date = 2027-01-05, "venue" = 'n' }
[[slot]]

[slot.inner]
x = 1979-05-27 07:32:00
[[slot.deep]]
y = true
[[slot.deep]]
y = \'\'\'a\'\'\'\'
'''


def lines(text: str) -> dict[KeyPath, tuple[int, str]]:
    """Return line and text of every element."""
    return {path: (mark.line, mark.text) for path, mark in toml_marks(text).items()}


def leaves(value: object, path: KeyPath = ()) -> set[KeyPath]:
    """Return the paths of all values, tables and lists included."""
    found: set[KeyPath] = {path} if path else set()
    if isinstance(value, dict):
        for key, each in value.items():
            found |= leaves(each, (*path, key))
    elif isinstance(value, list):
        for number, each in enumerate(value):
            found |= leaves(each, (*path, number))
    return found


def test_every_form_of_toml_has_its_line() -> None:
    """Remarks, texts over lines, dotted and quoted keys, lists, braces and repeated tables."""
    assert lines(DOCUMENT) == {
        ("title",): (2, '"x # no remark"'),
        ("season",): (3, ""),
        ("season", "name"): (4, '"""\ntwo\nlines"""'),
        ("season", "odd key"): (7, ""),
        ("season", "odd key", "b"): (7, "1"),
        ("season", "a"): (8, ""),
        ("season", "a", "b"): (8, ""),
        ("season", "a", "b", "c d"): (8, '[1,  # one\n  [2, 3],\n  "]",\n]'),
        ("season", "a", "b", "c d", 0): (8, "1"),
        ("season", "a", "b", "c d", 1): (9, "[2, 3]"),
        ("season", "a", "b", "c d", 1, 0): (9, "2"),
        ("season", "a", "b", "c d", 1, 1): (9, "3"),
        ("season", "a", "b", "c d", 2): (10, '"]"'),
        ("slot",): (12, ""),
        ("slot", 0): (12, ""),
        ("slot", 0, "start"): (13, "17:30:00"),
        ("slot", 0, "of"): (14, "{ date = 2027-01-05, \"venue\" = 'n' }"),
        ("slot", 0, "of", "date"): (14, "2027-01-05"),
        ("slot", 0, "of", "venue"): (14, "'n'"),
        ("slot", 1): (15, ""),
        ("slot", 1, "inner"): (17, ""),
        ("slot", 1, "inner", "x"): (18, "1979-05-27 07:32:00"),
        ("slot", 1, "deep"): (19, ""),
        ("slot", 1, "deep", 0): (19, ""),
        ("slot", 1, "deep", 0, "y"): (20, "true"),
        ("slot", 1, "deep", 1): (21, ""),
        ("slot", 1, "deep", 1, "y"): (22, "'''a''''"),
    }


def test_the_document_is_toml() -> None:
    """The document above is one that the standard reader accepts, with the same elements."""
    assert leaves(tomllib.loads(DOCUMENT)) == set(lines(DOCUMENT))


KEYS = st.text(st.characters(codec="utf-8", exclude_categories=["Cc"]), min_size=1, max_size=6)
SCALARS = st.one_of(
    st.integers(-99, 99),
    st.booleans(),
    st.text(st.characters(codec="utf-8", exclude_characters="\r"), max_size=12),
    st.dates(),
)
VALUES = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3),
    max_leaves=12,
)


@given(st.dictionaries(KEYS, VALUES, max_size=4))
def test_every_element_of_any_toml_is_marked(data: dict[str, object]) -> None:
    """What a standard writer writes and the standard reader reads is marked, all of it."""
    text = tomlkit.dumps(data)

    assert set(toml_marks(text)) == leaves(tomllib.loads(text))


@given(st.dictionaries(KEYS, VALUES, max_size=4), st.sampled_from([None, 1, 2]))
def test_every_element_of_any_json_is_marked(data: dict[str, object], indent: int | None) -> None:
    """JSON with and without line ends is marked, all of it."""
    text = json.dumps(data, indent=indent, default=str)

    assert set(json_marks(text)) - {()} == leaves(json.loads(text))


def test_lines_of_json() -> None:
    """The line of a value is the line of its key."""
    marks = json_marks('{\n  "a": [\n    {"b": 1},\n    -2.5e3\n  ],\n  "c": null\n}\n')

    assert {
        path: (mark.line, mark.text) for path, mark in marks.items() if path and len(path) > 1
    } == {
        ("a", 0): (3, '{"b": 1}'),
        ("a", 0, "b"): (3, "1"),
        ("a", 1): (4, "-2.5e3"),
    }
    assert marks["c",].line == 6
