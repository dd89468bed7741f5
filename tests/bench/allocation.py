"""Share out the hours of invented clubs: how near to its bound an allocation comes.

Run with `python -m tests.bench.allocation [teams ...]`. Six courts in four gyms, coaches with one
or two teams and evenings on which they cannot come; effort "normal", 60 deterministic units in all.
"""

import datetime as dt
import sys
import time
from collections.abc import Sequence
from random import Random

from curriculum.club.allocate.allocate import allocate
from curriculum.models.club import (
    AgeGroup,
    Busy,
    Club,
    ClubFrame,
    ClubGym,
    ClubTeam,
    Coach,
    Opening,
)
from curriculum.models.gymtimes import Weekday
from curriculum.models.skills import Court

GYMS = {"harbour": 2, "mill": 2, "lantern": 1, "reed": 1}
WORKDAYS: tuple[Weekday, ...] = ("monday", "tuesday", "wednesday", "thursday", "friday")
GROUPS: tuple[tuple[str, tuple[int, int], int, int, Court, int], ...] = (
    ("u8", (6, 7), 1, 60, "half", 18),
    ("u10", (8, 9), 2, 60, "half", 18),
    ("u12", (10, 11), 2, 75, "full", 19),
    ("u14", (12, 13), 2, 90, "full", 20),
    ("u16", (14, 15), 2, 90, "full", 21),
    ("u18", (16, 17), 3, 90, "full", 22),
)
"""Id, ages, practices a week, minutes, court, hour by half past which a practice ends."""


def invented(teams: int, grid: int, seed: int) -> Club:
    """Return a club of so many teams; the same for the same numbers."""
    random = Random(seed)
    coaches = max(1, teams * 2 // 3)
    return Club(
        club=ClubFrame(id="invented", name="Invented Club", grid=grid),
        gym=tuple(ClubGym(id=gym, name=gym, courts=courts) for gym, courts in GYMS.items()),
        opening=tuple(
            Opening(gym=gym, weekdays=WORKDAYS, start=dt.time(16, 30), end=dt.time(22))
            for gym in GYMS
        ),
        age_group=tuple(
            AgeGroup(
                id=name,
                name=name,
                ages=ages,
                weeks=30,
                practices=practices,
                minutes=minutes,
                shortest=minutes - 15,
                court=court,
                latest=dt.time(hour, 30),
            )
            for name, ages, practices, minutes, court, hour in GROUPS
        ),
        coach=tuple(Coach(id=f"coach-{n}", name=f"Coach {n}") for n in range(coaches)),
        team=tuple(
            ClubTeam(
                id=f"team-{n}",
                name=f"Team {n}",
                age_group=GROUPS[n % len(GROUPS)][0],
                coaches=(f"coach-{random.randrange(coaches)}",),
                gyms=tuple(random.sample(sorted(GYMS), 3)),
            )
            for n in range(teams)
        ),
        busy=tuple(
            Busy(coach=f"coach-{n}", weekday=random.choice(WORKDAYS)) for n in range(0, coaches, 3)
        ),
    )


def main(sizes: Sequence[int]) -> None:
    """Print the tiers with bound and gap for each size, grid and seed."""
    for teams in sizes:
        for grid in (30, 15):
            for seed in (1, 2, 3):
                begun = time.monotonic()
                found = allocate(invented(teams, grid, seed))
                seconds = time.monotonic() - begun
                tiers = [(tier.value, tier.bound, f"{tier.gap} %") for tier in found.tiers]
                print(teams, grid, seed, found.engine, f"{seconds:.1f} s", tiers, flush=True)


if __name__ == "__main__":
    main([int(each) for each in sys.argv[1:]] or [20, 40])
