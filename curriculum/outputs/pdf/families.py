"""The calendar for families as PDF: dates, places and games on one page, and nothing else."""

import datetime as dt
from pathlib import Path

from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.outputs.pdf.typeset import Paper, Printed, typeset
from curriculum.outputs.tables import as_data
from curriculum.practice.family import family_dates


def families_pdf(
    plan: Plan,
    season: Season,
    timestamp: dt.datetime,
    paper: Paper = "a4",
    fonts: Path | None = None,
) -> Printed:
    """Return the calendar of a plan for families; see `typeset` for the last arguments."""
    data = as_data(family_dates(plan, season))
    if not isinstance(data, dict):
        raise TypeError("a view is no mapping")
    data |= {"title": f"{season.team.name}: dates"}
    return typeset("families.typ", data, paper, timestamp, fonts)
