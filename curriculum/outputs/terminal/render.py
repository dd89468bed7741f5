"""What all terminal views share: safe text, headings, marks, and turning a view into a string."""

from collections.abc import Iterable
from io import StringIO

from rich.console import Console, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from curriculum.practice.words import KindWord, printable

WIDTH = 80
"""Columns of a page that nobody measures: a pipe or a file."""

NARROWEST = 66
"""Columns below which a page is not set narrower: a table would lose a column without a word."""

FAINT = "dim"
STRONG = "bold"
BAD = "bold red"
NEW = "bold reverse"


def render(renderable: RenderableType, width: int = WIDTH, *, color: bool = False) -> str:
    """Return a view as text of a given width; without colour it is plain text without escapes.

    A width under `NARROWEST` counts as that: the terminal then breaks the lines by itself.
    """
    page = StringIO()
    console = Console(
        file=page,
        width=max(width, NARROWEST),
        force_terminal=color,
        color_system="standard" if color else None,
        no_color=not color,
        highlight=False,
        markup=False,
        emoji=False,
        legacy_windows=False,
        _environ={},
    )
    console.print(renderable)
    lines = page.getvalue().splitlines()
    return "\n".join(line.rstrip() for line in lines) + "\n"


def say(words: str, style: str = "") -> Text:
    """Return words as text that neither markup nor control characters can change."""
    return Text(printable(words), style=style)


def heading(words: str, aside: str = "") -> Text:
    """Return a heading, with words of less weight behind it."""
    line = say(words, STRONG)
    if aside:
        line.append_text(say(f"  {aside}", FAINT))
    return line


def kind_word(kind: KindWord) -> Text:
    """Return the kind of a block; only what is new is loud."""
    return say(kind, NEW) if kind == "NEW" else say(kind.lower())


def indented(view: RenderableType, by: int = 2) -> Padding:
    """Return a view moved to the right."""
    return Padding(view, (0, 0, 0, by))


def grid(*widths: int | None) -> Table:
    """Return a table without lines; each column has a width in characters, None takes the rest.

    The widths leave room for the rest on the narrowest page.
    """
    table = Table.grid(padding=(0, 1, 0, 0), expand=True)
    for width in widths:
        if width is None:
            table.add_column(ratio=1, overflow="fold", min_width=8)
        else:
            table.add_column(width=width, overflow="fold")
    return table


def bullets(words: Iterable[str], sign: str = "-", indent: int = 2) -> Padding:
    """Return a list whose lines hang beside their sign."""
    table = grid(1, None)
    for line in words:
        table.add_row(say(sign), say(line))
    return indented(table, indent)


def facts(*pairs: tuple[str, str], width: int = 12) -> Table:
    """Return labelled lines; pairs without words are left out."""
    table = grid(width, None)
    for label, words in pairs:
        if words:
            table.add_row(say(label, FAINT), say(words))
    return table
