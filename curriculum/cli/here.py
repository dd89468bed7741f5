"""A command on a folder and one thing in it, of which the folder may be left out."""

from pathlib import Path

import click

from curriculum.club.reading import CLUB_FILE
from curriculum.files.season import SEASON_FILE


class FolderFirst(click.Command):
    """A command of two arguments, the first of them a folder.

    Click gives a single word to the first argument. Whoever works in the folder leaves that one
    out, so here a single word is the second argument where the current folder is a season's or a
    club's and holds nothing of that name.
    """

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Put the current folder in front of a single word that names no folder."""
        first, second = [each.name for each in self.params if isinstance(each, click.Argument)]
        given, _, _ = self.make_parser(ctx).parse_args(args=list(args))
        word, alone = given.get(first), not isinstance(given.get(second), str)
        if alone and isinstance(word, str) and _is_in_this_folder(word):
            args = [".", *args]
        return super().parse_args(ctx, args)


def _is_in_this_folder(word: str) -> bool:
    """Whether a word names something in the current folder's season or club, and no file."""
    at_home = any(Path(name).is_file() for name in (SEASON_FILE, CLUB_FILE))
    return at_home and Path(word).name == word and not Path(word).exists()
