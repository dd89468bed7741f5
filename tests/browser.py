"""The system's Chromium and the checker axe-core, for tests of pages; without them they skip."""

import os
import shutil
import subprocess
import tempfile
from contextlib import suppress
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
NPM = ("npm", "install", "--no-audit", "--no-fund", "--no-package-lock")
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
    """Return the checker's script, "" when it cannot be fetched.

    It is fetched into a folder of its own and put in its place whole, for several processes test at
    once.
    """
    script = Path(tempfile.gettempdir()) / "curriculum-axe" / "axe.min.js"
    if not script.exists() and shutil.which("npm"):
        with tempfile.TemporaryDirectory(prefix="curriculum-axe-") as folder:
            command = [*NPM, "axe-core@4"]
            with suppress(subprocess.TimeoutExpired):
                subprocess.run(command, cwd=folder, capture_output=True, timeout=300, check=False)
            fetched = Path(folder) / "node_modules" / "axe-core" / "axe.min.js"
            if fetched.exists():
                script.parent.mkdir(exist_ok=True)
                fresh = script.with_name(f"{os.getpid()}.js")
                shutil.copyfile(fetched, fresh)
                fresh.replace(script)
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
