"""A bar on the error stream that shows how far a search has come, on a terminal only."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from curriculum.schedule.solve import Progress

STAGES = {"search": "searching", "polish": "polishing", "proof": "proving"}


def words(progress: Progress) -> str:
    """Return the goals missed and the comfort so far, with the gap to what is proven."""
    missed = f"must {progress.tiers[0]} should {progress.tiers[2]} missed"
    comfort, bound = progress.tiers[-1], progress.bounds[-1]
    gap = f" gap {100 * (comfort - bound) / comfort:.0f}%" if comfort > 0 else ""
    return f"{missed}, comfort {comfort}{gap}"


@contextmanager
def watching() -> Iterator[Callable[[Progress], None] | None]:
    """Give a listener that moves the bar; None where nobody watches."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import BarColumn, TextColumn
    from rich.progress import Progress as Bars

    columns = (TextColumn("{task.description:9}"), BarColumn(18), TextColumn("{task.fields[so]}"))
    with Bars(*columns, console=Console(stderr=True), transient=True) as bars:
        task = bars.add_task("searching", total=1.0, so="")

        def listen(progress: Progress) -> None:
            bars.update(
                task,
                description=STAGES[progress.stage],
                completed=progress.done,
                so=words(progress),
            )

        yield listen
