"""Answers packed with gzip for those who take it."""

import gzip
import re


def packed(body: bytes) -> bytes:
    """Return bytes packed; equal bytes give equal bytes."""
    return gzip.compress(body, compresslevel=6, mtime=0)


def takes_gzip(header: str) -> bool:
    """Whether gzip is among the encodings that a client takes (RFC 9110, section 12.5.3)."""
    for part in header.lower().split(","):
        name, _, rest = part.partition(";")
        if name.strip() in ("gzip", "x-gzip"):
            weight = rest.strip().removeprefix("q=").strip()
            return re.fullmatch(r"0(\.0*)?", weight) is None
    return False
