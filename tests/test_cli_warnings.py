"""What a command says of warnings about calendars that were taken in."""

from pathlib import Path

import pytest

from tests.command_line import QUICK, Line

LEAGUE = """\
Date;Time;Home;Away
13/03/2027;10:00;Kestrel Quay Under-12;Fennel Hill Larks
soon;10:00;Kestrel Quay Under-12;Cedar Wharf Herons
"""
NO_END = "no end is stated"
SKIPPED = "skipped 1 of 2 entries"


@pytest.fixture
def league(line: Line, tmp_path: Path) -> Path:
    """Return a planned demo season that took in a league's table with two things to say of it."""
    folder = tmp_path / "demo"
    line("new", folder, "--from", "kestrel-quay-u12")
    table = tmp_path / "league.csv"
    table.write_text(LEAGUE, encoding="utf-8")
    line("calendar", folder, "--import", table, "--means", "games", "--yes")
    line("plan", folder, *QUICK)
    return folder


@pytest.mark.parametrize(
    "words",
    [
        ("show", "{}", "--week", "2"),
        ("sheet", "{}", "2027-01-13"),
        ("why", "{}", "backdoor-cut"),
        ("calendar", "{}"),
        ("record", "{}", "2027-01-13", "--held", "--now", "2027-01-14T09:00"),
        ("plan", "{}", "--what-if", "no 2027-03-26", *QUICK),
    ],
    ids=lambda words: " ".join((words[0], *words[2:3])),
)
def test_a_command_counts_them_in_one_line(
    line: Line, league: Path, words: tuple[str, ...]
) -> None:
    """They stay true for weeks, so a command that is about something else only counts them."""
    ended = line(*(word.format(league) for word in words))

    assert ended.code == 0
    assert ended.err == f"2 warnings about imported calendars: `curriculum check {league}`\n"


def test_plan_and_check_print_them_in_full(line: Line, league: Path) -> None:
    """Who plans or checks decides with them before the eyes."""
    planned = line("plan", league, *QUICK)
    checked = line("check", league)

    assert [row for row in planned.err.splitlines() if NO_END in row or SKIPPED in row] == (
        planned.err.splitlines()
    )
    assert len(planned.err.splitlines()) == 2
    assert NO_END in checked.out
    assert SKIPPED in checked.out


def test_taking_in_and_looking_again_tell_everything(line: Line, league: Path) -> None:
    """`calendar --import` says of every entry what became of it."""
    looked = line("calendar", league, "--import")

    assert NO_END in looked.out
    assert "'soon' is no date" in looked.out


def test_other_warnings_are_still_printed_by_every_command(line: Line, league: Path) -> None:
    """Only what is said about imported calendars is counted; the season's own stays in sight."""
    file = league / "season.toml"
    extra = "\n[[move]]\nof = 2027-01-20\ndate = 2027-03-17\nstart = 17:30:00\n"
    file.write_text(file.read_text(encoding="utf-8") + extra, encoding="utf-8")

    rows = line("plan", league, "--what-if", "no 2027-03-26", *QUICK).err.splitlines()

    assert [row for row in rows if "Saint Patrick's Day" in row and "season.toml" in row]
    assert rows[-1].startswith("2 warnings about imported calendars")
