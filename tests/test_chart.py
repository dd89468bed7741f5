"""A season as skills by weeks."""

import datetime as dt

from curriculum.models.plan import PlannedClosure
from curriculum.practice.chart import ChartRow, chart
from tests.sample_plan import LIBRARY, PLAN, SEASON


def test_a_row_tells_what_each_week_brings() -> None:
    """The weightiest thing of a week counts, and the weeks of goals stand beside the marks.

    Give and go: new and built on in week 3, built on in 4, its last stage reached in 5, reviewed in
    7, 8, 10 and 11; its goal is due in week 6.
    """
    row = next(row for row in chart(PLAN, SEASON, LIBRARY).rows if row.skill == "give-and-go")

    assert row == ChartRow(
        skill="give-and-go",
        name="Give and go",
        strand="Moving without the ball",
        marks=("", "", "new", "build", "taught", "", "review", "review", "", "review", "review"),
        times=9,
        due=(6,),
    )


def test_a_stage_begun_and_not_reached_is_not_taught() -> None:
    """Screen away is left at block one of two: its last lesson promises nothing."""
    row = next(row for row in chart(PLAN, SEASON, LIBRARY).rows if row.skill == "screen-away")

    assert "taught" not in row.marks


def test_a_closed_week_tells_what_shuts_most_of_it() -> None:
    """A bank holiday inside a week of holidays is not its reason; one gym's closure counts less."""
    monday = dt.date(2027, 2, 15)
    bank = PlannedClosure.model_validate(
        {"from": monday, "until": monday, "reason": "bank holiday"}
    )
    plan = PLAN.model_copy(update={"closures": (bank, *PLAN.closures)})
    closed = [week.closed for week in chart(plan, SEASON, LIBRARY).weeks]

    assert closed == [""] * 5 + ["half-term, floor being sanded"] + [""] * 5


def test_touched_counts_skills_a_week() -> None:
    """A week's count is the number of skills that have a mark in it."""
    assert chart(PLAN, SEASON, LIBRARY).touched == (2, 4, 3, 5, 4, 0, 5, 5, 3, 2, 5)
