"""The season on the wall as PDF: skills by weeks, one landscape page, more only for many skills."""

import datetime as dt
from collections.abc import Sequence
from itertools import groupby
from pathlib import Path

from curriculum.gym.practices import Gym
from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.outputs.pdf.typeset import Paper, Printed, typeset
from curriculum.outputs.tables import Plain, as_data
from curriculum.practice.agenda import agenda
from curriculum.practice.chart import ChartRow, ChartWeek, chart
from curriculum.wording import MONTHS, counted

ROWS = 32
"""Skills on one page at most: more would make rows that nobody reads from two metres."""


def season_pdf(
    plan: Plan,
    season: Season,
    library: Library,
    gym: Gym,
    timestamp: dt.datetime,
    paper: Paper = "a4",
    fonts: Path | None = None,
) -> Printed:
    """Return the wall chart of a season; see `typeset` for the last arguments."""
    page = chart(plan, season, library)
    words = agenda(plan, season, library, gym)
    data: dict[str, Plain] = {
        "title": f"{page.season}: what we learn when",
        "team": page.team,
        "dates": words.dates,
        "counts": f"{counted(words.practices, 'practice')}, {counted(words.games, 'game')}",
        "revision": words.revision,
        "weeks": as_data(page.weeks),
        "months": as_data(_months(page.weeks)),
        "closed": as_data(_closed(page.weeks)),
        "touched": as_data(page.touched),
        "pages": as_data(_pages(page.rows)),
    }
    return typeset("season.typ", data, paper, timestamp, fonts)


def _months(weeks: Sequence[ChartWeek]) -> tuple[tuple[str, int], ...]:
    """Return the months with the number of weeks whose Monday lies in them."""
    months: list[tuple[str, int]] = []
    for week in weeks:
        name = MONTHS[week.monday.month - 1]
        if months and months[-1][0] == name:
            months[-1] = (name, months[-1][1] + 1)
        else:
            months.append((name, 1))
    return tuple(months)


def _closed(weeks: Sequence[ChartWeek]) -> tuple[tuple[int, int, str], ...]:
    """Return runs of weeks without practice: index of the first, how many, the reason."""
    runs: list[tuple[int, int, str]] = []
    for index, week in enumerate(weeks):
        if not week.closed:
            continue
        if runs and runs[-1][0] + runs[-1][1] == index and runs[-1][2] == week.closed:
            runs[-1] = (runs[-1][0], runs[-1][1] + 1, week.closed)
        else:
            runs.append((index, 1, week.closed))
    return tuple(runs)


def _pages(rows: Sequence[ChartRow]) -> tuple[tuple[ChartRow, ...], ...]:
    """Cut the rows into pages, between strands where it can be; an empty page for no rows."""
    pages: list[tuple[ChartRow, ...]] = [()]
    for _, strand in groupby(rows, key=lambda row: row.strand):
        left = tuple(strand)
        if pages[-1] and len(pages[-1]) + len(left) > ROWS:
            pages.append(())
        while len(left) > ROWS:
            pages[-1], left = left[:ROWS], left[ROWS:]
            pages.append(())
        pages[-1] += left
    return tuple(pages)
