"""The verdict as a whole: which rules are asked, in which order, and what is past."""

from typing import Any

from curriculum.models.season import Pin
from curriculum.models.skills import StageWork
from curriculum.referee.judge import judge
from curriculum.referee.verdict import Breach, Verdict
from tests.build import block, day, game, goal, gym, library, plan_of, season, skill

SKILLS = library(
    "stop",
    skill("pass", needs=("stop",), unopposed=StageWork(blocks=2, minutes=20, players=12)),
    skill("cut", unopposed=(1, 20)),
)
OF = season(
    goal=(goal("pass"), goal("cut", need="could")),
    game=(game(date=day("01-16")),),
    pin=(Pin(skill="cut", stage="unopposed", date=day("01-15")),),
    teaching={"new_skills": 1},
)
HELD = gym(OF, changes={day("01-12"): {"before_game": True}})
WRONG = plan_of(
    OF,
    SKILLS,
    HELD,
    {"01-12": ("pass", "cut", "pass", block("stop", minutes=9))},
    misses=(),
    status="feasible",
)


def test_every_rule_is_asked() -> None:
    """One practice in which all goes wrong breaks every rule, and they speak in their order."""
    found = judge(WRONG, OF, SKILLS, HELD).breaches

    assert list(dict.fromkeys(breach.rule for breach in found)) == [
        "the plan itself",
        "inside the gym time",
        "ladder",
        "needs come first",
        "new in small bites",
        "quiet before a game",
        "enough players, baskets and court",
        "pins and the past",
        "honest goals",
    ]


def test_what_is_past_breaks_no_rule() -> None:
    """On the day itself the practice is still judged, on the day after it is not.

    A pin to a later date is still due, and so is what the plan says of its goals.
    """
    today = judge(WRONG, OF, SKILLS, HELD, today=day("01-12"))
    tomorrow = judge(WRONG, OF, SKILLS, HELD, today=day("01-13"))

    assert today == judge(WRONG, OF, SKILLS, HELD)
    assert [breach.rule for breach in tomorrow.breaches] == ["pins and the past", "honest goals"]


def test_blocks_to_come_stand_on_those_that_are_past() -> None:
    """A past block counts as held: what comes after it keeps the ladder, the gap and the needs."""
    of = season(goal=(goal("pass"),), expected=12, teaching={"gap_days": 4})
    held = gym(of)
    blocks: dict[str, Any] = {"01-12": ("stop",), "01-15": ("pass",), "01-19": ("pass",)}
    plan = plan_of(of, SKILLS, held, blocks)
    close = plan_of(of, SKILLS, held, {"01-12": ("stop",), "01-19": ("pass",), "01-22": ("pass",)})
    breach = Breach(
        "ladder",
        "2027-01-22-north-gym-1730",
        "pass",
        "unopposed",
        "Fri 22 Jan 2027: Pass unopposed 2 of 2 comes 3 days after Pass unopposed 1 of 2, at "
        "least 4 days must lie between",
    )

    assert judge(plan, of, SKILLS, held, today=day("01-18")) == Verdict((), ())
    assert judge(close, of, SKILLS, held, today=day("01-20")) == Verdict((breach,), ())
    assert judge(close, of, SKILLS, held, today=day("01-23")) == Verdict((), ())


def test_the_order_of_files_is_no_matter() -> None:
    """Skills and practices in reversed order give the same verdict."""
    skills = SKILLS.model_copy(update={"skills": SKILLS.skills[::-1]})
    plan = WRONG.model_copy(update={"practices": WRONG.practices[::-1]})

    assert judge(plan, OF, skills, HELD) == judge(WRONG, OF, SKILLS, HELD)


def test_a_breach_reads_as_rule_and_sentence() -> None:
    """As text a breach is its rule's name and its sentence."""
    breach = Breach("ladder", None, None, None, "Tue 12 Jan 2027: too soon")

    assert str(breach) == "ladder: Tue 12 Jan 2027: too soon"
