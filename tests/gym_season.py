"""A season from a few lines of TOML, for tests of the gym calendar.

The season runs from Monday 11 January to Sunday 4 April 2027 in Europe/Dublin, for a team of 12.
`WEDNESDAY` is its usual gym time: 13, 20, 27 January, 3, 10, 17, 24 February, 3, 10, 17, 24 and
31 March.
"""

import datetime as dt
import tomllib
from typing import Any

from curriculum.gym.practices import Gym
from curriculum.models.season import Season

WEDNESDAY = """
[[slot]]
weekday = "wednesday"
start = 17:30:00
minutes = 75
venue = "north-gym"
"""

FRAME = """
[season]
id = "kestrel-quay-u12-winter-2027"
name = "Winter term"
start = 2027-01-11
end = 2027-04-04
timezone = "Europe/Dublin"
[team]
name = "Kestrel Quay Under-12"
ages = [10, 11]
players = 12
[[venue]]
id = "north-gym"
name = "North Gym"
baskets = 4
[[venue]]
id = "south-hall"
name = "South Hall"
baskets = 3
"""

IRELAND = '[holidays]\ncountry = "IE"\n'

MID_TERM = """
[[closure]]
from = 2027-02-15
until = 2027-02-19
reason = "mid-term break"
"""

COACH_AWAY = """
[[no_practice]]
date = 2027-02-03
reason = "coach away"
"""

CUP = """
[[game]]
id = "cup-1"
date = 2027-02-24
start = 20:00:00
opponent = "Harbour Gulls"
home = false
"""

TO_THURSDAY = """
[[move]]
of = 2027-02-10
date = 2027-02-11
start = 18:00:00
"""


def day(text: str) -> dt.date:
    """Return a date of 2027, written `01-13`."""
    return dt.date.fromisoformat(f"2027-{text}")


def extra(date: str, venue: str = "north-gym") -> str:
    """Return the table of an extra practice at 16:00, its date written `02-10`."""
    return (
        f'[[practice_on]]\ndate = 2027-{date}\nstart = 16:00:00\nminutes = 75\nvenue = "{venue}"\n'
    )


def written(text: str, **frame: Any) -> Season:
    """Return the season that these tables make; `frame` replaces keys of `[season]`."""
    data = tomllib.loads(FRAME + text)
    data["season"] |= frame
    return Season.model_validate(_tupled(data))


def _tupled(value: Any) -> Any:
    if isinstance(value, list):
        return tuple(_tupled(one) for one in value)
    if isinstance(value, dict):
        return {key: _tupled(one) for key, one in value.items()}
    return value


def held(gym: Gym) -> list[str]:
    """Return the practices that are held as `01-13 17:30 north-gym`."""
    return [f"{one.date:%m-%d} {one.start:%H:%M} {one.venue}" for one in gym.practices]


def dates(gym: Gym) -> list[str]:
    """Return the dates of the practices that are held as `01-13`."""
    return [f"{one.date:%m-%d}" for one in gym.practices]


def not_held(gym: Gym) -> list[tuple[str, str]]:
    """Return the dates that are not held as `01-13`, each with its reason."""
    return [(f"{one.date:%m-%d}", one.why) for one in gym.not_held]


def sentences(gym: Gym) -> list[str]:
    """Return what the calendar finds wrong, as the coach reads it."""
    return [str(problem) for problem in gym.problems]
