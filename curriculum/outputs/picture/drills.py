"""The pictures of the drills that some sheets show, each drawn once."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from curriculum.court.diagram import drill_svg
from curriculum.court.wording import describe_frame
from curriculum.models.drills import Drill

DEFAULT_COURT = "fiba"


@dataclass(frozen=True)
class Drawn:
    """One picture of a drill, and what it shows in words."""

    svg: str
    alt: str


def drawn(
    drills: Iterable[Drill],
    wanted: Collection[str],
    court: str = DEFAULT_COURT,
    paper: str = "#ffffff",
) -> dict[str, tuple[Drawn, ...]]:
    """Return the pictures of the wanted drills by id; see `drill_svg` for court and paper."""
    return {
        drill.id: tuple(
            Drawn(
                drill_svg(drill, court, frame, paper),
                f"{drill.name}: {describe_frame(drill, frame)}",
            )
            for frame in range(drill.frames)
        )
        for drill in drills
        if drill.id in wanted
    }
