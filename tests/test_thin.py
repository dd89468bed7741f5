"""Why a practice with much unused time holds no more, and where its minutes go."""

from collections.abc import Mapping
from typing import Any

from curriculum.models.season import Pin, Season
from curriculum.models.skills import Library
from curriculum.practice.thin import thin_practices
from tests.build import day, game, goal, gym, library, plan_of, season, skill

LEARN = library(
    skill("pass", unopposed=(1, 8), guided=(1, 10)),
    skill("cut", unopposed=(1, 8)),
    skill("slide", unopposed=(1, 8)),
)
GOALS = (goal("pass", "guided"), goal("cut"), goal("slide"))


def said(
    blocks: Mapping[str, tuple[str, ...]],
    of: Season | None = None,
    skills: Library = LEARN,
    **changes: Any,
) -> dict[str, str]:
    """Return what is said of the thin practices of a plan with these blocks, by month and day."""
    frame = of or season(weeks=1, weekdays=("tuesday", "thursday", "friday"), goal=GOALS)
    held = gym(frame, **changes)
    plan = plan_of(frame, skills, held, blocks)
    return {key[5:10]: words for key, words in thin_practices(plan, frame, skills, held).items()}


def test_the_limit_on_new_skills_and_what_waits() -> None:
    """A first practice with two new skills: a third may not start, the rest builds on these two."""
    assert said({"01-12": ("pass", "cut"), "01-14": ("pass@guided", "slide")})["01-12"] == (
        "19 minutes more for the scrimmage: at most 2 new skills a practice and the rest builds "
        "on what is taught here or later."
    )


def test_the_limit_is_the_season_s_own() -> None:
    """The number named is the one that the season sets."""
    of = season(
        weeks=1,
        weekdays=("tuesday", "thursday"),
        goal=(goal("cut"), goal("slide")),
        teaching={"new_skills": 1},
    )

    assert said({"01-12": ("cut",), "01-14": ("slide",)}, of)["01-12"] == (
        "28 minutes more for the scrimmage: at most 1 new skill a practice."
    )


def test_what_only_waits() -> None:
    """Where nothing but needs keeps the rest out, the limit on new skills is not blamed."""
    of = season(weeks=1, weekdays=("tuesday", "thursday"), goal=(goal("pass", "guided"),))

    assert said({"01-12": ("pass",), "01-14": ("pass@guided",)}, of)["01-12"] == (
        "28 minutes more for the scrimmage: the rest builds on what is taught here or later."
    )


def test_nothing_new_before_a_game() -> None:
    """The rule about the last practice before a game is named where it keeps something out."""
    of = season(
        weeks=2,
        weekdays=("tuesday", "friday"),
        goal=(goal("cut"), goal("slide")),
        game=(game(date=day("01-16")),),
    )
    before = {day("01-15"): {"before_game": True}}

    assert said({"01-12": ("cut",), "01-19": ("slide",)}, of, changes=before)["01-15"] == (
        "37 minutes more for the scrimmage: nothing new just before a game."
    )


def test_a_plan_that_could_have_taught_more_blames_no_rule() -> None:
    """A block that no rule keeps out is the plan's own choice, and no limit is named for it."""
    assert said({"01-12": ("pass",), "01-14": ("cut", "slide")})["01-12"] == (
        "28 minutes more for the scrimmage: this plan keeps other blocks for later."
    )


def test_nothing_is_left_to_teach() -> None:
    """After the last block the reason is that all is taught."""
    of = season(weeks=1, weekdays=("tuesday", "thursday"), goal=(goal("cut"),))

    assert said({"01-12": ("cut",)}, of)["01-14"] == (
        "37 minutes more for the scrimmage: nothing else asked for is left to teach."
    )


def test_pins_count_only_where_nothing_else_does() -> None:
    """The coach's own pin needs no word beside a rule, and is the reason where it stands alone."""
    pin = (Pin(skill="slide", stage="unopposed", date=day("01-14")),)
    days: dict[str, Any] = {"weeks": 1, "weekdays": ("tuesday", "thursday"), "pin": pin}
    alone = season(**days, goal=(goal("cut"), goal("slide")))
    waiting = season(**days, goal=(goal("pass", "guided"), goal("slide")))

    assert [
        said({"01-12": ("cut",), "01-14": ("slide",)}, alone)["01-12"],
        said({"01-12": ("pass",), "01-14": ("pass@guided", "slide")}, waiting)["01-12"],
    ] == [
        "28 minutes more for the scrimmage: what is left is pinned to later dates.",
        "28 minutes more for the scrimmage: the rest builds on what is taught here or later.",
    ]


def test_a_practice_that_is_nearly_full_is_not_thin() -> None:
    """Of 37 usable minutes less than a quarter is unused: nothing is said."""
    of = season(weeks=1, weekdays=("tuesday", "thursday"), goal=GOALS, teaching={"new_skills": 3})
    full = said({"01-12": ("pass", "cut", "slide"), "01-14": ("pass@guided",)}, of)

    assert "01-12" in full
    assert "01-12" not in said(
        {"01-12": ("pass", "cut", "slide"), "01-14": ("pass@guided",)},
        of,
        changes={day("01-12"): {"usable_minutes": 35}},
    )


def test_blocks_longer_than_the_time_left() -> None:
    """A block that does not fit is named as that, not as a limit."""
    of = season(weeks=1, weekdays=("tuesday", "thursday"), goal=(goal("cut"), goal("slide")))
    short = {day("01-12"): {"usable_minutes": 14}}

    assert said({"01-12": ("cut",), "01-14": ("slide",)}, of, changes=short)["01-12"] == (
        "5 minutes more for the scrimmage: some blocks are longer than the time left."
    )
