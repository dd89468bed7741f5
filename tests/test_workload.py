"""What a season has to teach: goals with all that they need, less what is known."""

import datetime as dt
from typing import Any

import networkx as nx
import pytest

from curriculum.graph import Node
from curriculum.models.season import Adjust, Goal, Known, Pin, Season
from curriculum.models.skills import Library, Stage, StageWork
from curriculum.workload import Job, Target, Workload, goals_of, workload_of
from tests.build import day, game, goal, library, season, skill

WORK = (1, 8)
WHOLE: dict[str, Any] = {"unopposed": (2, 8), "guided": (1, 10), "live": (3, 12)}
CHAIN = library(skill("stop", **WHOLE), skill("pass", needs=("stop",), **WHOLE), "spare")


def nodes(work: Workload) -> list[str]:
    """Return the stages of all jobs in order, written `pass@live`."""
    return ["@".join(job.node) for job in work.jobs]


def job(work: Workload, skill_id: str, stage: Stage = "unopposed") -> Job:
    """Return the job of a stage."""
    return next(each for each in work.jobs if each.node == (skill_id, stage))


def asking(*wanted: Goal, **tables: Any) -> Season:
    """Return a season with these goals."""
    return season(goal=wanted, **tables)


def test_a_job_is_all_that_a_stage_takes() -> None:
    """Blocks, minutes, strand, players, baskets and court come from the library."""
    skills = library(
        skill(
            "press",
            strand="Defence",
            unopposed=StageWork(blocks=2, minutes=9, players=8, baskets=2, court="full"),
        )
    )
    work = workload_of(asking(goal("press", weight=4)), skills)

    assert work == Workload(
        jobs=(
            Job(
                skill="press",
                stage="unopposed",
                strand="Defence",
                blocks=2,
                minutes=9,
                introduces=True,
                last=True,
                weight=4,
                after=(),
                players=8,
                baskets=2,
                full_court=True,
            ),
        ),
        targets=(Target(goal=goal("press", weight=4), due=day("01-31"), game=None, known=False),),
        known=frozenset(),
    )
    assert work.minutes == 18


def test_a_stage_that_says_nothing_needs_nothing() -> None:
    """Without a word on it one player, no basket and half a court are enough."""
    plain = job(workload_of(asking(goal("spare")), CHAIN), "spare")

    assert (plain.players, plain.baskets, plain.full_court) == (1, 0, False)


def test_goals_pull_in_all_that_they_need() -> None:
    """Guided passing needs its own unopposed stage and stopping to guided, and nothing else."""
    work = workload_of(asking(goal("pass", "guided")), CHAIN)

    assert nodes(work) == ["stop@unopposed", "pass@unopposed", "stop@guided", "pass@guided"]
    assert work.minutes == 2 * 8 + 2 * 8 + 10 + 10


def test_live_does_not_pull_in_live() -> None:
    """A bare need of `live` is met by `guided`; only `stop@live` asks for more."""
    asked = asking(goal("pass", "live"))
    told = library(skill("stop", **WHOLE), skill("pass", needs=("stop@live",), **WHOLE))

    assert "stop@live" not in nodes(workload_of(asked, CHAIN))
    assert nodes(workload_of(asked, told)) == [
        "stop@unopposed",
        "stop@guided",
        "stop@live",
        "pass@unopposed",
        "pass@guided",
        "pass@live",
    ]


@pytest.mark.parametrize(
    ("stops", "needs", "expected"),
    [
        # A bare need, the needed skill whole.
        (
            ("unopposed", "guided", "live"),
            ("stop",),
            {"unopposed": "unopposed", "guided": "guided", "live": "guided"},
        ),
        # Without `guided` the nearest lower stage.
        (
            ("unopposed", "live"),
            ("stop",),
            {"unopposed": "unopposed", "guided": "unopposed", "live": "unopposed"},
        ),
        # Without any lower stage the lowest.
        (("live",), ("stop",), {"unopposed": "live", "guided": "live", "live": "live"}),
        (
            ("guided", "live"),
            ("stop",),
            {"unopposed": "guided", "guided": "guided", "live": "guided"},
        ),
        # A stage by name on the skill binds its first stage.
        (("unopposed", "guided", "live"), ("stop@guided",), {"unopposed": "guided"}),
        (("unopposed", "guided", "live"), ("stop@live",), {"unopposed": "live"}),
    ],
)
def test_what_each_stage_waits_for(
    stops: tuple[Stage, ...], needs: tuple[str, ...], expected: dict[Stage, Stage]
) -> None:
    """Needs between skills become arcs between the jobs of their stages."""
    has: dict[str, Any] = dict.fromkeys(stops, WORK)
    skills = library(skill("stop", **has), skill("pass", needs=needs, **WHOLE))
    work = workload_of(asking(goal("pass", "live"), goal("stop", stops[-1])), skills)

    assert {
        each.stage: lead[1]
        for each in work.jobs
        for lead in each.after
        if each.skill == "pass" and lead[0] == "stop"
    } == expected


