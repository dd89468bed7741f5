"""The shipped library, read once for the tests that go through all of it."""

from functools import cache

from curriculum.files.library import read_library
from curriculum.files.shipped import shipped
from curriculum.models.skills import Library


@cache
def shipped_library() -> Library:
    """Return the library that comes with the program; the tests fail when it has problems."""
    library, problems, _ = read_library([shipped("skills")])
    if library is None or problems:
        raise AssertionError("\n".join(str(problem) for problem in problems))
    return library
