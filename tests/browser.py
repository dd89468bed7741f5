"""The system's Chromium and the checker axe-core, for tests of pages; without them they skip."""

import shutil
import subprocess
import tempfile
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from playwright.sync_api import Page

CHROMIUM = shutil.which("chromium")
OPTIONS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
SIZES = {"phone": (360, 740), "desk": (1200, 800)}
GRAVE = ("serious", "critical")


def missing() -> str:
    """Say what this machine lacks for a browser, "" when nothing."""
    try:
        import playwright.sync_api  # noqa: F401
    except ImportError:
        return "needs the package playwright"
    return "" if CHROMIUM else "needs Debian's package chromium"


@cache
def axe() -> str:
    """Return the checker's script, "" when it cannot be fetched."""
    folder = Path(tempfile.gettempdir()) / "curriculum-axe"
    script = folder / "node_modules" / "axe-core" / "axe.min.js"
    if not script.exists() and shutil.which("npm"):
        folder.mkdir(exist_ok=True)
        command = ["npm", "install", "--no-audit", "--no-fund", "--no-package-lock", "axe-core@4"]
        subprocess.run(command, cwd=folder, capture_output=True, timeout=120, check=False)
    return script.read_text(encoding="utf-8") if script.exists() else ""


def grave_faults(page: "Page") -> list[str]:
    """Return the serious and critical faults that axe-core finds in what a page shows."""
    page.evaluate(axe())
    found: dict[str, Any] = page.evaluate("axe.run(document, {resultTypes: ['violations']})")
    return [
        f"{fault['id']}: {fault['nodes'][0]['html'][:120]}"
        for fault in found["violations"]
        if fault["impact"] in GRAVE
    ]
