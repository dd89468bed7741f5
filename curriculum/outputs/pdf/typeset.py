"""Turns a template and data into a PDF: our own fonts, tagged, the same bytes each time."""

import datetime as dt
import json
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from curriculum.outputs.tables import Plain
from curriculum.problems import Problem

Paper = Literal["a4", "letter"]

HERE = Path(__file__).parent
FONTS = HERE / "fonts"

PAPERS: dict[Paper, str] = {"a4": "a4", "letter": "us-letter"}
UNDISPLAYED = re.compile(r'the text `"(.+?)"` could not be displayed')


@dataclass(frozen=True)
class Printed:
    """A PDF, and what could not be printed as it should be."""

    pdf: bytes
    problems: tuple[Problem, ...] = ()


def typeset(
    template: str, data: Plain, paper: Paper, timestamp: dt.datetime, fonts: Path | None = None
) -> Printed:
    """Return the PDF of a template of this folder.

    fonts: a folder with more fonts, for letters that ours lack. timestamp: with a zone; it is
    written into the file. Letters that neither has are taken from the system's fonts, and where
    these lack them too, the PDF is not tagged and shows boxes in their place: both come with a
    warning.
    Raises typst.TypstError when the template itself is at fault.
    """
    import typst

    wanted = [FONTS, *([fonts] if fonts else [])]
    job = {"data": json.dumps(data, ensure_ascii=False), "paper": PAPERS[paper]}
    lacking: tuple[str, ...] = ()
    signs: tuple[str, ...] = ()
    for own_fonts, tagged in ((True, True), (False, True), (False, False)):
        try:
            made = typst.compile(
                HERE / template,
                root=HERE,
                font_paths=typst.Fonts(
                    include_system_fonts=not own_fonts,
                    include_embedded_fonts=False,
                    font_paths=wanted,
                ),
                sys_inputs=job,
                pdf_standards=["ua-1"] if tagged else [],
                timestamp=timestamp,
            )
        except typst.TypstError as error:
            signs = tuple(dict.fromkeys(UNDISPLAYED.findall(error.diagnostic)))
            if not signs:
                raise
            lacking = lacking or signs
            continue
        return Printed(bytes(made), _warnings(lacking, () if tagged else signs))
    raise AssertionError("an untagged PDF shows boxes and never fails for want of a letter")


def _warnings(lacking: Sequence[str], boxes: Sequence[str]) -> tuple[Problem, ...]:
    if not lacking:
        return ()
    says = "these letters came from a font of this computer"
    way_out = "name a folder with a font that has them, so that the print looks the same anywhere"
    if boxes:
        says = "no font has these letters; the PDF shows boxes in their place and is not tagged"
        way_out = "name a folder with a font that has them"
    found = " ".join(boxes or lacking)
    return (Problem("", 0, "fonts", says, found, way_out, "warning"),)
