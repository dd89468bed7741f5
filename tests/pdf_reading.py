"""Reads PDFs with two readers that share no code with the typesetter: pypdf and poppler."""

import datetime as dt
import re
import shutil
import subprocess
from dataclasses import dataclass
from io import BytesIO
from itertools import combinations

import pytest
from pypdf import PdfReader

from curriculum.outputs.pdf.typeset import Printed

MADE = dt.datetime(2027, 1, 5, 9, 0, tzinfo=dt.UTC)

PAGE = re.compile(r'<page width="([\d.]+)" height="([\d.]+)">(.*?)</page>', re.DOTALL)
BOX = re.compile(
    r'<word xMin="(-?[\d.]+)" yMin="(-?[\d.]+)" xMax="(-?[\d.]+)" yMax="(-?[\d.]+)">(.*?)</word>'
)
MARGIN = 14.0
"""Points; printers leave about five millimetres of a page white."""


@dataclass(frozen=True)
class Word:
    """One word on a page, by its number and its box in points."""

    page: int
    left: float
    top: float
    right: float
    bottom: float
    text: str


def pages(printed: Printed) -> list[str]:
    """Return the text of each page by pypdf, with all white space as single blanks."""
    reader = PdfReader(BytesIO(printed.pdf))
    return [" ".join(page.extract_text().split()) for page in reader.pages]


def squeezed(text: str) -> str:
    """Return a text without white space: where lines break does not count."""
    return re.sub(r"\s", "", text)


def _boxes(printed: Printed) -> list[tuple[float, float, list[Word]]]:
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is missing (Debian package poppler-utils)")
    done = subprocess.run(
        ["pdftotext", "-bbox", "-", "-"], input=printed.pdf, capture_output=True, check=True
    )
    found = []
    for number, (width, height, inside) in enumerate(PAGE.findall(done.stdout.decode()), start=1):
        words = [
            Word(number, float(left), float(top), float(right), float(bottom), text)
            for left, top, right, bottom, text in BOX.findall(inside)
        ]
        found.append((float(width), float(height), words))
    return found


def words_of(printed: Printed) -> list[Word]:
    """Return the words of all pages with their places."""
    return [word for _, _, words in _boxes(printed) for word in words]


def outside(printed: Printed) -> list[Word]:
    """Return the words that leave the printable part of their page."""
    return [
        word
        for width, height, words in _boxes(printed)
        for word in words
        if word.left < MARGIN
        or word.top < MARGIN
        or word.right > width - MARGIN
        or word.bottom > height - MARGIN
    ]


def overlapping(printed: Printed) -> list[tuple[str, str]]:
    """Return the pairs of words that cover each other by more than a line's usual touch.

    Numbers of up to two signs are left out: they stand in diagrams, on players and arrows.
    """
    found = []
    for _, _, words in _boxes(printed):
        told = [word for word in words if len(word.text) > 2]
        for one, other in combinations(told, 2):
            across = min(one.right, other.right) - max(one.left, other.left)
            down = min(one.bottom, other.bottom) - max(one.top, other.top)
            lower = min(one.bottom - one.top, other.bottom - other.top)
            if across > 1.0 and down > 0.5 * lower:
                found.append((one.text, other.text))
    return found
