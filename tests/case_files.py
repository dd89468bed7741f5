"""Small inputs: the first line says what they show, their `#:` lines what is told of them."""

from pathlib import Path

CASES = Path(__file__).parent / "cases"


def cases(kind: str) -> list[str]:
    """Return the names of the cases of one kind, in order."""
    return sorted(path.stem for path in (CASES / kind).glob("*.toml"))


def expected(path: Path) -> list[str]:
    """Return the whole sentences, each behind its line, that a case file expects of its reading."""
    lines = path.read_text(encoding="utf-8").split("\n")
    return [line.removeprefix("#: ") for line in lines if line.startswith("#: ")]
