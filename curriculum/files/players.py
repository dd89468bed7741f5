"""Read `players.toml`: the players' first names, which only attendance and catch-up use."""

from pathlib import Path

from curriculum.files.reading import read
from curriculum.models.record import Players
from curriculum.problems import Problem

PLAYERS_FILE = "players.toml"


def read_players(folder: Path) -> tuple[tuple[str, ...], tuple[Problem, ...]]:
    """Return the names in a season folder's file; none, and no problem, when there is no file."""
    path = folder / PLAYERS_FILE
    if not path.exists():
        return (), ()
    reading = read(path, Players, 'write players = ["Aoife", "Bran"]')
    return (reading.sound.players if reading.sound else ()), reading.problems
