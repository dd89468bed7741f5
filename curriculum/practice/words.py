"""Stages and kinds of blocks in the words that every output uses; knows no layout."""

import unicodedata
from typing import Literal

from curriculum.graph import Node
from curriculum.models.plan import Kind
from curriculum.models.skills import Library, Stage

KindWord = Literal["NEW", "BUILD", "REVIEW"]

STAGE_MEANS: dict[Stage, str] = {
    "unopposed": "no defender",
    "guided": "the defender is limited by a rule",
    "live": "free defence under a rule",
}
STAGE_LETTER: dict[Stage, str] = {"unopposed": "U", "guided": "G", "live": "L"}
KIND_WORD: dict[Kind, KindWord] = {"introduce": "NEW", "build": "BUILD", "review": "REVIEW"}


def skill_name(library: Library, skill_id: str) -> str:
    """Return a skill's name, or its id where an older plan names a skill that is gone."""
    return next((skill.name for skill in library.skills if skill.id == skill_id), skill_id)


def stage_name(library: Library, node: Node) -> str:
    """Return a stage in words: its skill's name, and how hard it is defended."""
    skill_id, stage = node
    return f"{skill_name(library, skill_id)}, {stage}"


def printable(text: str) -> str:
    """Return the text without control characters, which neither a terminal nor paper can show."""
    return "".join(
        " " if unicodedata.category(sign) == "Cc" else sign
        for sign in unicodedata.normalize("NFC", text)
    )
