"""Read a coach's file as text; whatever stands in the way becomes a problem, never an exception."""

import errno
from dataclasses import dataclass
from pathlib import Path

from curriculum.files.nearest import nearest
from curriculum.problems import Problem

_UTF8_MARK = b"\xef\xbb\xbf"
_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")
_HEAD = 4096
"""Bytes at the beginning of a file by which it is told whether it is text."""
_SAVE_AS_UTF8 = "save it as UTF-8 in your editor"


@dataclass(frozen=True)
class FileText:
    """A file's text with every line end as a single newline; None when nothing can be read.

    Lines keep their numbers. Bytes that are no UTF-8 stand as U+FFFD, so that the rest is read too.
    """

    file: str
    text: str | None
    problems: tuple[Problem, ...] = ()


def read_text(path: Path, way_out: str) -> FileText:
    """Return the text of a file; `way_out` is what to do when it is missing or empty."""
    file = str(path)
    try:
        data = path.read_bytes()
    except OSError as error:
        return FileText(file, None, (_unreadable(path, error, way_out),))
    if data.startswith(_UTF16_MARKS):
        says = "is saved as UTF-16, but must be UTF-8"
        return FileText(file, None, (Problem(file, 0, "", says, way_out=_SAVE_AS_UTF8),))
    if _is_no_text(data[:_HEAD]):
        says = "is no text file, or is saved as UTF-16"
        return FileText(file, None, (Problem(file, 0, "", says, way_out=_SAVE_AS_UTF8),))
    problems = []
    if data.startswith(_UTF8_MARK):
        data = data.removeprefix(_UTF8_MARK)
        says = "begins with an invisible byte order mark, which is passed over"
        without = "save it as UTF-8 without BOM in your editor"
        problems.append(Problem(file, 1, "", says, way_out=without, level="warning"))
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        problems.append(_not_utf8(file, data, error.start))
        text = data.decode("utf-8", "replace")
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    if not text.strip():
        problems.append(Problem(file, 0, "", "is empty", way_out=way_out))
        return FileText(file, None, tuple(problems))
    return FileText(file, text, tuple(problems))


def _is_no_text(head: bytes) -> bool:
    """Whether so many control characters stand at the beginning that no person wrote it."""
    controls = sum(sign < 9 or 13 < sign < 32 for sign in head)
    return controls >= 8 and controls * 50 > len(head)


def _unreadable(path: Path, error: OSError, way_out: str) -> Problem:
    file = str(path)
    if path.is_dir():
        return Problem(file, 0, "", "is a folder, not a file", way_out="name a file in it")
    if error.errno in (errno.ENOENT, errno.ENOTDIR):
        what = "there is no such file" if path.parent.is_dir() else "there is no such folder"
        near = nearest(path.name, _names_beside(path))
        return Problem(file, 0, "", what, way_out=f"did you mean {near}?" if near else way_out)
    reason = (error.strerror or "unknown reason").lower()
    return Problem(file, 0, "", f"cannot be read: {reason}", way_out="see who may read the file")


def _names_beside(path: Path) -> tuple[str, ...]:
    try:
        return tuple(sorted(each.name for each in path.parent.glob(f"*{path.suffix}")))
    except OSError:
        return ()


def _not_utf8(file: str, data: bytes, at: int) -> Problem:
    """Locate the first byte that is no UTF-8, and show the word around it as Windows reads it."""
    before = data[:at].replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    words = data[:at].split()[-1:] if data[:at] and not data[:at][-1:].isspace() else []
    word = b"".join(words) + (data[at:].split() or [b""])[0]
    found = word.decode("cp1252", "replace")[:40]
    says = "this line is not UTF-8 text"
    return Problem(file, before.count(b"\n") + 1, "", says, found, _SAVE_AS_UTF8)
