"""`curriculum new` where somebody sits at the keyboard and answers."""

import io
from pathlib import Path

import pytest

from curriculum.files.season import read_season_file
from tests.command_line import Line


class Keyboard(io.StringIO):
    """What is typed, on what says that it is a terminal."""

    def isatty(self) -> bool:
        """Whether somebody can be asked."""
        return True


def test_a_slip_is_asked_again_and_costs_no_other_answer(
    line: Line, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A country or a zone that nobody knows is told and asked for once more."""
    typed = ["Terns", "9-10", "12", "2027-01-11", "10", "Ireland", "ie", "Dublin", "", "Hall", "4"]
    typed += ["tuesday", "tue 17:00 75", ""]
    monkeypatch.setattr("sys.stdin", Keyboard("\n".join([*typed, ""])))

    ended = line("new", tmp_path / "terns")

    assert ended.code == 0
    assert "'Ireland' is no country whose holidays are known" in ended.out + ended.err
    assert "'Dublin' is no time zone; write it like Europe/Dublin" in ended.out + ended.err
    season = read_season_file(tmp_path / "terns").value
    assert season is not None
    assert season.season.timezone == "Europe/Dublin"
    assert season.holidays is not None
    assert season.holidays.country == "IE"
    assert [slot.weekday for slot in season.slot] == ["tuesday"]


@pytest.mark.parametrize(
    ("option", "value", "told"),
    [
        ("--country", "Ireland", "is no country whose holidays are known"),
        ("--timezone", "Dublin", "is no time zone"),
    ],
)
def test_an_option_that_is_not_understood_writes_nothing(
    line: Line, tmp_path: Path, option: str, value: str, told: str
) -> None:
    """It is wrong usage, told with the form that is understood."""
    ended = line("new", tmp_path / "terns", "--team", "Terns", option, value)

    assert ended.code == 2
    assert f"Invalid value for '{option}': '{value}' {told}" in ended.err
    assert not (tmp_path / "terns").exists()
