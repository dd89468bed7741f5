"""What the record tells: progress planned against real, minutes, absences, and load."""

import datetime as dt

import pytest

from curriculum.gym.practices import Gym
from curriculum.insight.absences import Missed, missed_introductions, to_catch_up
from curriculum.insight.follows import Follows, follows
from curriculum.insight.load import load
from curriculum.insight.progress import Recorded, StrandMinutes, progress
from curriculum.insight.real import real_blocks
from curriculum.models.record import NOTHING, Record
from curriculum.models.season import Load, LoadRules, Season
from curriculum.workload import workload_of
from tests.build import day, game, gym, season
from tests.record_cases import block_record, entry, of_practice, record_of
from tests.sample_plan import GYM, LIBRARY, PLAN, SEASON
from tests.sample_record import (
    FIRST,
    FOURTH,
    HELD,
    LOST,
    RECORD,
    SECOND,
    SHORTENED,
    TODAY,
    WORKLOAD,
)

START = SEASON.season.start


def far(record: Record, before: dt.date) -> dict[str, tuple[str, int, int, int | None]]:
    """Return state, blocks held and asked, and days late of the stages that are begun or due."""
    page = progress(record, PLAN, LIBRARY, GYM, WORKLOAD, before)
    return {
        f"{each.skill}@{each.stage}": (each.state, each.held, each.asked, each.late)
        for each in page.stages
        if each.held or each.planned
    }


def test_a_stage_is_learnt_only_when_the_record_says_solid() -> None:
    """Held is taught; learnt needs a solid last block; shaky leaves it begun; a loss to come."""
    assert far(RECORD, TODAY) == {
        "chest-pass@unopposed": ("begun", 1, 3, None),
        "chest-pass@guided": ("to come", 0, 1, None),
        "lead-pass@unopposed": ("learnt", 1, 1, -2),
        "lead-pass@guided": ("taught", 1, 1, 0),
        "v-cut@unopposed": ("begun", 1, 2, None),
        "v-cut@guided": ("taught", 1, 1, 0),
        "strong-lay-up@unopposed": ("begun", 1, 2, None),
        "strong-lay-up@guided": ("taught", 1, 1, 0),
    }


def test_without_a_record_all_counts_as_planned() -> None:
    """Nothing recorded: what the plan holds in the past is taught, on its dates."""
    workload = workload_of(SEASON, LIBRARY)
    page = progress(NOTHING, PLAN, LIBRARY, GYM, workload, TODAY)

    begun = {(each.skill, each.stage): each for each in page.stages if each.held}
    assert {each.state for each in begun.values()} == {"taught"}
    assert {each.late for each in begun.values()} == {0}
    assert page.recorded == Recorded(past=4, recorded=0, lost=0, shortened=0, lost_minutes=0)


def test_before_the_first_practice_nothing_has_begun() -> None:
    """On the season's first day every stage is to come, planned blocks and minutes ahead."""
    page = progress(NOTHING, PLAN, LIBRARY, GYM, workload_of(SEASON, LIBRARY), START)

    assert {(each.state, each.planned, each.held) for each in page.stages} == {("to come", 0, 0)}
    assert {(each.planned, each.taught) for each in page.strands} == {(0, 0)}


def test_how_much_is_recorded() -> None:
    """Lost and shortened practices are counted with the minutes that are gone."""
    page = progress(RECORD, PLAN, LIBRARY, GYM, WORKLOAD, TODAY)

    assert page.recorded == Recorded(past=4, recorded=3, lost=1, shortened=1, lost_minutes=85)


def test_minutes_by_strand() -> None:
    """Half a block counts half, a lost one nothing, one beside the plan only as taught.

    By hand, Wednesday to Friday: finishing 9 + 0 lost + 9 beside the plan + 9 not recorded.
    """
    page = progress(RECORD, PLAN, LIBRARY, GYM, WORKLOAD, TODAY)

    strands = {each.strand: each for each in page.strands}
    assert strands["Finishing"] == StrandMinutes("Finishing", 27, 27, 18)
    assert strands["Passing and catching"] == StrandMinutes(
        "Passing and catching", 8 + 8 + 8 + 9 + 9, 8 + 0 + 8 + 0 + 9, 12
    )
    assert strands["Moving without the ball"] == StrandMinutes(
        "Moving without the ball", 8 + 8, 4 + 8, 130
    )


def test_real_blocks_are_recorded_or_as_planned() -> None:
    """Each past block stands once: from the record where there is one, else from the plan."""
    real = real_blocks(RECORD, PLAN, TODAY)

    assert [(each.practice, len(each.practice) > 0, each.recorded) for each in real] == [
        *[(FIRST.id, True, True)] * 2,
        *[(SECOND.id, True, True)] * 2,
        *[(SHORTENED.practice, True, True)] * 4,
        *[(FOURTH.id, True, False)] * 3,
    ]


def test_who_missed_which_introduction() -> None:
    """An absent player missed what was introduced, until there when it is taught again."""
    assert missed_introductions(RECORD, TODAY) == (
        Missed("Aoife", "chest-pass", day("01-13"), None),
        Missed("Bran", "chest-pass", day("01-13"), None),
        Missed("Aoife", "strong-lay-up", day("01-13"), day("01-20")),
        Missed("Bran", "strong-lay-up", day("01-13"), None),
        Missed("Bran", "lead-pass", day("01-20"), None),
        Missed("Bran", "v-cut", day("01-20"), None),
    )


