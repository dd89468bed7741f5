"""`curriculum print` and `sheet`: which files come, on which paper, and whose names stand where."""

import json
import os
import pty
import re
import subprocess
import sys
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.command_line import QUICK, Line

FILES = ["families.pdf", "season.pdf", "sheets.pdf", "skills.pdf"]


@pytest.fixture
def planned(line: Line, tmp_path: Path) -> Path:
    """Return a planned copy of the under-12 demo."""
    folder = tmp_path / "demo"
    assert line("new", folder, "--from", "kestrel-quay-u12").code == 0
    assert line("plan", folder, *QUICK).code == 0
    return folder


def texts(path: Path) -> list[str]:
    """Return the text of each page of a PDF file."""
    reader = PdfReader(BytesIO(path.read_bytes()))
    return [" ".join(page.extract_text().split()) for page in reader.pages]


def test_print_makes_every_file(line: Line, planned: Path) -> None:
    """Booklet, wall chart, map of skills and dates for families, each told by its name."""
    ended = line("print", planned, "--json")

    assert ended.code == 0
    assert ended.err == ""
    assert json.loads(ended.out) == {
        "written": [
            str(planned / "print" / name)
            for name in ("sheets.pdf", "season.pdf", "skills.pdf", "families.pdf")
        ]
    }
    assert sorted(path.name for path in (planned / "print").iterdir()) == FILES


def test_letter_is_another_paper(line: Line, planned: Path) -> None:
    """US Letter is 612 by 792 points, upright or on its side."""
    line("print", planned, "--paper", "letter")
    sizes = {
        name: tuple(
            round(float(side))
            for side in PdfReader(planned / "print" / name).pages[0].mediabox.upper_right
        )
        for name in FILES
    }

    assert sizes == {
        "families.pdf": (612, 792),
        "season.pdf": (792, 612),
        "sheets.pdf": (612, 792),
        "skills.pdf": (792, 612),
    }


def test_html_writes_one_page(line: Line, planned: Path) -> None:
    """With --html one file comes in place of the PDFs."""
    ended = line("print", planned, "--html")

    assert ended.out == f"Written: {planned / 'print' / 'season.html'}\n"
    assert [path.name for path in (planned / "print").iterdir()] == ["season.html"]
    assert (planned / "print" / "season.html").read_bytes().startswith(b"<!doctype html>")


def test_a_terminal_shows_a_bar(planned: Path) -> None:
    """On a terminal the error stream names each print while it is made; a pipe sees nothing."""
    ours, theirs = pty.openpty()
    with subprocess.Popen(
        [sys.executable, "-m", "curriculum", "print", str(planned)],
        stdout=subprocess.PIPE,
        stderr=theirs,
        env={**os.environ, "TERM": "xterm", "COLUMNS": "100"},
    ) as running:
        os.close(theirs)
        shown = b""
        while True:
            try:
                piece = os.read(ours, 4096)
            except OSError:
                break
            if not piece:
                break
            shown += piece
        told = running.communicate()[0].decode()
    os.close(ours)

    assert running.returncode == 0
    assert re.findall(r"Written: .*/(\S+)", told) == [
        "sheets.pdf",
        "season.pdf",
        "skills.pdf",
        "families.pdf",
    ]
    for words in ("booklet of all sheets", "wall chart", "map of skills", "dates for families"):
        assert words in shown.decode()


def test_names_stand_on_the_coachs_own_sheet_alone(line: Line, planned: Path) -> None:
    """Who missed an introduction is told by `sheet`, and by no print."""
    (planned / "players.toml").write_text('players = ["Świętosława", "Bran"]\n', encoding="utf-8")
    plan = json.loads((planned / "plan.json").read_text(encoding="utf-8"))
    first = next(
        practice
        for practice in plan["practices"]
        if any(block["kind"] == "introduce" for block in practice["blocks"])
    )
    new = next(block["skill"] for block in first["blocks"] if block["kind"] == "introduce")
    later = next(
        practice["date"]
        for practice in plan["practices"]
        if practice["date"] > first["date"]
        and any(block["skill"] == new for block in practice["blocks"])
    )
    recorded = line(
        "record", planned, first["date"], "--held", "--absent", "Świętosława", "--today", later
    )
    assert recorded.code == 0, recorded.err
    line("print", planned)
    line("print", planned, "--html")

    assert "Missed the introduction: Świętosława." in line("sheet", planned, later).out
    for name in FILES:
        assert "Świętosława" not in " ".join(texts(planned / "print" / name))
    assert "Świętosława" not in (planned / "print" / "season.html").read_text(encoding="utf-8")
