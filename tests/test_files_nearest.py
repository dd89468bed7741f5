"""A suggestion is the name that was most likely meant, or none."""

import pytest

from curriculum.files.nearest import nearest, slug, suggest

NAMES = ("weekday", "start", "minutes", "venue", "warm_up", "break_minutes")


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("minuts", "minutes"),
        ("Minutes", "minutes"),
        ("warm-up", "warm_up"),
        ("warm up", "warm_up"),
        ("week", "weekday"),
        ("we", None),
        ("colour", None),
        ("", None),
        ("vénue", "venue"),
    ],
)
def test_the_nearest_name(word: str, meant: str | None) -> None:
    """Slips, capitals, blanks and beginnings find their name; what is like none finds none."""
    assert nearest(word, NAMES) == meant


def test_order_of_names_makes_no_difference() -> None:
    """Of two names equally near the same is taken, in whatever order they come."""
    assert nearest("cup-3", ("cup-2", "cup-1")) == nearest("cup-3", ("cup-1", "cup-2")) == "cup-2"


def test_few_names_are_all_told() -> None:
    """Without a near name a short list is given whole, a long one is not."""
    many = tuple(f"name-{number}" for number in range(9))

    assert suggest("x", ("one", "two"), "look") == 'there is "one" and "two"'
    assert suggest("x", (), "look") == "look"
    assert suggest("x", many, "look") == "look"
    assert suggest("on", ("one", "two"), "look") == 'did you mean "one"?'


def test_a_text_as_an_id() -> None:
    """Accents fall off, everything else becomes hyphens."""
    assert [slug(text) for text in ("Große Halle 2", "  Été!", "Łódź", "…")] == [
        "grosse-halle-2",
        "ete",
        "lodz",
        "",
    ]
