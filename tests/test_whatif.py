"""What-ifs: what each form means, what is refused and why, and what changes in the season."""

import datetime as dt

import pytest
from click.testing import CliRunner

from curriculum.cli.plan import command
from curriculum.gym.slots import calendar_of
from curriculum.models.gymtimes import Closure, NoPractice, PracticeOn
from curriculum.models.season import Pin, Season
from curriculum.models.skills import Library
from curriculum.outputs.terminal.render import render
from curriculum.outputs.terminal.whatif import what_if_view
from curriculum.problems import Problem
from curriculum.replan import Place, setting_of
from curriculum.schedule.changes import (
    Change,
    Extra,
    GoalBy,
    GoalNeed,
    Minutes,
    Players,
    Teach,
    WithoutDates,
    WithoutPin,
    apply,
    change_words,
)
from curriculum.schedule.explain.words import names_of
from curriculum.whatif.forms import FORMS, parse
from curriculum.whatif.outcome import tried
from tests.build import day, game, goal, library, plan_of, season, skill

SKILLS = library(skill("give-and-go", unopposed=(1, 8), live=(1, 8)), "v-cut")
PIN = Pin(skill="give-and-go", stage="live", date=day("02-09"))
OF = season(
    weeks=12,
    goal=(goal("give-and-go", "live", by=day("02-20")),),
    game=(game("cup-1", day("02-27")),),
    pin=(PIN,),
)
MADE = dt.datetime(2027, 1, 5, 9, 0, tzinfo=dt.UTC)
LOST_DAY = """\
What if: no 2027-01-15
Compared with revision 1, the plan that stands.

Practices  1 change
gone  Fri 15 Jan 17:30, North Gym

Blocks  2 changes
moved Give-and-go, live 1: Fri 15 Jan to Tue 19 Jan
new   Give-and-go, live, review 1: Fri 22 Jan

Newly at risk
  ! Give-and-go live by Tue 19 Jan is missed if Tue 12 Jan or Tue 19 Jan is lost

Nothing was written.
"""
TUESDAYS_OF_MARCH = (day("03-02"), day("03-09"), day("03-16"), day("03-23"), day("03-30"))


def place(text: str) -> Place:
    """Return the place of a date."""
    return Place(f"2027-{text}-north-gym-1730", day(text), dt.time(17, 30), "north-gym")


def parsed(
    *texts: str, of: Season = OF, skills: Library = SKILLS
) -> tuple[tuple[Change, ...], tuple[Problem, ...]]:
    """Return what texts mean for a season."""
    return parse(texts, of, skills, calendar_of(of))


@pytest.mark.parametrize(
    ("text", "change"),
    [
        ("no 2027-02-09", WithoutDates(day("02-09"), day("02-09"))),
        ("no 2027-02-09 to 2027-02-19", WithoutDates(day("02-09"), day("02-19"))),
        ("no tuesdays from 2027-03-01", WithoutDates(day("03-01"), day("04-04"), "tuesday")),
        (
            "No  Tue from 2027-3-1 to 2027-3-9",
            WithoutDates(day("03-01"), day("03-09"), "tuesday"),
        ),
        ("no fridays", WithoutDates(day("01-11"), day("04-04"), "friday")),
        (
            "extra 2027-02-13 10:00 90 north-gym",
            Extra(day("02-13"), dt.time(10, 0), 90, "north-gym"),
        ),
        ("extra 2027-02-13", Extra(day("02-13"), dt.time(17, 30), 75, "north-gym")),
        ("90 minutes", Minutes(90)),
        ("10 minutes more", Minutes(10, more=True)),
        ("8 players", Players(8)),
        ("give-and-go@live by 2027-03-01", GoalBy("give-and-go", "live", day("03-01"))),
        ("give-and-go@live by cup-1", GoalBy("give-and-go", "live", "cup-1")),
        ("give-and-go@live should", GoalNeed("give-and-go", "live", "should")),
        ("no pin give-and-go@live 2027-02-09", WithoutPin("give-and-go", "live", day("02-09"))),
        ("3 new skills", Teach("new_skills", 3)),
        ("6 blocks", Teach("blocks", 6)),
        ("gap 1", Teach("gap_days", 1)),
        ("spare 5", Teach("spare", 5)),
    ],
)
def test_each_form_is_understood(text: str, change: Change) -> None:
    """Every form gives its change, whatever its capitals and blanks."""
    assert parsed(text) == ((change,), ())


def test_the_published_forms_are_understood() -> None:
    """Each example that the program shows is read without a problem."""
    changes, problems = parsed(*(form for form, _ in FORMS))

    assert (len(changes), problems) == (len(FORMS), ())


