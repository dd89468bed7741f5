"""What would be if a season changed, in the terminal."""

import datetime as dt
from collections.abc import Sequence

from rich.console import Group, RenderableType

from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.outputs.terminal.problems import difference_parts
from curriculum.outputs.terminal.render import FAINT, bullets, heading, say
from curriculum.practice.difference import in_words
from curriculum.whatif.outcome import Outcome


def what_if_view(
    texts: Sequence[str],
    outcome: Outcome,
    present: Plan,
    season: Season,
    library: Library,
    today: dt.date | None = None,
) -> RenderableType:
    """Return what changes against the plan that stands, what is lost and what is newly at risk.

    today: as in `difference_parts`.
    """
    risks = outcome.outlook.risks
    found = in_words(outcome.difference, present, outcome.plan, season, library, risks)
    parts: list[RenderableType] = [
        heading(f"What if: {'; '.join(texts)}"),
        say(f"Compared with revision {present.revision}, the plan that stands."),
        *difference_parts(found, today),
    ]
    if outcome.outlook.says:
        parts.append(say(f"  At risk: {outcome.outlook.says}.", FAINT))
    if outcome.notes:
        parts += [say(""), heading("Note"), bullets((_sentence(one) for one in outcome.notes), "!")]
    return Group(*parts, say(""), say("Nothing was written."))


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}."