def test_what_was_not_held_nobody_missed() -> None:
    """A block that did not take place introduced nothing."""
    blocks = tuple(block_record(each, held="not held") for each in FIRST.blocks)
    record = record_of(of_practice(FIRST, blocks=blocks, absent=("Aoife",)))

    assert missed_introductions(record, TODAY) == ()


def test_who_is_to_catch_up_by_skill() -> None:
    """A sheet names those who have not been taught the skill since."""
    assert to_catch_up(RECORD, day("01-20")) == {
        "chest-pass": ("Aoife", "Bran"),
        "strong-lay-up": ("Aoife", "Bran"),
    }
    assert to_catch_up(RECORD, TODAY) == {
        "chest-pass": ("Aoife", "Bran"),
        "lead-pass": ("Bran",),
        "strong-lay-up": ("Bran",),
        "v-cut": ("Bran",),
    }


def test_what_follows_from_an_entry() -> None:
    """Shaky asks for more, not yet and not held are due, and what was beside the plan is not."""
    assert follows(HELD) == Follows(
        more=(("chest-pass", "unopposed"),), due=(("strong-lay-up", "unopposed"),)
    )
    assert follows(LOST).due == (("chest-pass", "unopposed"), ("strong-lay-up", "unopposed"))
    assert follows(SHORTENED) == Follows(
        more=(("v-cut", "unopposed"),), due=(("chest-pass", "guided"),)
    )
    assert follows(entry()).nothing


def weeks(
    of: Season, held: Gym, record: Record = NOTHING
) -> list[tuple[int, int, tuple[str, ...]]]:
    """Return minutes, rest days and faults of each week."""
    page = load(of, held, record, of.season.start)
    return [(week.minutes, week.rest, week.faults) for week in page.weeks]


def test_the_load_of_a_week() -> None:
    """Practices and games count with their minutes, days without either are rest days."""
    of = season(weeks=3, game=(game(),))

    assert weeks(of, gym(of)) == [(150, 5, ()), (150, 5, ()), (210, 4, ())]


def test_the_load_is_the_real_one() -> None:
    """A shortened practice counts with the minutes that were held."""
    of = season(weeks=1)
    short = entry(
        practice="2027-01-12-north-gym-1730",
        date=day("01-12"),
        status="shortened",
        minutes_held=40,
    )

    assert weeks(of, gym(of), record_of(short)) == [(115, 5, ())]


@pytest.mark.parametrize(
    ("ages", "minutes", "expected"),
    [
        ((8, 9), 90, ()),
        ((8, 9), 91, ("more than 3 hours",)),
        ((9, 11), 150, ()),
        ((11, 12), 151, ("more than 5 hours",)),
        ((12, 14), 300, ()),
        ((14, 14), 301, ("more than 10 hours",)),
    ],
)
def test_hours_a_week_by_age(
    ages: tuple[int, int], minutes: int, expected: tuple[str, ...]
) -> None:
    """Most hours of organised basketball a week: 3 at 7-8, 5 at 9-11, 10 at 12-14.

    Source: DiFiori et al. (2018), Sports Medicine 48:2053-2065, Table 4. The youngest player's age
    decides; exactly so many hours are none too many.
    """
    of = season(weeks=1, ages=ages)

    assert weeks(of, gym(of, minutes=minutes)) == [(2 * minutes, 5, expected)]


@pytest.mark.parametrize(("age", "minutes"), [(10, 300), (12, 360)])
def test_hours_a_week_no_more_than_years(age: int, minutes: int) -> None:
    """A child trains at most as many hours a week as it has years, with two days without.

    Source: NATA, official statement of 16 October 2019, e.g. a 12-year-old at most 12 hours.
    """
    of = season(weeks=1, ages=(age, age), load=Load(rules="nata"))
    found = [weeks(of, gym(of, minutes=each))[0][2] for each in (minutes, minutes + 1)]

    assert found == [(), (f"more than {age} hours",)]


@pytest.mark.parametrize(
    ("rules", "age", "rest"),
    [("nba-usab", 11, 2), ("nba-usab", 12, 1), ("nata", 12, 2), ("aap", 12, 2)],
)
def test_rest_days_a_week(rules: LoadRules, age: int, rest: int) -> None:
    """Days a week without: NBA and USA Basketball 2 to age 11 and 1 from 12, NATA 2, AAP 2.

    Sources: NBA and USA Basketball, Youth Basketball Guidelines (2016), by press reports; NATA
    (2019); AAP (2000), at most five days a week in one sport.
    """
    of = season(
        weeks=1,
        weekdays=("monday", "tuesday", "wednesday", "thursday", "friday", "saturday"),
        minutes=30,
        ages=(age, age),
        load=Load(rules=rules),
    )
    page = load(of, gym(of, minutes=30), NOTHING, of.season.start)

    assert page.asks is not None
    assert page.asks.rest == rest
    expected = () if rest == 1 else ("1 rest day, 2 are asked for",)
    assert page.weeks[0].faults == expected


def test_bodies_that_differ_are_named() -> None:
    """At 12, NATA asks for two rest days where NBA and USA Basketball ask for one."""
    of = season(ages=(12, 13))

    found = load(of, gym(of), NOTHING, of.season.start).conflicts
    assert found[0] == (
        "rest days a week, at least: NBA and USA Basketball 1, "
        "National Athletic Trainers' Association 2, American Academy of Pediatrics 2"
    )


def test_every_rule_set_names_body_and_year() -> None:
    """What is asked for is said with its source, its year, and how it is known."""
    of = season()
    page = load(of, gym(of), NOTHING, of.season.start)

    assert page.asks is not None
    for asks in (page.asks, *page.others):
        assert any(f"{year}" in asks.source for year in range(2000, 2026))
        assert asks.certainty
