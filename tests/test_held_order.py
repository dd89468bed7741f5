"""The order in which a practice's blocks are held: new while fresh, needs first, then in turns.

That hard and easy work should alternate is common practice, no published source.
"""

from curriculum.models.plan import Block
from curriculum.models.skills import Library, StageWork
from curriculum.schedule.assemble import in_held_order
from curriculum.workload import workload_of
from tests.build import block, goal, library, season, skill

WORK = StageWork(blocks=1, minutes=8)


def order(skills: Library, *blocks: Block) -> list[str]:
    """Return the blocks of one practice in the order held, as `skill@stage`."""
    goals = tuple(goal(each.id, each.stages[-1]) for each in skills.skills)
    held = in_held_order(list(blocks), workload_of(season(goal=goals), skills))
    return [f"{each.skill}@{each.stage}" for each in held]


def three(*names: str) -> Library:
    """Return skills that have all three stages."""
    return library(*(skill(name, unopposed=WORK, guided=WORK, live=WORK) for name in names))


def test_hard_and_easy_blocks_take_turns_and_an_easy_one_stands_before_the_scrimmage() -> None:
    """Two live blocks are kept apart by a guided one, the other guided one ends the teaching."""
    held = order(
        three("cut", "pass", "roll", "seal"),
        block("cut", "live", kind="build"),
        block("pass", "live", kind="build"),
        block("roll", "guided", kind="build"),
        block("seal", "guided", kind="review"),
    )
    assert held == ["cut@live", "roll@guided", "pass@live", "seal@guided"]


def test_introductions_come_first_and_by_stage_whatever_follows() -> None:
    """A new game does not come before a new movement, though it would alternate better."""
    held = order(
        library(
            skill("cut", unopposed=WORK, guided=WORK, live=WORK),
            skill("game", live=WORK),
            skill("pass", unopposed=WORK, guided=WORK, live=WORK),
        ),
        block("cut", "live", kind="build"),
        block("game", "live"),
        block("pass", "unopposed"),
    )
    assert held == ["pass@unopposed", "game@live", "cut@live"]


def test_after_an_easy_introduction_the_hard_block_follows() -> None:
    """New and easy, then hard, then easy: with the scrimmage everything takes turns."""
    held = order(
        three("cut", "pass", "roll"),
        block("cut", "guided", kind="build"),
        block("pass", "unopposed"),
        block("roll", "live", kind="build"),
    )
    assert held == ["pass@unopposed", "roll@live", "cut@guided"]


def test_a_library_may_call_a_stage_hard_or_easy() -> None:
    """Slides without a ball are hard, a shooting game is not: so the slides go first."""
    skills = library(
        skill("slide", guided=StageWork(blocks=1, minutes=8, hard=True)),
        skill("shot", live=StageWork(blocks=1, minutes=8, hard=False)),
    )
    held = order(
        skills, block("shot", "live", kind="build"), block("slide", "guided", kind="build")
    )
    assert held == ["slide@guided", "shot@live"]


def test_what_a_block_needs_comes_before_it() -> None:
    """Cut waits for roll and roll for seal, against the alphabet that would decide otherwise."""
    skills = library(
        skill("cut", live=WORK, needs=("roll@live",)),
        skill("roll", live=WORK, needs=("seal@live",)),
        skill("seal", live=WORK),
    )
    held = order(
        skills,
        block("cut", "live", kind="build"),
        block("roll", "live", kind="build"),
        block("seal", "live", kind="build"),
    )
    assert held == ["seal@live", "roll@live", "cut@live"]


def test_what_an_introduction_waits_for_today_goes_with_it() -> None:
    """The block that a new skill needs stands before it, other blocks after both."""
    skills = library(
        skill("area", unopposed=WORK),
        skill("pass", guided=WORK),
        skill("roll", unopposed=WORK, needs=("pass",)),
    )
    held = order(
        skills,
        block("area", "unopposed", kind="build"),
        block("pass", "guided", kind="build"),
        block("roll", "unopposed"),
    )
    assert held == ["pass@guided", "roll@unopposed", "area@unopposed"]


def test_blocks_given_in_another_order_are_held_in_the_same_one() -> None:
    """The order depends on the blocks, not on how they came."""
    skills = three("cut", "pass", "roll", "seal")
    blocks = (
        block("cut", "live", kind="build"),
        block("pass", "guided", kind="build"),
        block("roll", "live", kind="review"),
        block("seal", "guided", kind="review"),
    )
    assert order(skills, *blocks) == order(skills, *reversed(blocks))
