"""Dates, times and numbers as people write them, and as TOML wants them."""

import pytest

from curriculum.files.values import Correction, correction, dates_meant, time_meant, truth_meant


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("17:30", "17:30:00"),
        ("7:05", "07:05:00"),
        ("17:30:15", "17:30:15"),
        ("17.30", "17:30:00"),
        ("17h30", "17:30:00"),
        ("17:30 Uhr", "17:30:00"),
        ("17", "17:00:00"),
        ("5pm", "17:00:00"),
        ("5:30 p.m.", "17:30:00"),
        ("12 am", "00:00:00"),
        ("12:15 PM", "12:15:00"),
        ("13 pm", None),
        ("24:00", None),
        ("17:60", None),
        ("noon", None),
        ("", None),
    ],
)
def test_times(text: str, meant: str | None) -> None:
    """A time of day in any usual form, or nothing."""
    assert time_meant(text) == meant


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("2027-1-5", ("2027-01-05",)),
        ("2027/01/05", ("2027-01-05",)),
        ("5.1.2027", ("2027-01-05",)),
        ("05.01.27", ("2027-01-05",)),
        ("5. 1. 2027", ("2027-01-05",)),
        ("1/5/2027", ("2027-05-01", "2027-01-05")),
        ("5-1-2027", ("2027-01-05", "2027-05-01")),
        ("13/1/2027", ("2027-01-13",)),
        ("1/13/2027", ("2027-01-13",)),
        ("1/1/2027", ("2027-01-01",)),
        ("5 January 2027", ("2027-01-05",)),
        ("5. jan 2027", ("2027-01-05",)),
        ("January 5th, 2027", ("2027-01-05",)),
        ("29.2.2028", ("2028-02-29",)),
        ("29.2.2027", ()),
        ("0000-01-01", ()),
        ("5 ju 2027", ()),
        ("5 Brumaire 2027", ()),
        ("soon", ()),
    ],
)
def test_dates(text: str, meant: tuple[str, ...]) -> None:
    """A date in any usual form; two where day and month can be read either way; none else."""
    assert dates_meant(text) == meant


def test_truth() -> None:
    """Yes and no in the forms of other formats."""
    words = ("Yes", "off", "TRUE", "no", "maybe", "1")

    assert [truth_meant(word) for word in words] == ["true", "false", "true", "false", None, None]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("17:30", Correction("a time needs its seconds", ("17:30:00",))),
        (
            "2027-13-01",
            Correction("there is no such date", (), "write it year-month-day, such as 2027-01-05"),
        ),
        ("2027-04-31", Correction("there is no such date", (), "April 2027 has 30 days")),
        ("7,5", Correction("a number takes no comma, and is whole here", ("7", "8"))),
        ("-07", Correction("a number does not begin with 0", ("-7",))),
        ("75 min.", Correction("a number stands without its unit", ("75",))),
        ("ON", Correction("yes and no are written true and false", ("true",))),
        ("north-gym", None),
        ("75", None),
        ("", None),
    ],
)
def test_corrections(text: str, expected: Correction | None) -> None:
    """A value that TOML refuses is told with what to write; what is plain text is left alone."""
    assert correction(text) == expected