def test_a_need_on_a_stage_binds_that_stage() -> None:
    """`stop@live` on the guided stage leaves the unopposed one free."""
    guided = StageWork(needs=("stop@live",))
    skills = library(skill("stop", **WHOLE), skill("pass", unopposed=WORK, guided=guided))
    work = workload_of(asking(goal("pass", "guided")), skills)

    assert job(work, "pass").after == ()
    assert job(work, "pass", "guided").after == (("pass", "unopposed"), ("stop", "live"))


def test_known_stages_are_left_out_with_all_that_they_need() -> None:
    """Knowing guided passing is knowing its lower stage and stopping to guided."""
    work = workload_of(
        asking(goal("pass", "live"), known=(Known(skill="pass", stage="guided"),)), CHAIN
    )
    known: frozenset[Node] = frozenset(
        {
            ("stop", "unopposed"),
            ("stop", "guided"),
            ("pass", "unopposed"),
            ("pass", "guided"),
        }
    )

    assert (nodes(work), work.known) == (["pass@live"], known)
    assert job(work, "pass", "live").after == ()


def test_a_known_goal_stays_a_target() -> None:
    """A goal on a known stage asks for no job and is told as known."""
    work = workload_of(asking(goal("stop"), known=(Known(skill="stop", stage="live"),)), CHAIN)

    assert work.jobs == ()
    assert work.targets == (Target(goal=goal("stop"), due=day("01-31"), game=None, known=True),)


def test_the_team_may_need_more_or_less() -> None:
    """What `[[adjust]]` leaves out stays as the library says; other stages too."""
    adjust = (
        Adjust(skill="stop", stage="unopposed", blocks=4),
        Adjust(skill="stop", stage="guided", minutes=5),
    )
    work = workload_of(asking(goal("stop", "live"), adjust=adjust), CHAIN)

    assert [(each.blocks, each.minutes) for each in work.jobs] == [(4, 8), (1, 5), (3, 12)]


def test_pins_pull_in_their_stage() -> None:
    """A pinned stage is asked for with all that it needs, as no goal and with weight 1."""
    work = workload_of(
        asking(
            goal("stop", weight=5), pin=(Pin(skill="pass", stage="unopposed", date=day("01-22")),)
        ),
        CHAIN,
    )

    assert nodes(work) == ["stop@unopposed", "pass@unopposed"]
    assert [target.node for target in work.targets] == [("stop", "unopposed")]
    assert (job(work, "stop").weight, job(work, "pass").weight) == (5, 1)


@pytest.mark.parametrize(
    ("known", "introducing"),
    [
        ((), ["stop@unopposed"]),
        ((Known(skill="stop", stage="unopposed"),), []),
    ],
)
def test_what_introduces_a_skill(known: tuple[Known, ...], introducing: list[str]) -> None:
    """The lowest stage introduces, unless a stage of the skill is known."""
    work = workload_of(asking(goal("stop", "live"), known=known), CHAIN)

    assert ["@".join(each.node) for each in work.jobs if each.introduces] == introducing


def test_a_lowest_stage_need_not_be_unopposed() -> None:
    """A skill that begins with `guided` is introduced by it."""
    skills = library(skill("press", guided=WORK, live=WORK))
    work = workload_of(asking(goal("press", "live")), skills)

    assert [each.introduces for each in work.jobs] == [True, False]


