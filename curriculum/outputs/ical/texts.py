"""Text as a calendar may carry it; escaping is left to the library that writes."""

import unicodedata

BREAKS = {"\r\n": "\n", "\r": "\n", "\u2028": "\n", "\u2029": "\n", "\t": " "}
DROPPED = frozenset({"Cc", "Cs"})


def clean(text: str) -> str:
    r"""Return text in NFC with `\n` as its only control character.

    Lone surrogates go too, since they have no UTF-8. Unicode's own line and paragraph separators
    become `\n`, because some readers split lines at them.
    """
    for found, instead in BREAKS.items():
        text = text.replace(found, instead)
    kept = (sign for sign in text if sign == "\n" or unicodedata.category(sign) not in DROPPED)
    return unicodedata.normalize("NFC", "".join(kept)).strip()


def one_line(text: str) -> str:
    """Return clean text on a single line."""
    return " ".join(clean(text).split())


def calendar_name(text: str) -> str:
    r"""Return a calendar's name: one line of at most 80 characters without `,`, `;` and `\`.

    Widely used readers show the backslashes with which those three would be written.
    """
    plain = "".join(" " if sign in ",;\\" else sign for sign in one_line(text))
    return one_line(plain)[:80].strip() or "Calendar"
