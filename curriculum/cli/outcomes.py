"""How blocks went, as coaches write it and as they are asked."""

from collections.abc import Iterator

import click

from curriculum.graph import Node, split_need
from curriculum.models.record import BlockRecord, Held, Went
from curriculum.models.skills import Library
from curriculum.practice.words import KIND_WORD, skill_name
from curriculum.recording import Blank, Outcome, Said
from curriculum.wording import listed

WORDS: dict[str, Outcome] = {
    "held": Outcome("held"),
    "solid": Outcome("held", "solid"),
    "shaky": Outcome("held", "shaky"),
    "not yet": Outcome("held", "not yet"),
    "not held": Outcome("not held"),
    "partly": Outcome("partly"),
    "partly solid": Outcome("partly", "solid"),
    "partly shaky": Outcome("partly", "shaky"),
    "partly not yet": Outcome("partly", "not yet"),
}
"""What can be said of a block."""


def outcome_words(held: Held, went: Went | None) -> str:
    """Return an outcome as it is written."""
    return next(words for words, each in WORDS.items() if each == Outcome(held, went))


class OutcomeType(click.ParamType[Outcome, str]):
    """How a block went: solid, shaky, not yet, ... ; a beginning that fits only one is enough."""

    name = "how"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> Outcome:
        """Return the outcome, or fail with what can be said."""
        if isinstance(value, Outcome):
            return value
        text = " ".join(str(value).lower().replace(",", " ").replace("-", " ").split())
        found = [text] if text in WORDS else [each for each in WORDS if each.startswith(text)]
        if len(found) != 1 or not text:
            self.fail(f"{value!r} is not one of {listed(list(WORDS))}", param, ctx)
        return WORDS[found[0]]


class BlockType(click.ParamType[tuple[str, Outcome], str]):
    """A block and how it went: `2=shaky`, `give-and-go@live=partly solid`."""

    name = "block=how"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> tuple[str, Outcome]:
        """Return the block as named, and its outcome, or fail with the form that is understood."""
        if isinstance(value, tuple):
            return value
        name, equals, how = str(value).partition("=")
        if not equals or not name.strip():
            self.fail(f"{value!r} names no block; write it like 2=shaky", param, ctx)
        return name.strip().lower(), OutcomeType().convert(how, param, ctx)


def node_named(name: str, blank: Blank, library: Library) -> Node:
    """Return the stage that a block's number or its skill means.

    Raises click.BadParameter where that is none, or more than one.
    """
    if name.isdigit():
        if not 1 <= int(name) <= len(blank.blocks):
            says = f"{name} is none of the {len(blank.blocks)} planned blocks"
            raise click.BadParameter(says, param_hint="--block")
        return blank.blocks[int(name) - 1].node
    skill, stage = split_need(name)
    if stage is not None:
        return skill, stage
    own = [block.node for block in blank.blocks if block.skill == skill]
    has = [each.stages for each in library.skills if each.id == name]
    stages = [(name, each) for each in has[0]] if has else []
    found = own or stages
    if len(found) != 1:
        says = f"{name!r} names no stage; write it like give-and-go@live"
        raise click.BadParameter(says, param_hint="--block")
    return found[0]


def asked(blank: Blank, library: Library, players: tuple[str, ...], by: str | None) -> Said:
    """Ask on the terminal what happened at a practice; what stands already is offered."""
    before = blank.standing.entry if blank.standing else None
    choice = click.Choice(["held", "lost", "shortened"])
    status = click.prompt(
        "What became of it?", type=choice, default=before.status if before else "held"
    )
    if status == "lost":
        reason = click.prompt("Why was it lost?", default=before.reason if before else None)
        return Said("lost", reason=reason, note=_note(before.note if before else ""), by=by)
    minutes = None
    if status == "shortened":
        most = blank.minutes - 1
        question = f"How many of the {blank.minutes} minutes were held?"
        minutes = click.prompt(question, type=click.IntRange(1, most))
    if blank.blocks:
        click.echo(f"How did each block go? {listed(list(WORDS))}.")
    outcomes = dict(_outcomes(blank, library))
    absent: tuple[str, ...] = ()
    if players:
        click.echo(f"Players: {', '.join(players)}.")
        names = click.prompt(
            "Who was absent? Names with commas, - for nobody",
            default=", ".join(before.absent) if before and before.absent else "-",
        )
        absent = tuple(name.strip() for name in names.split(",") if name.strip(" -"))
    return Said(
        "shortened" if minutes else "held",
        minutes_held=minutes,
        outcomes=outcomes,
        absent=absent,
        note=_note(before.note if before else ""),
        by=by,
    )


def _outcomes(blank: Blank, library: Library) -> Iterator[tuple[Node, Outcome]]:
    for number, block in enumerate(blank.blocks, start=1):
        yield (
            block.node,
            click.prompt(
                f"{number} {_title(block, library)}",
                type=OutcomeType(),
                default=outcome_words(block.held, block.went),
            ),
        )


def _title(block: BlockRecord, library: Library) -> str:
    name = skill_name(library, block.skill)
    return f"{KIND_WORD[block.kind]} {name}, {block.stage}, {block.minutes} min"


def _note(before: str) -> str:
    words: str = click.prompt("A note? - for none", default=before or "-")
    return "" if words.strip() == "-" else words
