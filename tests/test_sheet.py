"""What a sheet says."""

import datetime as dt
from dataclasses import replace

import pytest

from curriculum.models.season import Team
from curriculum.models.skills import Library
from curriculum.practice.goals import GoalLine, NextGame
from curriculum.practice.safety import adults_needed, supervision
from curriculum.practice.sheet import NextPractice
from tests.sample_drills import DRILLED, drilled
from tests.sample_plan import BLOCKS, GYM, LIBRARY, PLAN, SEASON, sheet, sheet_of


def test_the_rows_follow_the_clock() -> None:
    """Rows stand in the order of the practice, each with its kind as a word."""
    rows = sheet("01-20").rows

    assert [(row.clock, row.minutes, row.kind, row.title) for row in rows] == [
        ("17:30", 8, "WARM-UP", "Warm-up: move, land, balance"),
        ("17:38", 4, "RECALL", "Recall: Jump stop"),
        ("17:42", 8, "NEW", "Pass to a runner"),
        ("17:51", 2, "WATER", "Water"),
        ("17:53", 8, "NEW", "V-cut"),
        ("18:02", 9, "BUILD", "Chest pass"),
        ("18:12", 2, "WATER", "Water"),
        ("18:14", 26, "SCRIMMAGE", "Scrimmage"),
        ("18:40", 5, "COOL-DOWN", "Cool-down"),
    ]


@pytest.mark.parametrize("day", list(BLOCKS))
def test_the_minutes_of_a_sheet_sum_to_the_practice(day: str) -> None:
    """A coach who adds up the minutes and changeovers on paper gets the gym time."""
    page = sheet(day)

    assert sum(row.minutes + row.changeover for row in page.rows) == page.minutes


@pytest.mark.parametrize(
    ("day", "title"),
    [
        ("01-13", "New today: Chest pass and Lay-up, strong side"),
        ("01-29", "Five spots against a guided defender"),
        ("02-26", "Backdoor cut, live"),
        ("03-19", "Back to: Give and go"),
        ("03-12", "Play, and recall: Lay-up, strong side"),
    ],
)
def test_the_title_names_what_the_day_is_about(day: str, title: str) -> None:
    """What is new names the day, else the longest build, else a review, else a recall."""
    assert sheet(day).title == title


def test_aims_are_the_first_cues_of_the_main_skills() -> None:
    """Two new skills give one cue each, then the next skill one; never more than three."""
    assert sheet("01-20").aims == (
        "Throw where the hands will be",
        "Walk in, run out",
        "Step to the target",
    )


def test_place_and_number_stand_in_words() -> None:
    """A sheet says where, when, how many are expected, and which practice of how many it is."""
    page = sheet("01-22")

    assert (page.day, page.start, page.end) == ("Friday 22 January 2027", "18:00", "19:00")
    assert (page.venue, page.court) == ("Quay Hall", "half court, 2 baskets")
    assert (page.week, page.number, page.of, page.expected) == (2, 4, 19, 10)


def test_the_next_game_brings_the_goals_still_open() -> None:
    """Goals due by the next game stand beside it; those reached before today do not."""
    line = GoalLine(
        skill="Give and go",
        stage="live",
        need="must",
        by=dt.date(2027, 2, 20),
        due="before the game against Pinehill on Sat 20 Feb",
        taught_by="Fri 12 Feb",
        promise="taught by Fri 12 Feb",
        slack_days=8,
        outcome="met",
    )

    assert sheet("02-10").next_game == NextGame(
        dt.date(2027, 2, 20), "Sat 20 Feb, 10:00", "away against Pinehill", 10, (line,)
    )


def test_a_goal_that_comes_too_late_is_said_to_be_missed() -> None:
    """The plan promises nothing by a date that it does not keep."""
    (goal,) = sheet("03-10").goals

    assert (goal.skill, goal.promise, goal.slack_days, goal.outcome) == (
        "Guard the ball",
        "taught by Wed 10 Mar, too late",
        -5,
        "missed",
    )


def test_a_goal_that_is_never_reached_promises_nothing() -> None:
    """A goal that the plan leaves out says so, with no date."""
    (goal,) = (goal for goal in sheet("03-03").goals if goal.skill.startswith("Screen"))

    assert (goal.promise, goal.slack_days, goal.outcome) == ("not in this plan", None, "missed")


def test_a_skill_without_a_goal_shows_the_goal_that_waits_for_it() -> None:
    """Where no skill of the day has a goal of its own, the first goal that needs one is shown."""
    assert [goal.skill for goal in sheet("01-20").goals] == ["Give and go"]


def test_the_next_practice_is_announced_with_its_blocks() -> None:
    """The last lines tell what comes next time."""
    assert sheet("01-20").next_practice == NextPractice(
        when="Fri 22 Jan, 18:00, Quay Hall",
        blocks=(
            "BUILD Pass to a runner, guided",
            "BUILD V-cut, guided",
            "BUILD Lay-up, strong side, guided",
        ),
    )


def test_the_last_practice_announces_nothing() -> None:
    """After the last practice of a plan there is no next one, and no next game."""
    page = sheet("03-26")

    assert (page.next_practice, page.next_game) == (None, None)


