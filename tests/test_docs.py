"""The documentation is true: README's examples run and match, and every command stands in it."""

import os
import re
import subprocess
import sys
import tomllib
from dataclasses import dataclass
from pathlib import Path

import pytest

from curriculum.cli.main import COMMANDS, cli
from tests.test_architecture import ROWS

ROOT = Path(__file__).parent.parent
README = ROOT / "README.md"
DEVELOPERS = ROOT / "DEVELOPERS.md"
EXAMPLE = re.compile(r"^```console\n(.*?)^```$", re.MULTILINE | re.DOTALL)
SETUP = re.compile(r"^```sh\n(.*?)\n```$", re.MULTILINE | re.DOTALL)
LEFT_OUT = "..."
WIDEST = 80


@dataclass
class Shown:
    """One command of the README with the output that stands below it."""

    command: str
    output: list[str]


def examples(text: str) -> list[list[Shown]]:
    """Return the console blocks of a text."""
    blocks = []
    for block in EXAMPLE.findall(text):
        shown: list[Shown] = []
        for line in block.splitlines():
            if line.startswith("$ "):
                shown.append(Shown(line[2:], []))
            else:
                shown[-1].output.append(line)
        blocks.append(shown)
    return blocks


def run(command: str, folder: Path) -> list[str]:
    """Run a command of the README in a folder and return its lines, errors included."""
    environment = {
        **os.environ,
        "PATH": f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}",
        "SOURCE_DATE_EPOCH": "1799139600",
        "COLUMNS": "80",
    }
    done = subprocess.run(
        ["bash", "-c", command],
        cwd=folder,
        env=environment,
        text=True,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        check=False,
    )
    return [line.rstrip() for line in done.stdout.splitlines()]


def elided(real: list[str], shown: list[str]) -> list[str]:
    """Return real output with the lines left out that the README leaves out by `...`.

    Between two lines that mean "left out", what is shown must stand in the output in one piece.
    """
    found: list[str] = []
    rest = real
    for index, line in enumerate(shown):
        if line == LEFT_OUT:
            after = next((each for each in shown[index + 1 :] if each != LEFT_OUT), None)
            skipped = rest.index(after) if after in rest else len(rest)
            rest = rest[skipped:]
            found.append(LEFT_OUT)
        else:
            found += rest[:1]
            rest = rest[1:]
    return found + rest


def test_every_example_prints_what_the_readme_shows(tmp_path: Path, rewrite: bool) -> None:
    """The README's commands, run in order in an empty folder, print what stands below them."""
    text = README.read_text(encoding="utf-8")
    fresh, expected = text, text
    for block in EXAMPLE.findall(text):
        lines = []
        for shown in examples(f"```console\n{block}```")[0]:
            output = elided(run(shown.command, tmp_path), shown.output)
            lines += [f"$ {shown.command}", *output]
        fresh = fresh.replace(block, "\n".join(lines) + "\n", 1)
    if rewrite:
        README.write_text(fresh, encoding="utf-8")
        expected = fresh

    assert fresh == expected


def test_every_command_stands_in_the_readme() -> None:
    """The README shows each command in use."""
    text = README.read_text(encoding="utf-8")
    used = {shown.command.split()[1] for block in examples(text) for shown in block}

    assert set(COMMANDS) - used == set()


@pytest.mark.parametrize("name", list(COMMANDS))
def test_every_command_has_help(name: str) -> None:
    """Each command loads, says what it does, and explains every option."""
    command = cli.get_command(None, name)  # type: ignore[arg-type]

    assert command is not None
    assert command.help
    options = [each for each in command.params if each.param_type_name == "option"]
    assert [each.name for each in options if not getattr(each, "help", None)] == []


def test_help_fits_the_page() -> None:
    """No line of any help text is wider than 80 columns."""
    wide = []
    for name in ["", *COMMANDS]:
        output = run(f"curriculum {name} --help", ROOT)
        wide += [line for line in output if len(line) > WIDEST]

    assert wide == []


def test_ci_runs_the_readmes_test_command() -> None:
    """The README has two commands for a fresh machine, and the second is what .ci/run calls."""
    commands = SETUP.findall(README.read_text(encoding="utf-8"))

    assert len(commands) == 2
    assert commands[1] in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


def column(table: str) -> list[str]:
    """Return the names in one column of a table of DEVELOPERS.md, found by its heading."""
    text = DEVELOPERS.read_text(encoding="utf-8")
    head = next(line for line in text.splitlines() if line.startswith("|") and table in line)
    place = [cell.strip() for cell in head.split("|")].index(table)
    rows = text[text.index(head) :].split("\n\n")[0].splitlines()[2:]
    return [row.split("|")[place] for row in rows]


def test_developers_see_the_table_that_is_held() -> None:
    """The table of import order is the one that the tests hold, row by row."""
    written = [set(re.findall(r"\w+", row)) for row in column("modules")]

    assert written == [set(row) for row in ROWS]


def test_every_dependency_has_its_reason() -> None:
    """What is installed for the program, extras included, stands in the table, and nothing else."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    extras = project["optional-dependencies"]
    wanted = project["dependencies"] + [
        one for extra in extras for one in extras[extra] if extra != "test"
    ]

    named = [re.findall(r"[a-z0-9-]+", re.sub("`.*?`", "", row)) for row in column("library")]
    assert sorted(name for row in named for name in row) == sorted(
        re.split("[>=<]", one)[0] for one in wanted
    )
