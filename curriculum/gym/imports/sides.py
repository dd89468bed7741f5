"""Who plays a game of a foreign calendar, and where: our team, the other one, home or away."""

import re
import unicodedata
from dataclasses import dataclass

from curriculum.files.nearest import UNDIVIDED
from curriculum.gym.imports.found import Found
from curriculum.models.base import ID_PATTERN

BETWEEN = re.compile(r"\s+(?:vs?\.?|versus|against|[-–—])\s+", re.IGNORECASE)
GUEST = re.compile(r"(?:^|\s+)(?:@|at)\s+", re.IGNORECASE)
HOME_WORDS = frozenset({"h", "home"})
AWAY_WORDS = frozenset({"a", "away", "n", "neutral"})


@dataclass(frozen=True)
class Sides:
    """The other team, and whether we are at home; `sure` is False where the file does not say."""

    opponent: str
    home: bool
    sure: bool = True


def sides_of(found: Found, team: str) -> Sides | None:
    """Return who plays; None when the entry names two teams and neither is ours."""
    if found.home and found.away:
        return _pair(found.home, found.away, team)
    if found.opponent:
        word = plain(found.side)
        return Sides(found.opponent, word not in AWAY_WORDS, word in HOME_WORDS | AWAY_WORDS)
    return _from_title(found, team)


def _from_title(found: Found, team: str) -> Sides:
    pair = BETWEEN.split(found.title)
    if len(pair) == 2 and (sides := _pair(pair[0], pair[1], team, loose=True)):
        return sides
    visit = GUEST.split(found.title)
    if len(visit) == 2 and visit[1]:
        host_is_ours = _is_ours(visit[1], team, loose=True)
        return Sides(visit[0] if host_is_ours and visit[0] else visit[1], host_is_ours)
    return Sides(found.title or "unknown", home=True, sure=False)


def _pair(home: str, away: str, team: str, *, loose: bool = False) -> Sides | None:
    ours = [_is_ours(name, team, loose=loose) for name in (home, away)]
    if ours == [True, False]:
        return Sides(away, home=True)
    return Sides(home, home=False) if ours == [False, True] else None


def _is_ours(name: str, team: str, *, loose: bool) -> bool:
    """Whether a name is our team's; a loose one may say more, as titles do."""
    if loose:
        return f" {plain(team)} " in f" {plain(name)} "
    return plain(name) == plain(team)


def plain(text: str) -> str:
    """Return text for comparing names: no accents, capitals or signs."""
    letters = unicodedata.normalize("NFKD", text.casefold().translate(UNDIVIDED))
    kept = "".join(sign for sign in letters if not unicodedata.combining(sign))
    return " ".join(re.sub(r"[\W_]+", " ", kept).split())


def slug(text: str) -> str:
    """Return text as an id of at most 40 signs; "game" where no letter of it can stand in one."""
    words = re.sub(r"[^a-z0-9]+", "-", plain(text)).strip("-")[:40].strip("-")
    return words if ID_PATTERN.fullmatch(words) else "game"
