"""The revision of a plan rises when people are told something else, and only then."""

import datetime as dt
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from curriculum.models.plan import Miss, Plan, Proof
from curriculum.planning import make_plan, same_season
from curriculum.workspace import open_season
from tests.record_season import write_season
from tests.sample_plan import PLAN

NOW = dt.datetime(2027, 1, 5, 9, tzinfo=dt.UTC)


def reworded(plan: Plan) -> dict[str, Any]:
    """Return the same misses, put in other words and with other ways out."""
    changed = {"why": "no room is left", "remedies": ("one more evening",)}
    return {"misses": tuple(miss.model_copy(update=changed) for miss in plan.misses)}


@pytest.mark.parametrize(
    ("changes", "same"),
    [
        ({"revision": 9, "made": NOW}, True),
        ({"status": "feasible"}, True),
        (
            {"proof": Proof(tiers=(), practices_needed_at_least=0, critical_path_practices=0)},
            True,
        ),
        (reworded(PLAN), True),
        ({"misses": PLAN.misses[:1]}, False),
        ({"goals": PLAN.goals[1:]}, False),
        ({"not_held": ()}, False),
    ],
    ids=["time", "status", "proof", "wording", "a miss less", "goals", "not held"],
)
def test_plans_that_tell_people_the_same(changes: dict[str, Any], same: bool) -> None:
    """Proof and wording may differ; what is missed, asked for and held may not."""
    assert same_season(PLAN, PLAN.model_copy(update=changes)) is same


def test_other_words_for_a_miss_keep_the_revision(tmp_path: Path) -> None:
    """A must that cannot be met, told differently before: worth writing, under the same number."""
    write_season(tmp_path)
    file = tmp_path / "season.toml"
    goal = 'need = "must"\n'
    early = file.read_text(encoding="utf-8").replace(goal, f"{goal}by = 2027-01-13\n")
    file.write_text(early, encoding="utf-8")
    space = open_season(tmp_path, NOW).workspace
    assert space is not None
    first = make_plan(space, now=NOW, today=None).plan
    old = first.model_copy(update={"revision": 4, **reworded(first)})

    again = make_plan(replace(space, plan=old), now=NOW, today=None)
    before = old.model_copy(update={"misses": (Miss(skill="v-cut", stage="unopposed", why="x"),)})
    other = make_plan(replace(space, plan=before), now=NOW, today=None)

    assert len(first.misses) == 1
    assert (again.fresh, again.plan.revision) == (True, 4)
    assert (other.fresh, other.plan.revision) == (True, 5)
