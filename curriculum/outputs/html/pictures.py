"""Pictures that a page shows many times: drawn once as a symbol, and used wherever they stand."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from markupsafe import Markup

from curriculum.outputs.picture.drills import Drawn

VIEW = re.compile(r'viewBox="([^"]+)"')
BODY = re.compile(r"</desc>(.*)</svg>$", re.DOTALL)


@dataclass(frozen=True)
class Symbol:
    """One picture: its name in the page, its view box, what it shows in words, and its lines.

    size: width and height of the view box, which is all that a place of use has to know.
    """

    name: str
    view: str
    size: str
    alt: str
    lines: Markup


@dataclass(frozen=True)
class Symbols:
    """The pictures of a page by the id of their drill."""

    of: Mapping[str, tuple[Symbol, ...]]

    def __iter__(self) -> Iterator[Symbol]:
        """Go through all pictures once."""
        for each in self.of.values():
            yield from each


def inlined(pictures: Mapping[str, tuple[Drawn, ...]]) -> Symbols:
    """Return pictures of drills as symbols; ValueError for one that is not of our own drawing."""
    return Symbols(
        {
            drill: tuple(_symbol(f"{drill}-{place}", each) for place, each in enumerate(drawn, 1))
            for drill, drawn in pictures.items()
        }
    )


def _symbol(name: str, drawn: Drawn) -> Symbol:
    view, body = VIEW.search(drawn.svg), BODY.search(drawn.svg)
    if view is None or body is None:
        raise ValueError(f"the picture {name} has no view box or no description")
    # Our own drawing has its words escaped already.
    size = " ".join(view[1].split()[2:])
    return Symbol(f"d-{name}", view[1], size, drawn.alt, Markup(body[1]))  # noqa: S704