def test_a_quiet_practice_says_why_nothing_is_new() -> None:
    """Before a game the sheet says that nothing new is on purpose."""
    full = list(BLOCKS).index("03-24")
    quiet = replace(GYM.practices[full], before_game=True)
    page = sheet_of(quiet, PLAN.practices[full], SEASON, LIBRARY, PLAN)

    assert (page.note, sheet("03-24").note) == ("Nothing new today: a game follows.", "")


def test_a_thin_practice_says_where_its_minutes_go() -> None:
    """Where much time is unused, the sheet says why, and what is done with it."""
    assert sheet("03-12").note == (
        "32 minutes more for the scrimmage: nothing else asked for is left to teach."
    )


def test_recalls_take_turns_and_are_reached_before() -> None:
    """A warm-up recalls what today builds on first, then what was least recently met.

    Only the jump stop is known at first, and three times something new builds on it. On 22 January
    chest pass and jump stop were both met two days before: the alphabet decides. On 27 January give
    and go needs the pass to a runner and the V-cut, both of the 22nd; two days later it is the
    V-cut's turn.
    """
    titles = [sheet(day).rows[1].title for day in list(BLOCKS)[:6]]

    assert [title.removeprefix("Recall: ") for title in titles] == [
        "Jump stop",
        "Jump stop",
        "Jump stop",
        "Chest pass",
        "Pass to a runner",
        "V-cut",
    ]


def test_a_skill_that_the_library_has_lost_keeps_its_id() -> None:
    """A plan from an older library still prints, with the id in place of the name."""
    page = sheet_of(GYM.practices[0], PLAN.practices[0], SEASON, Library(), PLAN)

    assert page.title == "New today: chest-pass and strong-lay-up"


def test_a_practice_outside_the_plan_is_refused() -> None:
    """A sheet is made of a plan's own practice."""
    stranger = PLAN.practices[0].model_copy(update={"id": "elsewhere"})

    with pytest.raises(ValueError, match="elsewhere is not in the plan"):
        sheet_of(GYM.practices[0], stranger, SEASON, LIBRARY, PLAN)


@pytest.mark.parametrize(
    ("children", "age", "adults"),
    [
        # The three published examples of the CPSU/NSPCC page, https://thecpsu.org.uk; its ratio for
        # under-2s is not in the table, because no team is that young.
        (25, 13, 3),
        (10, 13, 2),
        # The same page: 2-3 years 1:4, 4-8 years 1:6, 9-12 years 1:8, 13-18 years 1:10, always 2.
        (9, 3, 3),
        (13, 8, 3),
        (12, 8, 2),
        (17, 9, 3),
        (16, 12, 2),
        (1, 10, 2),
        (40, 18, 4),
        (12, 19, None),
    ],
)
def test_adults_needed(children: int, age: int, adults: int | None) -> None:
    """The fewest adults follow the published minimum ratios."""
    assert adults_needed(children, age) == adults


def test_a_coach_alone_is_told_to_find_help() -> None:
    """Too few coaches for the ratio are named with how many are missing."""
    assert supervision(10, (10, 11), 1) == (
        "At least 2 adults for 10 players aged 10 to 11: 1 for 8, never under 2 (CPSU/NSPCC); local"
        " rules come first. You have 1 coach: find 1 more adult."
    )


def test_grown_ups_need_no_supervision() -> None:
    """A team of grown-ups gets no supervision line."""
    season = SEASON.model_copy(update={"team": Team(name="Kestrel Quay", ages=(19, 40), players=9)})

    assert sheet_of(GYM.practices[0], PLAN.practices[0], season, LIBRARY, PLAN).supervision == ""


def test_every_sheet_carries_the_usual_cautions() -> None:
    """Head, heat and drink are on every sheet; the tool sends people to a medical professional."""
    (head, heat) = sheet("01-13").cautions

    assert "medical advice" in head
    assert "water" in heat


def test_what_to_bring_is_the_largest_need() -> None:
    """On 13 January: two lay-up balls a group and five passing pairs at once, bibs for a side."""
    page = drilled("01-13")
    kits = [row.drill.kit for row in page.rows if row.drill]

    assert page.kit == (f"{max(kit.balls for kit in kits)} balls", "5 bibs")


def test_balls_that_do_not_go_round_are_shared_and_the_sheet_says_so() -> None:
    """With four balls nothing asks for more, and who packs the bag knows that it is all of them."""
    team = SEASON.team.model_copy(update={"balls": 4})
    season = SEASON.model_copy(update={"team": team})
    page = sheet_of(GYM.practices[0], PLAN.practices[0], season, DRILLED, PLAN)
    drills = [row.drill for row in page.rows if row.drill]

    assert page.kit == ("4 balls: shared", "5 bibs")
    assert max(drill.kit.balls for drill in drills) == 4


def test_a_practice_that_moved_is_dated_by_the_gym() -> None:
    """The gym calendar says when and how long; the plan only says what."""
    moved = replace(GYM.practices[0], date=dt.date(2027, 1, 14), start=dt.time(19))
    page = sheet_of(moved, PLAN.practices[0], SEASON, LIBRARY, PLAN)

    assert (page.day, page.rows[0].clock) == ("Thursday 14 January 2027", "19:00")
