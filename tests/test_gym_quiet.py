"""Practices close before a game."""

import pytest

from curriculum.gym.slots import calendar_of
from tests.gym_season import written


def tables(slots: str, games: str) -> str:
    """Return slots on some weekdays at 17:30 and games at 10:00 on some dates."""
    slot_tables = (
        f'[[slot]]\nweekday = "{weekday}"\nstart = 17:30:00\nminutes = 75\nvenue = "north-gym"\n'
        for weekday in slots.split()
    )
    game_tables = (
        f'[[game]]\nid = "g-{n}"\ndate = 2027-{date}\nstart = 10:00:00\nopponent = "Mill Road"\n'
        for n, date in enumerate(games.split())
    )
    return "".join((*slot_tables, *game_tables))


def flagged(text: str) -> str:
    """Return the dates of practices in which nothing new may be introduced."""
    return " ".join(
        f"{p.date:%m-%d}" for p in calendar_of(written(text)).practices if p.before_game
    )


@pytest.mark.parametrize(
    ("slots", "games", "expected"),
    [
        # Monday 11, Wednesday 13, game on Saturday 16: the Wednesday is 3 days before.
        ("monday wednesday", "01-16", "01-13"),
        # Game on Sunday 17: 4 days, far enough.
        ("monday wednesday", "01-17", ""),
        # Only the last one before the game, though both are within 3 days.
        ("wednesday friday", "01-16", "01-15"),
        # A practice a week, a game a week: it is the only one between the games, so it is free.
        ("friday", "01-16 01-23 01-30", ""),
        # Two a week: the second before each game.
        ("tuesday thursday", "01-16 01-23 01-30", "01-14 01-21 01-28"),
        # Wednesdays, games on Saturdays 16 and 30: 20 and 27 January lie between, 27 is the last.
        ("wednesday", "01-16 01-30", "01-27"),
        # Games on Saturday and Sunday: nothing lies between them, Thursday counts for Saturday.
        ("tuesday thursday", "01-23 01-24", "01-21"),
        # One Thursday before each pair of games stays free, also on the second day.
        ("thursday", "01-23 01-24 01-30 01-31", "01-21"),
        # The first practice of the season is the only one so far.
        ("wednesday", "01-16", ""),
        ("wednesday friday", "", ""),
    ],
)
def test_last_practice_before_a_game(slots: str, games: str, expected: str) -> None:
    """The last practice before a game is quiet if near to it and not the only one in between."""
    assert flagged(tables(slots, games)) == expected


def test_the_rule_switched_off() -> None:
    """Without the rule no practice is quiet."""
    text = "[teaching]\nquiet_before_game = false\n" + tables("tuesday thursday", "01-16")

    assert flagged(text) == ""


@pytest.mark.parametrize(("start", "expected"), [("18:45", "01-15"), ("18:44", "01-13")])
def test_a_practice_on_the_day_of_the_game(start: str, expected: str) -> None:
    """Of two practices on Wednesday and Friday, the last that ends before the game is quiet.

    The Friday practice runs to 18:45, so it comes before a game at 18:45, not before one at 18:44.
    """
    text = "[teaching]\npractice_on_game_day = true\n" + tables("monday wednesday friday", "01-15")

    assert flagged(text.replace("start = 10:00", f"start = {start}")) == expected


def test_a_practice_that_ends_when_a_game_starts() -> None:
    """It belongs before that game, so Monday 18 is alone before the game of Tuesday 19."""
    text = "[teaching]\npractice_on_game_day = true\n" + tables("monday friday", "01-15 01-19")

    assert flagged(text.replace("start = 10:00", "start = 18:45", 1)) == "01-15"


def test_a_practice_that_is_not_held_does_not_count() -> None:
    """With the Friday called off, the Wednesday is the last practice before the game."""
    text = tables("monday wednesday friday", "01-16")

    assert flagged(text) == "01-15"
    assert flagged(text + "[[no_practice]]\ndate = 2027-01-15\n") == "01-13"
