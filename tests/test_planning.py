"""The revision of a plan rises when people are told something else, and only then."""

import datetime as dt
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from curriculum.models.plan import Miss, Plan, Proof
from curriculum.planning import keep, make_plan, same_season
from curriculum.problems import FaultyInputError
from curriculum.store import plan_bytes, plan_mark
from curriculum.workspace import Workspace, open_season
from tests.record_season import write_season
from tests.sample_plan import PLAN

NOW = dt.datetime(2027, 1, 5, 9, tzinfo=dt.UTC)


def turned(plan: Plan) -> dict[str, Any]:
    """Return the same practices, the blocks of the first one held in another order."""
    first = plan.practices[0]
    swapped = first.model_copy(update={"blocks": first.blocks[::-1]})
    return {"practices": (swapped, *plan.practices[1:])}


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
        (turned(PLAN), False),
    ],
    ids=["time", "status", "proof", "wording", "a miss less", "goals", "not held", "order"],
)
def test_plans_that_tell_people_the_same(changes: dict[str, Any], same: bool) -> None:
    """Proof and wording may differ; what is missed, asked for and held, and in which order, not."""
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


@pytest.mark.parametrize("what", ["first", "changed", "the same"])
def test_a_plan_that_comes_too_late_says_so(tmp_path: Path, what: str) -> None:
    """Another plan was put in force while this one was made: it stands, and a sentence tells."""
    write_season(tmp_path)
    file = tmp_path / "plan.json"
    if what != "first":
        keep(space_in(tmp_path), make_plan(space_in(tmp_path), now=NOW, today=None))
    if what == "changed":
        season = tmp_path / "season.toml"
        season.write_text(
            season.read_text(encoding="utf-8").replace("minutes = 75", "minutes = 60")
        )
    space = space_in(tmp_path)
    made = make_plan(space, now=NOW, today=None)
    theirs = plan_bytes(made.plan.model_copy(update={"revision": 7}))
    file.write_bytes(theirs)

    assert made.fresh is (what != "the same")
    with pytest.raises(FaultyInputError, match="another plan was put in force while this one was"):
        keep(space, made)
    assert file.read_bytes() == theirs


def test_one_plan_after_the_other_can_be_kept(tmp_path: Path) -> None:
    """Whoever has just written a plan knows the one that stands."""
    write_season(tmp_path)
    after = keep(space_in(tmp_path), make_plan(space_in(tmp_path), now=NOW, today=None))
    again = make_plan(after, now=NOW, today=None)
    other = again.plan.model_copy(update={"revision": 2})
    last = keep(after, replace(again, plan=other, fresh=True))

    assert (last.plan_mark, last.plan) == (plan_mark(tmp_path / "plan.json"), other)


def space_in(folder: Path) -> Workspace:
    """Open a season that is sound."""
    space = open_season(folder, NOW).workspace
    assert space is not None
    return space
