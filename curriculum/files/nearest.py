"""Find the name that somebody most likely meant, and write names as files hold them."""

import difflib
import re
import unicodedata
from collections.abc import Iterable, Sequence

from curriculum.wording import listed

UNDIVIDED = str.maketrans(
    {"ł": "l", "ø": "o", "đ": "d", "ð": "d", "æ": "ae", "œ": "oe", "þ": "th", "ı": "i"}
)
"""Letters that Unicode does not take apart into a plain one and its mark."""

_CLOSE_ENOUGH = 0.65
"""Ratio of `difflib.SequenceMatcher`; below it a suggestion misleads more often than it helps."""


def nearest(word: str, names: Iterable[str]) -> str | None:
    """Return the name that is nearest to a word; None when none is near.

    Case, accents, blanks, hyphens and underscores do not count. A unique name that begins with
    the word (three letters at least) goes before one that merely looks like it.
    """
    plain = {_plain(name): name for name in sorted(set(names), reverse=True)}
    wanted = _plain(word)
    if wanted in plain:
        return plain[wanted]
    begins = [key for key in plain if key.startswith(wanted)]
    if len(wanted) >= 3 and len(begins) == 1:
        return plain[begins[0]]
    close = difflib.get_close_matches(wanted, sorted(plain), n=1, cutoff=_CLOSE_ENOUGH)
    return plain[close[0]] if close else None


def suggest(word: str, names: Sequence[str], otherwise: str, most: int = 8) -> str:
    """Return the way out for a name that nobody has: the nearest, else all when they are few."""
    near = nearest(word, names)
    if near is not None:
        return f'did you mean "{near}"?'
    if 0 < len(names) <= most:
        return f"there is {listed([quoted(name) for name in names])}"
    return otherwise


def quoted(word: str) -> str:
    """Return a word in double quotes, as it is written in a file."""
    return f'"{word}"'


def slug(text: str) -> str:
    """Return a text as an id: lower-case words of letters and digits joined by hyphens; or ""."""
    letters = unicodedata.normalize("NFKD", text.casefold().translate(UNDIVIDED))
    bare = letters.encode("ascii", "ignore").decode()
    return "-".join(re.findall(r"[a-z0-9]+", bare))


def _plain(name: str) -> str:
    return slug(name).replace("-", "") or name.casefold()
