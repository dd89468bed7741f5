"""What stands in the rows of a sheet. Facts of the trade here: common practice, no source."""

from curriculum.practice.rows import Row
from tests.sample_drills import DRILLED, drilled
from tests.sample_plan import GYM, PLAN, SEASON, sheet, sheet_of


def test_a_block_shows_its_drill_with_the_cues_of_both() -> None:
    """The computed drill stands in the row, and its cues take turns with the skill's."""
    row = next(row for row in drilled("02-03").rows if row.number == 1)

    assert row.drill
    assert (row.title, row.drill.name, row.own_drill) == ("Give and go", "Past a guide", "")
    assert row.cues == (
        "Watch the guide's feet",
        "Pass, then go: no watching",
        "Step away first, then in front",
        "Hands up",
    )


def test_the_warm_up_recalls_a_skill_with_a_drill() -> None:
    """What is recalled has its drill, its first cues and the last minutes of the warm-up."""
    row = drilled("01-20").rows[1]

    assert row.drill
    assert (row.clock, row.minutes, row.kind, row.stage) == ("17:38", 4, "RECALL", "unopposed")
    assert (row.drill.name, row.cues) == (
        "Stop and pass",
        ("Land on two feet at once", "Sit down as you land"),
    )


def test_the_warm_up_names_the_published_programme() -> None:
    """The neuromuscular part points to Emery et al. 2022 with its figures, and copies nothing.

    JOSPT, doi 10.2519/jospt.2022.10959: 10 minutes, 13 exercises, ages 11 to 18, IRR 0.64, which
    is 36 % fewer.
    """
    source = drilled("01-20").rows[0].source

    for figure in ("10 min", "13 exercises", "36 % fewer", "11 to 18", "IRR 0.64", "Emery et al."):
        assert figure in source


def test_blocks_of_one_stage_take_turns_among_its_drills() -> None:
    """The chest pass without a defender has two drills, one for each of its two blocks."""
    shown = [
        [row.drill.name for row in drilled(day).rows if row.drill and row.title == "Chest pass"]
        for day in ("01-13", "01-15")
    ]

    assert shown == [["Two lines"], ["Wide lines"]]


def test_the_scrimmage_rewards_the_days_skill() -> None:
    """The game's sides and its rule stand in its row."""
    row = next(row for row in sheet("01-22").rows if row.kind == "SCRIMMAGE")

    assert row.tells == (
        "5 against 5.",
        "Rule of the day: a basket with a good “Pass to a runner” on the way counts double.",
    )


def test_the_coachs_own_drill_stands_in_place_of_the_computed_one() -> None:
    """An id of the library brings that drill; other words stand as the coach wrote them."""

    def row_with(name: str) -> Row:
        planned = PLAN.practices[6]
        block = planned.blocks[0].model_copy(update={"drill": name})
        blocks = (block, *planned.blocks[1:])
        mine = planned.model_copy(update={"blocks": blocks})
        plan = PLAN.model_copy(
            update={"practices": (*PLAN.practices[:6], mine, *PLAN.practices[7:])}
        )
        rows = sheet_of(GYM.practices[6], mine, SEASON, DRILLED, plan).rows
        return next(row for row in rows if row.number == 1)

    named, free = row_with("two-on-two"), row_with("king of the court")

    assert named.drill
    assert (named.drill.name, named.own_drill) == ("Two on two", "")
    assert (free.drill, free.own_drill) == (None, "king of the court")


def test_who_missed_an_introduction_catches_up() -> None:
    """Names stand at the skill's later blocks and its recall, and only where a record gave them."""
    missed = {"give-and-go": ("Aoife", "Bran"), "jump-stop": tuple("ABCDEFGH")}
    later = [row.catch_up for row in drilled("02-03", missed=missed).rows if row.number]
    new = [row.catch_up for row in drilled("01-27", missed=missed).rows if row.number == 1]
    recalled = drilled("01-20", missed=missed).rows[1].catch_up

    assert later == ["Missed the introduction: Aoife and Bran.", "", ""]
    assert new == [""]
    assert recalled == "Missed the introduction: A, B, C, D, E and 3 more."
    assert not any(row.catch_up for row in drilled("02-03").rows)


def test_a_block_row_says_everything_of_its_block() -> None:
    """Kind, skill, stage in words, which of how many, when last, cues and faults stand in a row."""
    row = next(row for row in sheet("02-03").rows if row.number == 1)

    assert row == Row(
        clock="17:42",
        minutes=9,
        kind="BUILD",
        title="Give and go",
        changeover=1,
        number=1,
        stage="guided",
        stage_means="the defender is limited by a rule",
        count="block 2 of 2",
        last_time="last time Fri 29 Jan, guided",
        strand="Moving without the ball",
        tells=("Pass, then cut at once: it beats a defender who relaxes.",),
        cues=("Pass, then go: no watching", "Step away first, then in front", "Hands up"),
        faults=("Stands to admire the pass", "Cuts in a curve"),
    )
