"""The plan itself: every way in which a plan can fail to be one of this season."""

import datetime as dt
from typing import Any

import pytest

from curriculum.gym.practices import Gym
from curriculum.models.plan import Block, NotHeld, Plan
from curriculum.models.season import Adjust, Known
from curriculum.referee.judge import judge
from curriculum.referee.verdict import Breach
from tests.build import block, day, game, goal, gym, library, plan_of, season, skill

SKILLS = library(skill("pass", unopposed=(2, 8), guided=(1, 10)), "stop", "spare")
OF = season(
    goal=(goal("pass", "guided"), goal("stop")),
    game=(game(),),
)
LOST = NotHeld(id="2027-01-29-north-gym-1730", date=day("01-29"), why="school fair")
HELD = Gym(practices=gym(OF, without=[day("01-29")]).practices, not_held=(LOST,), games=(game(),))
BLOCKS: dict[str, tuple[str, ...]] = {
    "01-12": ("pass", "stop"),
    "01-15": ("pass",),
    "01-19": ("pass@guided", "review stop"),
}
PLAN = plan_of(OF, SKILLS, HELD, BLOCKS)
FIRST = "2027-01-12-north-gym-1730"


def of_itself(plan: Plan, today: dt.date | None = None) -> tuple[Breach, ...]:
    """Return what is wrong with the plan itself."""
    found = judge(plan, OF, SKILLS, HELD, today).breaches
    return tuple(breach for breach in found if breach.rule == "the plan itself")


def with_block(date: str, index: int, **changes: Any) -> Plan:
    """Return the plan with one block of a practice changed."""
    practices = list(PLAN.practices)
    for place, practice in enumerate(practices):
        if practice.date == day(date):
            blocks = list(practice.blocks)
            blocks[index] = blocks[index].model_copy(update=changes)
            practices[place] = practice.model_copy(update={"blocks": tuple(blocks)})
    return PLAN.model_copy(update={"practices": tuple(practices)})


def with_practice(place: int, **changes: Any) -> Plan:
    """Return the plan with one practice changed."""
    practices = list(PLAN.practices)
    practices[place] = practices[place].model_copy(update=changes)
    return PLAN.model_copy(update={"practices": tuple(practices)})


def test_a_plan_of_this_season_is_one() -> None:
    """A plan of the season's own practices and jobs has nothing wrong with it."""
    assert judge(PLAN, OF, SKILLS, HELD).breaches == ()


def test_a_plan_read_back_is_the_same_plan() -> None:
    """Writing a plan as JSON and reading it back changes nothing that the referee sees."""
    again = Plan.model_validate_json(PLAN.model_dump_json())

    assert judge(again, OF, SKILLS, HELD).breaches == ()


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        (
            {"season": "another"},
            "the plan is of season another, not of kestrel-quay-test",
        ),
        (
            {"timezone": "Europe/Paris"},
            "the plan's time zone is Europe/Paris, the season's Europe/Dublin",
        ),
        ({"games": ()}, "Sat 30 Jan 2027: the game cup-1 of the season is not in the plan"),
        ({"not_held": ()}, "Fri 29 Jan 2027: not held (school fair) is not in the plan"),
    ],
)
def test_the_frame_is_that_of_the_season(changes: dict[str, Any], says: str) -> None:
    """Season, time zone, games and dates not held are those of the season."""
    expected = (Breach("the plan itself", None, None, None, says),)

    assert of_itself(PLAN.model_copy(update=changes)) == expected


def test_a_game_that_changed_is_named_twice() -> None:
    """A game at another hour is one that the season lacks, and one that the plan lacks."""
    moved = PLAN.games[0].model_copy(update={"start": dt.time(12, 0)})

    assert [breach.says for breach in of_itself(PLAN.model_copy(update={"games": (moved,)}))] == [
        "Sat 30 Jan 2027: the game cup-1 is not as the season has it",
        "Sat 30 Jan 2027: the game cup-1 of the season is not in the plan",
    ]


def test_a_date_not_held_that_is_held() -> None:
    """A date that the calendar holds after all may not stand as lost."""
    extra = NotHeld(id=FIRST, date=day("01-12"), why="snow")

    assert [
        breach.says for breach in of_itself(PLAN.model_copy(update={"not_held": (LOST, extra)}))
    ] == ["Tue 12 Jan 2027: not held (snow) is not in the calendar"]


def test_a_practice_outside_the_calendar() -> None:
    """A practice with an id of its own is not in the calendar, and the real one is missing."""
    expected = (
        Breach(
            "the plan itself",
            "sunday",
            None,
            None,
            "Tue 26 Jan 2027: the practice at 17:30 is not in the calendar",
        ),
        Breach(
            "the plan itself",
            "2027-01-26-north-gym-1730",
            None,
            None,
            "Tue 26 Jan 2027: the practice at 17:30 stands in the calendar, but not in the plan",
        ),
    )

    assert of_itself(with_practice(4, id="sunday")) == expected


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"start": dt.time(18, 0)}, "start is 18:00, in the calendar 17:30"),
        ({"end": dt.time(19, 0)}, "end is 19:00, in the calendar 18:45"),
        ({"venue": "south-gym"}, "venue is south-gym, in the calendar north-gym"),
        ({"week": 2}, "week is 2, in the calendar 3"),
        ({"teaching_minutes": 50}, "teaching minutes is 50, in the calendar 42"),
    ],
)
def test_a_practice_is_as_in_the_calendar(changes: dict[str, Any], says: str) -> None:
    """Times, venue, week and teaching minutes are those of the calendar."""
    practice_id = "2027-01-26-north-gym-1730"
    says = f"Tue 26 Jan 2027: the practice's {says}"

    assert of_itself(with_practice(4, **changes)) == (
        Breach("the plan itself", practice_id, None, None, says),
    )


