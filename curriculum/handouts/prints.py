"""The prints of a season folder: booklet, wall chart, map of skills, dates, and the one page."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from curriculum.handouts.sheets import all_sheets, still_held
from curriculum.models.plan import Plan
from curriculum.outputs.html.season import season_page
from curriculum.outputs.pdf.families import families_pdf
from curriculum.outputs.pdf.season import season_pdf
from curriculum.outputs.pdf.sheets import booklet_pdf
from curriculum.outputs.pdf.skills import skills_pdf
from curriculum.outputs.pdf.typeset import Paper, Printed
from curriculum.outputs.picture.drills import DEFAULT_COURT
from curriculum.workspace import Workspace


@dataclass(frozen=True)
class Print:
    """A print that can be made: the name of its file, and what it is."""

    name: str
    what: str
    make: Callable[[], Printed]


def prints_of(
    space: Workspace,
    plan: Plan,
    paper: Paper,
    fonts: Path | None = None,
    court: str = DEFAULT_COURT,
) -> tuple[Print, ...]:
    """Return the prints of a plan; the booklet is left out where no practice is held.

    court: the one that diagrams show. The bytes depend on the plan alone: its own time stands in
    the files.
    """
    season, library, made = space.season, space.library, plan.made

    def booklet() -> Printed:
        return booklet_pdf(all_sheets(space, plan), library.drills, made, paper, fonts, court)

    def chart() -> Printed:
        return season_pdf(plan, season, library, space.gym, made, paper, fonts)

    def skills() -> Printed:
        return skills_pdf(plan, season, library, made, paper, fonts)

    def families() -> Printed:
        return families_pdf(plan, season, made, paper, fonts)

    every = (
        Print("sheets.pdf", "booklet of all sheets", booklet),
        Print("season.pdf", "wall chart", chart),
        Print("skills.pdf", "map of skills", skills),
        Print("families.pdf", "dates for families", families),
    )
    return every if still_held(space, plan) else every[1:]


def prints(
    space: Workspace, plan: Plan, paper: Paper, fonts: Path | None = None
) -> Iterator[tuple[str, Printed]]:
    """Yield each print of `prints_of` with its file name, made when it is asked for."""
    for each in prints_of(space, plan, paper, fonts):
        yield each.name, each.make()


def season_html(space: Workspace, plan: Plan, court: str = DEFAULT_COURT) -> bytes:
    """Return the whole season as one page that works without a network; no name stands in it."""
    return season_page(
        plan, space.season, space.library, space.gym, all_sheets(space, plan), court
    ).encode()
