"""What may stand where comes from the models, and every kind of value has its words."""

from collections.abc import Iterator

import pytest

from curriculum.files import shape
from curriculum.files.library import LibraryFile
from curriculum.models.base import Model
from curriculum.models.plan import Plan
from curriculum.models.season import Season


def patterns(node: object) -> Iterator[str]:
    """Return every pattern within a schema."""
    if isinstance(node, dict):
        if isinstance(node.get("pattern"), str):
            yield node["pattern"]
        for each in node.values():
            yield from patterns(each)
    elif isinstance(node, list):
        for each in node:
            yield from patterns(each)


@pytest.mark.parametrize("model", [Season, LibraryFile, Plan])
def test_every_pattern_has_words(model: type[Model]) -> None:
    """No message has to show a regular expression."""
    assert set(patterns(shape.root(model))) <= set(shape.PATTERNS)


@pytest.mark.parametrize(
    ("path", "words"),
    [
        (("team", "players"), "a whole number from 1 to 60"),
        (("team", "ages"), "a list of 2 whole numbers"),
        (("teaching", "review_after"), "a list of whole numbers"),
        (("teaching", "quiet_before_game"), "true or false"),
        (("slot", 0, "court"), '"full" or "half"'),
        (("slot", 0, "from"), "a date such as 2027-01-11"),
        (("slot", 0, "start"), "a time such as 17:30:00"),
        (("goal", 0, "by"), 'an id such as "north-gym-2" or a date such as 2027-01-11'),
        (("move", 0, "of"), "a date, or a table with date and venue"),
        (("season", "library"), "a list of texts"),
        (("team",), "a table"),
        (("slot",), "a list of tables"),
    ],
)
def test_kinds_of_value_in_words(path: tuple[str | int, ...], words: str) -> None:
    """The words read well behind "must be"."""
    node = shape.at(Season, path)

    assert node is not None
    assert shape.in_words(node) == words


def test_paths_that_lead_nowhere() -> None:
    """Where nothing may stand there is nothing, at whatever depth."""
    paths: list[tuple[str | int, ...]] = [("x",), ("team", "x"), ("team", "ages", "x"), ("team", 0)]

    assert [shape.at(Season, path) for path in paths] == [None, None, None, None]


def test_tables_that_know_a_key() -> None:
    """A misplaced key finds its table; the file's top is ""."""
    assert shape.tables_with(Season, "country") == ("[holidays]",)
    assert shape.tables_with(Season, "opponent") == ("[[game]]",)
    assert shape.tables_with(LibraryFile, "strand") == ("",)


def test_repeating_tables() -> None:
    """Tables in double brackets are those of which the model holds several."""
    assert {"slot", "goal", "venue"} <= shape.repeating(Season)
    assert shape.repeating(Season) & {"season", "team", "teaching"} == set()
