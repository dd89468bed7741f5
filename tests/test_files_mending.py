"""Values in lists and braces: what is wrong with them, and how they are written."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from curriculum.files.mending import mended
from curriculum.files.syntax import parse

SOUND = (
    "3",
    "true",
    '"a, b"',
    "17:30:00",
    "2027-01-11",
    "[1, 2]",
    '{a = 1, b = "}"}',
    "[{a = [1]}]",
)


@pytest.mark.parametrize("value", SOUND)
def test_what_is_sound_stays(value: str) -> None:
    """Nothing is said of a value that TOML takes as it is."""
    assert (mended(value).says, mended(value).line) == ("", value)


@pytest.mark.parametrize(
    ("value", "says", "told"),
    [
        ("[a, b]", "text stands in quotes", 'write x = ["a", "b"]'),
        ("{a = yes}", "yes and no are written true and false", "write x = {a = true}"),
        ("[{a = 17:30}]", "a time needs its seconds", "write x = [{a = 17:30:00}]"),
        ("{a = 2027-02-30}", "there is no such date", "February 2027 has 28 days"),
        ("{a = 2027-2-3, b = 2027-02-30}", "a date has two digits", "write a = 2027-02-03"),
        ("[{a = 1]", "the braces are not closed", "write x = [{a = 1}]"),
        ("[1, [2, 3]", "the list is not closed", "write x = [1, [2, 3]]"),
        ("{a 1}", "an = stands between a key and its value", "write x = {a = 1}"),
        ("{a = 1 b = 2}", "a comma is missing between two keys", "write x = {a = 1, b = 2}"),
        ("{a = “x”}", "text stands in straight quotes", 'write x = {a = "x"}'),
        ("[1,, 2]", "a comma stands where nothing follows", "delete the comma"),
    ],
)
def test_what_is_wrong_and_how_to_write_it(value: str, says: str, told: str) -> None:
    """The first fault is named, and the way out sets everything right that can be."""
    right = mended(value)

    assert (right.says[: len(says)], right.told("x = ")) == (says, told)


@pytest.mark.parametrize("depth", [5, 7, 100, 250, 400, 5000])
@pytest.mark.parametrize("bracket", ["[", "{a = ", "[{a = "])
def test_brackets_without_end_are_told(bracket: str, depth: int) -> None:
    """However deep a value stands, the file is told of in words."""
    found = parse(f"x = {bracket * depth}\n", "season.toml")

    assert [problem.line for problem in found.problems] == [1]


@given(st.text("[]{}=,\"' ab1-:", max_size=40))
def test_whatever_stands_there_is_told_just_when_it_is_wrong(value: str) -> None:
    """A line that TOML takes has no problem, any other has one at least."""
    text = f"x = [{value}]"
    try:
        tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        sound = False
    else:
        sound = True

    assert sound is (not parse(text, "season.toml").problems)
