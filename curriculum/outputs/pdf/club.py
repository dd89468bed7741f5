"""A club's curriculum on the wall: skills by age groups, as PDF."""

import datetime as dt
from itertools import groupby
from pathlib import Path

from curriculum.club.curricula.matrix import Matrix
from curriculum.outputs.pdf.typeset import Paper, Printed, typeset
from curriculum.outputs.tables import Plain
from curriculum.practice.words import STAGE_LETTER


def club_pdf(
    club: str,
    matrix: Matrix,
    timestamp: dt.datetime,
    paper: Paper = "a4",
    fonts: Path | None = None,
) -> Printed:
    """Return the poster; see `typeset` for the last arguments."""
    strands: list[Plain] = []
    for strand, rows in groupby(matrix.rows, key=lambda row: row.strand):
        lines: list[Plain] = []
        for row in rows:
            cells: list[Plain] = [
                {"stage": STAGE_LETTER[cell.stage], "new": cell.new} if cell else None
                for cell in row.cells
            ]
            lines.append({"name": row.name, "cells": cells})
        strands.append({"strand": strand, "rows": lines})
    data: dict[str, Plain] = {
        "title": "What each age group learns",
        "club": club,
        "groups": [name for _, name in matrix.groups],
        "strands": strands,
    }
    return typeset("club.typ", data, paper, timestamp, fonts)
