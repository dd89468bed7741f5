"""Views as data."""

import json

import pytest

from curriculum.outputs.tables import as_data
from curriculum.practice.agenda import agenda
from curriculum.practice.chart import ChartGame, ChartWeek, chart
from tests.sample_plan import GYM, LIBRARY, PLAN, SEASON, START, sheet


def test_a_view_becomes_plain_data() -> None:
    """Dataclasses turn into dictionaries, tuples into lists, dates into text."""
    week = ChartWeek(1, START, 2, (ChartGame("Pinehill", home=False),), "")

    assert as_data((week, None)) == [
        {
            "number": 1,
            "monday": "2027-01-11",
            "practices": 2,
            "games": [{"opponent": "Pinehill", "home": False}],
            "closed": "",
        },
        None,
    ]


@pytest.mark.parametrize(
    "view",
    [agenda(PLAN, SEASON, LIBRARY, GYM), chart(PLAN, SEASON, LIBRARY), sheet("01-20")],
    ids=["season", "chart", "sheet"],
)
def test_every_page_can_be_written_as_json(view: object) -> None:
    """What is shown can be written and read again as it is."""
    data = as_data(view)

    assert json.loads(json.dumps(data)) == data


def test_what_is_no_view_is_refused() -> None:
    """An odd value is a mistake of the program, not something to guess at."""
    with pytest.raises(TypeError, match="float is no part of a view"):
        as_data(0.5)
