"""The map of skills as PDF: one page on its side."""

import datetime as dt
from pathlib import Path

from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.outputs.pdf.typeset import Paper, Printed, typeset
from curriculum.outputs.picture.graph import FILLS, map_svg
from curriculum.outputs.tables import Plain, as_data
from curriculum.practice.skillmap import skill_map

TITLE = "What leads to what"
HOW = (
    "An arrow leads from a skill to one that needs it; a number is the week of the first lesson. "
    "Where a skill does not come, go back along its arrows."
)


def skills_pdf(
    plan: Plan,
    season: Season,
    library: Library,
    timestamp: dt.datetime,
    paper: Paper = "a4",
    fonts: Path | None = None,
) -> Printed:
    """Return the map of a plan's skills; see `typeset` for the last arguments."""
    skills = skill_map(plan, season, library)
    names = {node.skill: node.name for node in skills.nodes}
    arrows = "; ".join(f"{names[a]} leads to {names[b]}" for a, b in skills.needs)
    data: dict[str, Plain] = {
        "title": TITLE,
        "team": skills.team,
        "season": skills.season,
        "summary": skills.summary,
        "revision": plan.revision,
        "svg": map_svg(skills),
        "alt": f"{skills.summary}. {arrows}.",
        "how": HOW,
        "legend": as_data(
            tuple(
                {
                    "words": words,
                    "fill": FILLS[shade][0],
                    "dashed": shade == "left out",
                    "thin": shade == "known",
                }
                for shade, words in skills.legend
            )
        ),
    }
    return typeset("skills.typ", data, paper, timestamp, fonts)
