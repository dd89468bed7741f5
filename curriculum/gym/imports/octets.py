"""The bytes of a foreign file as text, within limits."""

import re
from pathlib import Path

from curriculum.gym.imports.found import RefusedError

MOST_BYTES = 10_000_000
MARKS = (
    (b"\xef\xbb\xbf", "utf-8"),
    (b"\xff\xfe", "utf-16"),
    (b"\xfe\xff", "utf-16"),
)
FALLBACK = "cp1252"
SPLIT = re.compile(rb"([\xc2-\xf4][\x80-\xbf]{0,2})(\r?\n[ \t])([\x80-\xbf]{1,3})")
"""A character that a calendar's line break has cut in two, as RFC 5545 warns that some do."""
CONTROLS = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]")


def read_octets(path: Path) -> bytes:
    """Return the bytes of a file; RefusedError when it is missing, unreadable or too large."""
    try:
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        way_out = "put it beside season.toml, or correct the name"
        raise RefusedError("there is no such file", way_out=way_out) from None
    except OSError as fault:
        raise RefusedError("the file cannot be read", found=fault.strerror or "") from None
    if len(data) > MOST_BYTES:
        says = f"the file is larger than {MOST_BYTES // 1_000_000} MB"
        raise RefusedError(says, way_out="export a shorter span of time")
    return data


def decoded(data: bytes) -> tuple[str, tuple[str, ...]]:
    """Return the text of a file, and how its encoding was understood where that is not plain.

    A byte order mark decides, else UTF-8 is tried, else Windows-1252 is taken, which has a
    character for nearly every byte. Control characters other than line breaks and tabs are
    dropped.

    Raises:
        RefusedError: A file that says it is UTF-16 is not.

    """
    remarks: tuple[str, ...] = ()
    coding = next((coding for mark, coding in MARKS if data.startswith(mark)), "utf-8")
    try:
        text = (SPLIT.sub(rb"\1\3\2", data) if coding == "utf-8" else data).decode(coding)
    except UnicodeDecodeError:
        if coding == "utf-16":
            raise RefusedError(
                "the file begins as UTF-16 and is not", way_out="save it as UTF-8"
            ) from None
        text = data.decode(FALLBACK, errors="replace")
        remarks = ("the file is not UTF-8 and was read as Windows-1252; look at accented letters",)
    return CONTROLS.sub("", text.removeprefix("\ufeff")), remarks