@pytest.mark.parametrize(
    ("text", "says", "way_out"),
    [
        (
            "no 2027-02-10",
            "no practice is held then",
            "practices near it: 2027-02-09, 2027-02-12",
        ),
        (
            "no 2027-02-30",
            "there is no date 2027-02-30",
            "write year, month and day, as in 2027-02-09",
        ),
        ("no tusdays", "this is no weekday", 'did you mean "tuesdays"?'),
        (
            "extra 2027-05-01",
            "the date lies outside the season",
            "it runs from 2027-01-11 to 2027-04-04",
        ),
        ("extra 2027-02-13 25:00", "this is no time of day", "write it as in 17:30"),
        (
            "extra 2027-02-13 10:00 90 nort-gym",
            "no gym has this id",
            'did you mean "north-gym"?',
        ),
        ("900 minutes", "the number is out of range", "write one from 15 to 300"),
        ("9" * 5000 + " minutes", "the number is out of range", "write one from 15 to 300"),
        ("0 players", "the number is out of range", "write one from 1 to 60"),
        (
            "give-and-gone@live should",
            "no skill has this id",
            'did you mean "give-and-go"?',
        ),
        (
            "give-and-go@guided should",
            "give-and-go has no stage guided",
            "it has unopposed, live",
        ),
        (
            "give-and-go@unopposed should",
            "the season has no goal on this stage",
            'there is "give-and-go@live"',
        ),
        (
            "give-and-go@live by cup-2",
            "this is neither a date nor a game's id",
            'did you mean "cup-1"?',
        ),
        (
            "no pin give-and-go@live 2027-02-12",
            "there is no such pin",
            "the pins are give-and-go@live 2027-02-09",
        ),
    ],
)
def test_what_cannot_be_had_is_refused_with_a_way_out(text: str, says: str, way_out: str) -> None:
    """A text that is understood but does not fit the season names what is wrong and what to do."""
    assert parsed(text) == ((), (Problem("what-if", 1, "", says, text, way_out),))


def test_what_is_not_understood_names_the_forms() -> None:
    """Every text is read; a problem carries the number of its text and where the forms stand."""
    changes, problems = parsed("8 players", "make it better")

    assert changes == (Players(8),)
    assert [str(problem) for problem in problems] == [
        (
            "what-if:2: this is not understood (found make it better); "
            "`curriculum plan --help` lists what is"
        )
    ]


def test_help_names_the_forms() -> None:
    """Every form stands in the help of the command, with what it means."""
    words = " ".join(CliRunner().invoke(command, ["--help"]).output.split())

    assert [form for form in FORMS if " ".join(form) not in words] == []


def test_dates_are_lost() -> None:
    """A weekday that is lost from a date on is called off date by date."""
    after = apply(OF, [WithoutDates(day("03-01"), day("04-04"), "tuesday")])

    assert after.no_practice == tuple(
        NoPractice(date=each, reason="what if") for each in TUESDAYS_OF_MARCH
    )
    lost = {one.date for one in calendar_of(OF).practices} - {
        one.date for one in calendar_of(after).practices
    }
    assert lost == set(TUESDAYS_OF_MARCH)


def test_an_extra_practice_is_held() -> None:
    """One more practice stands in the calendar with its own time."""
    after = apply(OF, [Extra(day("02-13"), dt.time(10, 0), 90, "north-gym")])

    assert after.practice_on == (
        PracticeOn(date=day("02-13"), start=dt.time(10, 0), minutes=90, venue="north-gym"),
    )
    assert [one.minutes for one in calendar_of(after).on(day("02-13"))] == [90]


def test_practices_grow_longer_by_and_to() -> None:
    """Minutes are set or added for every practice."""
    changes: tuple[Change, ...] = (Minutes(90), Minutes(10, more=True))

    assert {one.minutes for one in calendar_of(apply(OF, changes)).practices} == {100}


def test_players_come_to_every_practice() -> None:
    """The number holds for slots that state their own, too."""
    slots = tuple(slot.model_copy(update={"expected": 12}) for slot in OF.slot)
    of = OF.model_copy(update={"slot": slots})

    assert {one.expected for one in calendar_of(apply(of, [Players(8)])).practices} == {8}


