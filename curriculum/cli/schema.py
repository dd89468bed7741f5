"""`curriculum schema`: the JSON Schema of a file format."""

import click

from curriculum.cli.common import show_json
from curriculum.files.library import LibraryFile
from curriculum.ledger import Ledger
from curriculum.models.base import Model
from curriculum.models.club import Club, ClubCurriculum, ClubSlots
from curriculum.models.plan import Plan
from curriculum.models.record import Entry, Players
from curriculum.models.season import Season

FORMATS: dict[str, type[Model]] = {
    "plan": Plan,
    "season": Season,
    "skills": LibraryFile,
    "published": Ledger,
    "players": Players,
    "record": Entry,
    "club": Club,
    "club-curriculum": ClubCurriculum,
    "club-slots": ClubSlots,
}


@click.command()
@click.argument("name", type=click.Choice(list(FORMATS)), default="plan", metavar="[FILE]")
def command(name: str) -> None:
    """Print the JSON Schema of a file.

    FILE is plan (the default), season, skills, published, players, record (what one submission to
    record.db holds), club, club-curriculum or club-slots.
    """
    schema = FORMATS[name].model_json_schema(by_alias=True, mode="validation")
    show_json({"$schema": "https://json-schema.org/draft/2020-12/schema", **schema})
