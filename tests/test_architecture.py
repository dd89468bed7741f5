"""The house keeps its order: who may import whom, and how large a file may grow."""

import ast
import subprocess
import sys
from pathlib import Path

import networkx as nx
import pytest

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "curriculum"

ROWS: tuple[tuple[str, ...], ...] = (
    ("problems", "spans", "wording"),
    ("models",),
    ("files", "turns", "store", "ledger", "records"),
    ("graph", "gym"),
    ("workload", "referee"),
    ("schedule",),
    ("checks", "happened", "replan", "risk", "whatif", "outdated"),
    ("club",),
    ("court",),
    ("insight", "practice"),
    ("outputs",),
    (
        "workspace",
        "inspection",
        "planning",
        "inquiry",
        "publish",
        "handouts",
        "intake",
        "starter",
        "recording",
        "fleet",
    ),
    ("server", "cli"),
)
"""From the ground up; a module imports from rows above it and from earlier names of its own row."""

HEAVY = ("networkx", "pydantic", "rich", "holidays", "typst", "icalendar", "ortools", "tomlkit")
"""What must not be loaded before a command needs it."""

MOST_LINES = 350


def module_files() -> dict[str, Path]:
    """Return every module of the package with its file, `__init__` under the package's name."""
    found = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        parts = path.relative_to(ROOT).with_suffix("").parts
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


def imports_of(path: Path, modules: dict[str, Path]) -> set[str]:
    """Return the package's modules that a file imports, wherever the import statement stands."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            for alias in node.names:
                inner = f"{node.module}.{alias.name}"
                found.add(inner if inner in modules else node.module)
    return {name for name in found if name.split(".")[0] == "curriculum"}


def place_of(module: str) -> tuple[int, int]:
    """Return the row of a module and its place within the row."""
    name = module.split(".")[1]
    for row, names in enumerate(ROWS):
        if name in names:
            return row, names.index(name)
    raise AssertionError(f"{module} stands in no row of the import table")


MODULES = module_files()
INNER = [name for name in MODULES if name.count(".") and not name.endswith("__main__")]


@pytest.mark.parametrize("module", INNER)
def test_imports_only_from_above(module: str) -> None:
    """A module imports from higher rows, from earlier names of its row, and within its package."""
    here = place_of(module)
    wrong = [
        name
        for name in sorted(imports_of(MODULES[module], MODULES))
        if name == "curriculum"
        or (name.split(".")[1] != module.split(".")[1] and place_of(name) > here)
    ]

    assert wrong == []


def test_no_module_imports_in_a_circle() -> None:
    """Imports form no loop, by whatever route."""
    graph: nx.DiGraph[str] = nx.DiGraph()
    for module, path in MODULES.items():
        graph.add_edges_from((module, name) for name in imports_of(path, MODULES))

    assert [loop for loop in nx.simple_cycles(graph) if len(loop) > 1] == []


def test_the_table_holds_no_stale_names() -> None:
    """Every name of the table that is built stands in the package; later ones are listed here."""
    later = {"club", "fleet", "server"}
    present = {name.split(".")[1] for name in INNER}

    assert {name for row in ROWS for name in row} - present == later - present


@pytest.mark.parametrize("module", sorted(MODULES))
def test_no_file_outgrows_its_name(module: str) -> None:
    """No file of the package is longer than the house allows."""
    lines = len(MODULES[module].read_text(encoding="utf-8").splitlines())

    assert lines <= MOST_LINES


def test_help_loads_nothing_heavy() -> None:
    """Asking for help imports no heavy library, so that it answers at once."""
    code = (
        "import sys; from curriculum.cli.main import cli\n"
        "try: cli(['--help'], standalone_mode=False)\n"
        "except SystemExit: pass\n"
        f"print([name for name in {HEAVY!r} if name in sys.modules], file=sys.stderr)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT
    )

    assert done.stderr.strip() == "[]"
