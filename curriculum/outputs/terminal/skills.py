"""Skills in the terminal: one skill, one strand, and what needs what."""

import datetime as dt
from collections.abc import Sequence

from rich.console import Group, RenderableType
from rich.text import Text
from rich.tree import Tree

from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.outputs.terminal.render import FAINT, STRONG, bullets, facts, grid, heading, say
from curriculum.outputs.terminal.season import goal_table
from curriculum.practice.skillcard import StageLine, skill_card, strand_cards
from curriculum.practice.tree import Branch, StrandTree, trees
from curriculum.wording import counted, short_date


def skill_view(plan: Plan, season: Season, library: Library, skill_id: str) -> RenderableType:
    """Return one skill with its stages, dates, needs, cues and faults.

    Raises KeyError when the library has no skill of this id.
    """
    card = skill_card(plan, season, library, skill_id)
    parts: list[RenderableType] = [heading(card.name, card.strand)]
    if card.why:
        parts.append(say(card.why))
    for stage in card.stages:
        parts += [say(""), *_stage(stage)]
    lines = facts(
        ("Reviews", _dates(card.reviews)),
        ("Unlocks", "; ".join(card.unlocks)),
        ("In files", f'skill = "{skill_id}"'),
    )
    parts += [say(""), lines]
    for title, words in (("Coach it", card.cues), ("Watch for", card.faults)):
        parts += [say(""), heading(title), bullets(words)] if words else []
    parts += [say(""), heading("Goals"), goal_table(card.goals)] if card.goals else []
    return Group(*parts)


def _stage(stage: StageLine) -> list[RenderableType]:
    work = f"{counted(stage.blocks, 'block')} of {stage.minutes} min"
    age = f"usual from age {stage.age}" if stage.age else ""
    return [
        heading(stage.stage, stage.means),
        facts(
            ("  takes", ", ".join(words for words in (work, age) if words)),
            ("  needs", "; ".join(stage.needs)),
            (f"  {stage.state}", _dates(stage.dates) or " "),
            width=13,
        ),
    ]


def _dates(dates: Sequence[dt.date]) -> str:
    return ", ".join(short_date(day) for day in dates)


def strand_view(plan: Plan, season: Season, library: Library, strand: str) -> RenderableType:
    """Return a strand's skills with the dates on which each stage is reached.

    Raises KeyError when no skill belongs to the strand.
    """
    cards = strand_cards(plan, season, library, strand)
    table = grid(None, 12, 12, 12, 7)
    words = ("skill", "unopposed", "guided", "live", "reviews")
    table.add_row(*(say(word, FAINT) for word in words))
    for card in cards:
        states = {stage.stage: _state(stage) for stage in card.stages}
        table.add_row(
            say(card.name),
            *(say(states.get(stage, "-")) for stage in ("unopposed", "guided", "live")),
            say(str(len(card.reviews) or "")),
        )
    return Group(heading(strand, counted(len(cards), "skill")), table)


def _state(stage: StageLine) -> str:
    if stage.state == "taught":
        return short_date(stage.dates[-1])
    if stage.state == "begun":
        return f"{len(stage.dates)} of {stage.blocks}"
    return {"known": "known"}.get(stage.state, "no")


def graph_view(library: Library, plan: Plan | None = None) -> RenderableType:
    """Return what every skill needs, a tree for each strand; with a plan, the dates of teaching."""
    parts: list[RenderableType] = []
    for strand in trees(library, plan):
        parts += [_tree(strand), say("")]
    parts.append(
        say("Under each skill stands what it needs. U unopposed, G guided, L live,", FAINT)
    )
    parts.append(
        say("each with its number of blocks. A season file calls a skill by its id:", FAINT)
    )
    parts.append(say("`curriculum show --skill NAME` tells it.", FAINT))
    return Group(*parts)


def _tree(strand: StrandTree) -> Tree:
    tree = Tree(heading(strand.strand, counted(strand.skills, "skill")), guide_style=FAINT)
    for top in strand.tops:
        _grow(tree, top)
    return tree


def _grow(tree: Tree, branch: Branch) -> None:
    grown = tree.add(_label(branch))
    for need in branch.needs:
        _grow(grown, need)


def _label(branch: Branch) -> Text:
    line = say(branch.name, "" if branch.see else STRONG)
    if branch.need:
        line.append_text(say(f" ({branch.need})"))
    if branch.see:
        line.append_text(say(f"  see {branch.see}", FAINT))
        return line
    line.append_text(say(f"  {branch.stages}"))
    if branch.dates:
        first, last = (short_date(day) for day in branch.dates)
        line.append_text(say(f"  {first}" if first == last else f"  {first} to {last}", FAINT))
    return line