def test_ids_stand_once() -> None:
    """Two practices of one id are told apart from none."""
    twice = PLAN.model_copy(update={"practices": (*PLAN.practices, PLAN.practices[4])})

    assert of_itself(twice) == (
        Breach(
            "the plan itself",
            "2027-01-26-north-gym-1730",
            None,
            None,
            "the practice 2027-01-26-north-gym-1730 stands 2 times in the plan",
        ),
    )


@pytest.mark.parametrize(
    ("entry", "says"),
    [
        (block("pas"), "pas unopposed: the library has no skill pas"),
        (block("stop", "live"), "Stop has no stage live"),
        (block("spare"), "Spare unopposed is not asked for by the season"),
        (
            block("spare", kind="review", minutes=6),
            "review of Spare unopposed 1 of 1: the season does not ask for this skill",
        ),
    ],
)
def test_a_block_names_what_the_season_asks_for(entry: Block, says: str) -> None:
    """A block of an unknown skill, a stage that the skill lacks, or something unasked."""
    plan = plan_of(OF, SKILLS, HELD, {**BLOCKS, "01-22": (entry,)})
    practice_id = "2027-01-22-north-gym-1730"

    assert of_itself(plan) == (
        Breach(
            "the plan itself", practice_id, entry.skill, entry.stage, f"Fri 22 Jan 2027: {says}"
        ),
    )


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"number": 3}, "Pass unopposed 3 of 2: this stage has 2 blocks"),
        ({"of": 3}, "Pass unopposed 2 of 3: this stage has 2 blocks"),
        (
            {"kind": "introduce"},
            "Pass unopposed 2 of 2: the kind is introduce, it should be build",
        ),
        ({"minutes": 9}, "Pass unopposed 2 of 2: 9 minutes, it takes 8"),
    ],
)
def test_a_block_is_numbered_and_timed_by_its_job(changes: dict[str, Any], says: str) -> None:
    """Number, count, kind and minutes follow from the season's work."""
    assert of_itself(with_block("01-15", 0, **changes)) == (
        Breach(
            "the plan itself",
            "2027-01-15-north-gym-1730",
            "pass",
            "unopposed",
            f"Fri 15 Jan 2027: {says}",
        ),
    )


def test_a_first_block_introduces() -> None:
    """The first block of a skill whose stages are all new is an introduction."""
    assert [breach.says for breach in of_itself(with_block("01-12", 1, kind="build"))] == [
        "Tue 12 Jan 2027: Stop unopposed 1 of 1: the kind is build, it should be introduce"
    ]


def test_blocks_and_minutes_as_adjusted() -> None:
    """What `[[adjust]]` says of a stage takes the place of the library's word."""
    goals = (goal("pass", "guided"),)
    known = (Known(skill="pass", stage="unopposed"),)
    adjust = (Adjust(skill="pass", stage="guided", blocks=2, minutes=15),)
    plain, adjusted = (
        season(goal=goals, known=known),
        season(goal=goals, known=known, adjust=adjust),
    )
    held = gym(plain)
    blocks = {"01-12": ("pass@guided",)}
    old, new = (plan_of(of, SKILLS, held, blocks) for of in (plain, adjusted))

    assert judge(new, adjusted, SKILLS, held).breaches == ()
    assert [
        breach.says
        for breach in judge(old, adjusted, SKILLS, held).breaches
        if breach.rule == "the plan itself"
    ] == [
        "Tue 12 Jan 2027: Pass guided 1 of 1: this stage has 2 blocks",
        "Tue 12 Jan 2027: Pass guided 1 of 1: 10 minutes, it takes 15",
    ]


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"number": 2}, "review of Stop unopposed 2 of 1: by date it is number 1 of 1"),
        ({"of": 2}, "review of Stop unopposed 1 of 2: by date it is number 1 of 1"),
        ({"minutes": 8}, "review of Stop unopposed 1 of 1: 8 minutes, it takes 6"),
    ],
)
def test_reviews_are_numbered_by_date(changes: dict[str, Any], says: str) -> None:
    """A review counts over all reviews of its skill, and takes `review_minutes`."""
    assert of_itself(with_block("01-19", 1, **changes)) == (
        Breach(
            "the plan itself",
            "2027-01-19-north-gym-1730",
            "stop",
            "unopposed",
            f"Tue 19 Jan 2027: {says}",
        ),
    )


def test_only_finished_skills_are_reviewed() -> None:
    """A skill whose last asked stage the plan never reaches has nothing to review."""
    plan = plan_of(OF, SKILLS, HELD, {"01-12": ("pass",), "01-19": ("review pass@guided",)})

    assert of_itself(plan) == (
        Breach(
            "the plan itself",
            "2027-01-19-north-gym-1730",
            "pass",
            "guided",
            "Tue 19 Jan 2027: review of Pass guided 1 of 1: Pass guided is never reached, so there "
            "is nothing to review",
        ),
    )


def test_the_past_is_left_as_it_was() -> None:
    """On the day after, a practice with odd blocks, hours and a lost date is no fault any more."""
    odd = with_block("01-12", 0, minutes=20)
    first = odd.practices[0].model_copy(update={"id": "somewhere", "start": dt.time(16, 0)})
    plan = odd.model_copy(update={"practices": (first, *odd.practices[1:]), "not_held": (LOST,)})

    assert len(of_itself(plan, today=day("01-12"))) == 3
    assert of_itself(plan, today=day("01-13")) == ()
