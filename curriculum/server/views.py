"""Pages from templates: everything that is put into one is escaped."""

from functools import cache, partial

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from curriculum.server.assets import address_of
from curriculum.wording import clock, counted, long_date, short_date


@cache
def _environment() -> Environment:
    made = Environment(
        loader=PackageLoader("curriculum.server", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters |= {"short": short_date, "long": long_date, "clock": clock, "drawing": _drawing}
    made.globals |= {"counted": counted}
    return made


def render(template: str, *, base: str, **context: object) -> str:
    """Return a page of this server; base stands before every path of its application in it."""
    return (
        _environment()
        .get_template(template)
        .render(base=base, asset=partial(address_of, base=base), **context)
    )


def _drawing(svg: str) -> Markup:
    """Return a picture that this program drew; its words are escaped in it already."""
    return Markup(svg)  # noqa: S704