def test_goals_pins_and_limits_change() -> None:
    """Goals get another date and need, pins go, limits change; the season given stays as it was."""
    before = OF.model_dump()
    after = apply(
        OF,
        [
            GoalBy("give-and-go", "live", day("03-01")),
            GoalNeed("give-and-go", "live", "could"),
            WithoutPin("give-and-go", "live", day("02-09")),
            Teach("new_skills", 3),
        ],
    )

    assert after.goal == (goal("give-and-go", "live", by=day("03-01"), need="could"),)
    assert after.pin == ()
    assert after.teaching.new_skills == 3
    assert OF.model_dump() == before


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (WithoutDates(day("02-09"), day("02-09")), "no practice on Tue 9 Feb"),
        (
            WithoutDates(day("03-01"), day("04-04"), "tuesday"),
            "no Tuesdays from Mon 1 Mar to Sun 4 Apr",
        ),
        (
            Extra(day("02-13"), dt.time(10, 0), 90, "north-gym"),
            "one more practice on Sat 13 Feb at 10:00 (90 minutes, North Gym)",
        ),
        (Minutes(90), "90 minutes a practice"),
        (Minutes(10, more=True), "10 minutes more per practice"),
        (Players(8), "8 players at every practice"),
        (GoalBy("give-and-go", "live", day("03-01")), "moving Give-and-go live to Mon 1 Mar"),
        (
            GoalBy("give-and-go", "live", "cup-1"),
            "moving Give-and-go live to the game against Harbour Light on Sat 27 Feb",
        ),
        (GoalNeed("give-and-go", "live", "should"), "making Give-and-go live a should-goal"),
        (Teach("new_skills", 3), "3 new skills a practice instead of 2"),
        (Teach("blocks", 1), "1 block a practice instead of 5"),
        (Teach("gap_days", 11), "11 days instead of 1 between two blocks of a skill"),
        (Teach("spare", 5), "5 % of the minutes kept free instead of 10 %"),
        (
            WithoutPin("give-and-go", "live", day("02-09")),
            "without the pin of Give-and-go live on Tue 9 Feb",
        ),
    ],
)
def test_changes_in_words(change: Change, words: str) -> None:
    """Each change starts a sentence in the coach's words."""
    assert change_words(change, OF, names_of(SKILLS)) == words


def test_a_what_if_is_compared_with_the_present_plan() -> None:
    """Losing the only spare day loses no goal, but what stood there moves and a goal is at risk."""
    of = season(weeks=2, goal=(goal("give-and-go", "live", by=day("01-19")),))
    gym = calendar_of(of)
    plan = plan_of(of, SKILLS, gym, {"01-12": ("give-and-go",), "01-15": ("give-and-go@live",)})
    setting = setting_of(of, SKILLS, gym, plan, day("01-11"), published=True)

    outcome = tried(setting, plan, [WithoutDates(day("01-15"), day("01-15"))], MADE)

    assert [(one.block.stage, one.now, one.forced) for one in outcome.difference.moved] == [
        ("live", place("01-19"), True)
    ]
    assert outcome.difference.lost == (place("01-15"),)
    assert outcome.difference.goals_lost == ()
    assert outcome.difference.newly_at_risk == (("give-and-go", "live"),)
    assert outcome.notes == ()
    assert render(what_if_view(["no 2027-01-15"], outcome, plan, of, SKILLS)) == LOST_DAY


def test_a_what_if_that_the_gym_forbids_says_so() -> None:
    """One more practice in a closed gym is not held, and the reason comes along."""
    closed = Closure(from_=day("01-16"), until=day("01-16"), reason="painting")
    of = season(weeks=2, goal=(goal("v-cut"),), closure=(closed,))
    gym = calendar_of(of)
    plan = plan_of(of, SKILLS, gym, {"01-12": ("v-cut",)})
    extra = Extra(day("01-16"), dt.time(10, 0), 90, "north-gym")

    outcome = tried(setting_of(of, SKILLS, gym, plan), plan, [extra], MADE)

    assert outcome.notes == ("north-gym is closed on this date: painting (2027-01-16)",)
    assert outcome.difference.added == ()


def test_a_what_if_that_takes_a_pin_its_practice_says_so() -> None:
    """A pin whose date is lost counts for nothing, and that is told."""
    of = season(weeks=12, pin=(PIN,), goal=(goal("v-cut"),))
    gym = calendar_of(of)
    plan = plan_of(of, SKILLS, gym, {"01-12": ("v-cut",)})
    lost = WithoutDates(PIN.date, PIN.date)

    outcome = tried(setting_of(of, SKILLS, gym, plan), plan, [lost], MADE)

    assert outcome.notes == (
        (
            "Give-and-go live pinned to Tue 9 Feb counts for nothing: "
            "no practice is held then any more"
        ),
    )
