"""A whole season as one page for phones: sheets, chart, map of skills and a timer, offline."""

import datetime as dt
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from markupsafe import Markup

from curriculum.gym.practices import Gym
from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.outputs.html.pictures import inlined
from curriculum.outputs.picture.drills import DEFAULT_COURT, drawn
from curriculum.outputs.picture.graph import FILLS, map_svg
from curriculum.practice.agenda import agenda
from curriculum.practice.chart import chart
from curriculum.practice.family import family_dates
from curriculum.practice.sheet import Sheet
from curriculum.practice.skillmap import SkillMap, skill_map
from curriculum.practice.words import printable
from curriculum.wording import MONTHS, short_date

if TYPE_CHECKING:
    from jinja2 import Environment

TEMPLATES = Path(__file__).parent / "templates"

PAPER = "var(--paper)"
"""The page's own colour, so that diagrams follow a dark screen."""

WIDE_LETTER = 0.56
"""Width of a letter in its size where nobody knows the font of the phone."""

MARKS = {"new": "N", "build": "○", "taught": "●", "review": "◊"}
MARK_WORDS = {
    "new": "new",
    "build": "build",
    "taught": "taught to the last stage asked",
    "review": "review",
}


def season_page(
    plan: Plan,
    season: Season,
    library: Library,
    gym: Gym,
    sheets: Sequence[Sheet],
    court: str = DEFAULT_COURT,
) -> str:
    """Return the page: one file, no request to anywhere, no player's name.

    sheets: of the plan, without names. court: the one that diagrams show.
    """
    used = {row.drill.id for sheet in sheets for row in sheet.rows if row.drill}
    skills = skill_map(plan, season, library)
    words = agenda(plan, season, library, gym)
    return (
        _environment()
        .get_template("season.html")
        .render(
            words=words,
            sheets=sheets,
            pictures=inlined(drawn(library.drills, used, court, PAPER)),
            chart=chart(plan, season, library),
            marks=MARKS,
            mark_words=MARK_WORDS,
            skills=skills,
            map=Markup(map_svg(skills, WIDE_LETTER)),  # noqa: S704
            fills=FILLS,
            needs=_needs(skills),
            family=family_dates(plan, season),
            style=Markup(_text("style.css")),  # noqa: S704
            script=Markup(_text("page.js")),  # noqa: S704
        )
    )


def _needs(skills: SkillMap) -> dict[str, tuple[str, ...]]:
    """Return the names of what each skill needs directly."""
    names = {node.skill: node.name for node in skills.nodes}
    found: dict[str, tuple[str, ...]] = {}
    for needed, needing in skills.needs:
        found[needing] = (*found.get(needing, ()), names[needed])
    return found


def _text(name: str) -> str:
    return (TEMPLATES / name).read_text(encoding="utf-8")


@cache
def _environment() -> "Environment":
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    made = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=_shown,
    )
    made.filters |= {"short": short_date, "month": _month}
    return made


def _month(day: dt.date) -> str:
    return MONTHS[day.month - 1][:3]


def _shown(value: object) -> object:
    """Return what is put into the page, texts without control characters."""
    if isinstance(value, Markup) or not isinstance(value, str):
        return value
    return printable(value)
