"""What the referee says of a plan whose past went otherwise than planned."""

from curriculum.models.gymtimes import LostPractice
from curriculum.models.season import Goal, Pin
from curriculum.referee.judge import judge
from tests.build import day, gym, library, plan_of, season, skill

LADDER = library(skill("pass", unopposed=(1, 8), guided=(1, 8), live=(1, 8)))
OF = season(goal=(Goal(skill="pass", stage="live", need="must"),))


def said(blocks: dict[str, tuple[str, ...]]) -> list[str]:
    """Return the breaches of a plan on Wednesday 13 January, when its first practice is past."""
    held = gym(OF)
    plan = plan_of(OF, LADDER, held, blocks)
    return [breach.says for breach in judge(plan, OF, LADDER, held, day("01-13")).breaches]


def test_what_was_passed_over_may_be_made_good() -> None:
    """The guided stage was held before the unopposed one; then that one comes, then live."""
    assert said({"01-12": ("pass@guided",), "01-15": ("pass",), "01-19": ("pass@live",)}) == []


def test_the_ladder_waits_for_what_was_passed_over() -> None:
    """After guided was held too early, live still may not come before unopposed."""
    found = said({"01-12": ("pass@guided",), "01-15": ("pass@live",), "01-19": ("pass",)})

    assert found == [
        "Fri 15 Jan 2027: Pass live 1 of 1 stands where Pass unopposed 1 of 1 is due",
        "Tue 19 Jan 2027: Pass unopposed 1 of 1 stands where no further block is due",
    ]


def test_what_was_held_is_due_nowhere() -> None:
    """A block that was held stands in the plan's past alone, not once more ahead."""
    held = gym(OF)
    plan = plan_of(OF, LADDER, held, {"01-12": ("pass",), "01-15": ("pass@guided",)})
    again = plan.practices[0].blocks
    practices = [
        practice.model_copy(update={"blocks": again}) if practice.date == day("01-19") else practice
        for practice in plan.practices
    ]
    twice = plan.model_copy(update={"practices": tuple(practices)})

    found = [breach.says for breach in judge(twice, OF, LADDER, held, day("01-13")).breaches]
    assert found[0] == (
        "Tue 19 Jan 2027: Pass unopposed 1 of 1 stands where Pass live 1 of 1 is due"
    )


def test_a_pin_on_a_lost_practice_asks_for_nothing() -> None:
    """What was pinned to a practice that is lost ahead of its date need not be reported missed."""
    pinned = OF.model_copy(update={"pin": (Pin(skill="pass", stage="guided", date=day("01-15")),)})
    lost = pinned.model_copy(
        update={"no_practice": (LostPractice(practice="friday", date=day("01-15")),)}
    )
    held = gym(OF, without=[day("01-15")])
    plan = plan_of(
        OF, LADDER, held, {"01-12": ("pass",), "01-19": ("pass@guided",), "01-22": ("pass@live",)}
    )

    assert [judge(plan, each, LADDER, held).breaches == () for each in (lost, pinned)] == [
        True,
        False,
    ]
