"""Read a season file."""

from pathlib import Path

from curriculum.files.reading import Reading, read
from curriculum.models.season import Season

SEASON_FILE = "season.toml"


def season_file(folder_or_file: Path) -> Path:
    """Return the season file of a season folder; a file stands for itself."""
    if folder_or_file.suffix == ".toml" and not folder_or_file.is_dir():
        return folder_or_file
    return folder_or_file / SEASON_FILE if not folder_or_file.is_file() else folder_or_file


def read_season_file(folder_or_file: Path) -> Reading[Season]:
    """Return all that can be understood of a season file, also when parts of it are faulty."""
    path = season_file(folder_or_file)
    way_out = f'start a season with "curriculum new {path.parent}"'
    return read(path, Season, way_out)
