"""The files that pages load: read from the package once, served from memory, named by content."""

import hashlib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from curriculum.server.packing import packed

KINDS = {
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".svg": "image/svg+xml",
}


@dataclass(frozen=True)
class Asset:
    """One file with its media type, also compressed; mark: a hash over its content."""

    name: str
    kind: str
    body: bytes
    packed: bytes
    mark: str


@cache
def assets() -> dict[str, Asset]:
    """Return all files by name; nothing else can be asked for."""
    found = {}
    for path in sorted(files("curriculum.server").joinpath("static").iterdir(), key=str):
        kind = next((kind for end, kind in KINDS.items() if path.name.endswith(end)), None)
        if kind is not None:
            body = path.read_bytes()
            mark = hashlib.sha256(body).hexdigest()[:12]
            found[path.name] = Asset(path.name, kind, body, packed(body), mark)
    return found


def address_of(name: str, base: str) -> str:
    """Return the address of a file, which changes with its content."""
    return f"{base}/static/{assets()[name].mark}/{name}"


def edition() -> str:
    """Return a mark of all files together."""
    marks = "".join(asset.mark for asset in assets().values())
    return hashlib.sha256(marks.encode()).hexdigest()[:12]