def test_the_last_stage_asked_for() -> None:
    """What is last is told by what the season asks for, as goal or as need, not by the library."""
    work = workload_of(asking(goal("pass")), CHAIN)
    further = workload_of(asking(goal("pass", "guided")), CHAIN)

    assert {"@".join(each.node): each.last for each in work.jobs} == {
        "stop@unopposed": True,
        "pass@unopposed": True,
    }
    assert {"@".join(each.node): each.last for each in further.jobs} == {
        "stop@unopposed": False,
        "pass@unopposed": False,
        "stop@guided": True,
        "pass@guided": True,
    }


def test_the_highest_weight_of_a_skill() -> None:
    """All stages of a skill have the weight of its weightiest goal."""
    work = workload_of(asking(goal("stop", weight=2), goal("stop", "guided", weight=7)), CHAIN)

    assert [each.weight for each in work.jobs] == [7, 7]


@pytest.mark.parametrize(
    ("by", "due", "before", "opponent"),
    [
        (None, day("01-31"), None, None),
        (day("01-20"), day("01-20"), None, None),
        ("cup-1", day("01-30"), "cup-1", "Harbour Light"),
    ],
)
def test_when_a_goal_is_due(
    by: str | dt.date | None, due: dt.date, before: str | None, opponent: str | None
) -> None:
    """By the season's end, by a date, or by a game against somebody on its date."""
    asked = goal("stop", by=by)
    work = workload_of(asking(asked, game=(game(),)), CHAIN)

    assert work.targets == (Target(asked, due, before, known=False, opponent=opponent),)


def test_a_game_that_the_season_lacks() -> None:
    """A goal by an unknown game has no due date: the reading of the files reports it."""
    with pytest.raises(KeyError, match="cup-9"):
        workload_of(asking(goal("stop", by="cup-9")), CHAIN)


AGES = library(
    skill("free", **WHOLE),
    skill("climbs", unopposed=StageWork(age=9), guided=StageWork(age=11), live=StageWork(age=12)),
    skill("late", unopposed=StageWork(age=12), guided=WORK),
)


@pytest.mark.parametrize(
    ("ages", "expected"),
    [
        ((8, 8), {"free": "live"}),
        ((10, 11), {"free": "live", "climbs": "guided"}),
        ((7, 12), {"free": "live", "climbs": "live", "late": "guided"}),
    ],
)
def test_without_goals_everything_that_ages_allow(
    ages: tuple[int, int], expected: dict[str, Stage]
) -> None:
    """Each skill up to the last stage for the oldest player; a stage too hard ends its ladder."""
    found = goals_of(season(ages=ages), AGES)

    assert found == tuple(
        Goal(skill=skill_id, stage=stage, need="could") for skill_id, stage in expected.items()
    )


def test_one_goal_is_enough_to_ask_for_nothing_else() -> None:
    """With a single goal the rest of the library is not asked for."""
    asked = asking(goal("spare"))

    assert goals_of(asked, CHAIN) == (goal("spare"),)
    assert nodes(workload_of(asked, CHAIN)) == ["spare@unopposed"]


def test_what_the_library_lacks_is_left_out() -> None:
    """Goals, known stages and pins without a stage to stand for are reported elsewhere."""
    work = workload_of(
        asking(
            goal("nobody"),
            goal("spare", "live"),
            known=(Known(skill="nobody", stage="live"),),
            pin=(Pin(skill="nobody", stage="live", date=day("01-22")),),
        ),
        CHAIN,
    )

    assert work == Workload(jobs=(), targets=(), known=frozenset())


def test_needs_in_a_loop_cannot_be_ordered() -> None:
    """A loop among what is asked for makes the work unfeasible."""
    skills = library(skill("a", needs=("b",)), skill("b", needs=("a",)))

    with pytest.raises(nx.NetworkXUnfeasible):
        workload_of(asking(goal("a")), skills)


@pytest.mark.parametrize("skills", [CHAIN, library(*CHAIN.skills[::-1])])
def test_the_order_of_files_is_no_matter(skills: Library) -> None:
    """Skills in reversed order give the same work."""
    asked = asking(goal("pass", "live"), goal("spare", need="could"))

    assert workload_of(asked, skills) == workload_of(asked, CHAIN)
