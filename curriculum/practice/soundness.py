"""Tell everything that makes no sense in drills: their actions, their rotation, who misses out."""

from collections.abc import Iterable, Iterator

from curriculum.court.execute import drill_problems
from curriculum.models.drills import Drill
from curriculum.practice.rotation import rotation_problems, unfair
from curriculum.problems import Problem


def drill_faults(drills: Iterable[Drill]) -> tuple[Problem, ...]:
    """Return all problems of some drills, by keys such as `pass-and-go.actions[3]`.

    Files and lines are found by the library's sources. That players never swap is a warning.
    """
    given = tuple(drills)
    faults = (*drill_problems(given), *rotation_problems(given))
    faulty = {problem.key.partition(".")[0] for problem in faults}
    return (*faults, *_unfair(drill for drill in given if drill.id not in faulty))


def _unfair(drills: Iterable[Drill]) -> Iterator[Problem]:
    for drill in drills:
        if sentence := unfair(drill):
            key, way_out = f"{drill.id}.rotation", "lead each role on to another one"
            yield Problem("", 0, key, sentence, way_out=way_out, level="warning")
