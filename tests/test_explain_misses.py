"""Why goals are missed and pins are given up, sentence by sentence on seasons of two weeks."""

import datetime as dt
from dataclasses import replace

from curriculum.gym.practices import Gym
from curriculum.gym.slots import calendar_of
from curriculum.models.gymtimes import Closure, PracticeOn
from curriculum.models.plan import Miss
from curriculum.models.season import Pin, Season
from curriculum.models.skills import Library, StageWork
from curriculum.schedule.explain.clash import clash_of
from curriculum.schedule.explain.misses import misses_of
from curriculum.schedule.instance import Held, Instance, build, held_of
from curriculum.schedule.solve import solve
from curriculum.schedule.timetable import Timetable
from curriculum.workload import workload_of
from tests.build import day, game, goal, library, plan_of, season, skill


def misses(of: Season, skills: Library, held: Gym | None = None) -> list[str]:
    """Return the sentences of a season's misses."""
    gym = held or calendar_of(of)
    workload = workload_of(of, skills)
    instance = build(of, gym, workload)
    found = misses_of(of, skills, gym, workload, instance, solve(instance, "quick"))
    return [miss.why for miss in found]


def test_nothing_missed_gives_no_miss() -> None:
    """A plan that meets every goal has no miss."""
    of = season(weeks=2, goal=(goal("pass"),))

    assert misses(of, library("pass")) == []


def test_too_few_days_for_one_skill() -> None:
    """Blocks of one skill need days of their own."""
    of = season(weeks=2, goal=(goal("pass", by=day("01-19")),))

    assert misses(of, library(skill("pass", unopposed=(4, 8)))) == [
        "Pass unopposed by Tue 19 Jan needs 4 practices on different days; only 3 are left"
    ]


def test_too_few_practices_for_a_chain_of_needs() -> None:
    """What waits for another skill comes in a later practice; the chain is named."""
    of = season(weeks=2, goal=(goal("screen", by=day("01-19")),))
    skills = library(
        skill("pass", unopposed=(2, 8)),
        skill("cut", needs=("pass",)),
        skill("screen", needs=("cut",)),
    )

    assert misses(of, skills) == [
        (
            "Screen unopposed by Tue 19 Jan needs 4 practices one after another "
            "(Pass > Cut > Screen); only 3 are left"
        )
    ]


def test_lost_dates_are_named() -> None:
    """Dates lost before the goal's date are counted with their reasons."""
    closed = Closure(from_=day("01-14"), until=day("01-20"), reason="half-term")
    of = season(weeks=2, goal=(goal("pass", by=day("01-22")),), closure=(closed,))

    assert misses(of, library(skill("pass", unopposed=(3, 8)))) == [
        (
            "Pass unopposed by Fri 22 Jan needs 3 practices on different days; "
            "only 2 are left (2 dates lost: half-term)"
        )
    ]


def test_no_practice_before_the_date() -> None:
    """A goal due before the first practice says so."""
    of = season(weeks=2, goal=(goal("pass", by=day("01-11")),))

    assert misses(of, library("pass")) == [
        "Pass unopposed by Mon 11 Jan: no practice is left before then"
    ]


def test_a_goal_before_a_game() -> None:
    """A goal due by a game names the opponent and the game's day."""
    of = season(weeks=1, game=(game(date=day("01-16")),), goal=(goal("pass", by="cup-1"),))

    assert misses(of, library(skill("pass", unopposed=(3, 8)))) == [
        (
            "Pass unopposed before the game against Harbour Light on Sat 16 Jan needs 3 practices "
            "on different days; only 2 are left"
        )
    ]


def test_days_between_blocks_that_are_too_many() -> None:
    """When there are practices enough, the gap rule is named with the first possible date."""
    teaching = {"gap_days": 5}
    of = season(weeks=2, goal=(goal("pass", by=day("01-19")),), teaching=teaching)

    assert misses(of, library(skill("pass", unopposed=(3, 8)))) == [
        (
            "Pass unopposed by Tue 19 Jan cannot be reached this season even if nothing else is "
            "taught (5 days between two blocks of a skill)"
        )
    ]


def test_too_few_players() -> None:
    """Players that never come are told apart from those needed."""
    of = season(weeks=2, expected=8, goal=(goal("play"),))
    skills = library(skill("play", unopposed=StageWork(players=10)))

    assert misses(of, skills) == ["Play unopposed by Sun 24 Jan needs 10 players, 8 usually come"]


def test_too_few_baskets_for_what_is_needed() -> None:
    """A shortage of something that the goal waits for names that stage."""
    of = season(weeks=2, goal=(goal("shot"),))
    skills = library(skill("form", unopposed=StageWork(baskets=6)), skill("shot", needs=("form",)))

    assert misses(of, skills) == [
        (
            "Shot unopposed by Sun 24 Jan waits for Form unopposed, which needs 6 baskets, "
            "the gym has 4"
        )
    ]


def test_a_block_longer_than_any_practice() -> None:
    """A block that no practice has time for says how long it is."""
    of = season(weeks=2, goal=(goal("pass"),))

    assert misses(of, library(skill("pass", unopposed=(1, 40)))) == [
        "Pass unopposed by Sun 24 Jan takes 40 minutes at a time, no practice has more than 36"
    ]


def test_must_goals_that_overfill_the_practices() -> None:
    """Minutes with changeovers are compared with the usable minutes until the goals' date."""
    of = season(
        weeks=2, goal=(goal("pass", by=day("01-15")), goal("cut", by=day("01-15"), weight=2))
    )
    skills = library(skill("pass", unopposed=(2, 20)), skill("cut", unopposed=(2, 20)))

    assert misses(of, skills) == [
        (
            "Pass unopposed by Fri 15 Jan: until then the must-goals need 84 minutes, "
            "the 2 practices have 74"
        )
    ]


def test_more_new_skills_than_practices_may_introduce() -> None:
    """Introductions are counted like minutes."""
    of = season(
        weeks=2,
        goal=(
            goal("pass", by=day("01-12"), weight=2),
            goal("cut", by=day("01-12"), weight=2),
            goal("shot", by=day("01-12")),
        ),
    )

    assert misses(of, library("pass", "cut", "shot")) == [
        (
            "Shot unopposed by Tue 12 Jan: until then the must-goals need 3 new skills, "
            "the practice has room for 2"
        )
    ]


def test_should_goals_are_counted_with_must_goals() -> None:
    """A should-goal that does not fit beside the must-goals says so for both."""
    of = season(
        weeks=2,
        goal=(
            goal("pass", by=day("01-15")),
            goal("cut", by=day("01-15"), need="should"),
        ),
    )
    skills = library(skill("pass", unopposed=(2, 20)), skill("cut", unopposed=(2, 20)))

    assert misses(of, skills) == [
        (
            "Cut unopposed by Fri 15 Jan: until then the must- and should-goals need 84 minutes, "
            "the 2 practices have 74"
        )
    ]


def test_a_goal_crowded_out_is_reached_late() -> None:
    """Where no single stretch is overfull, what took the place is named, and the delay."""
    of = season(
        weeks=3,
        goal=(
            goal("pass", by=day("01-15")),
            goal("cut", by=day("01-15"), need="should"),
        ),
    )
    # 21 of 37 minutes are taken on both days; the 31 that are lacking stand in one piece.
    skills = library(skill("pass", unopposed=(2, 20)), skill("cut", unopposed=(1, 30)))

    assert misses(of, skills) == [
        (
            "Cut unopposed by Fri 15 Jan is crowded out by Pass unopposed; "
            "it is reached on Tue 19 Jan, 4 days late"
        )
    ]


def test_past_practices_are_not_counted() -> None:
    """From the middle of a season on, only the practices that are left count."""
    of = season(weeks=2, goal=(goal("pass", by=day("01-19")),))
    skills = library(skill("pass", unopposed=(3, 8)))
    gym = calendar_of(of)
    workload = workload_of(of, skills)
    old = plan_of(of, skills, gym, {})
    today = day("01-14")
    instance = build(of, gym, workload, today, held_of(old, today))

    found = misses_of(of, skills, gym, workload, instance, solve(instance, "quick"))

    assert [miss.why for miss in found] == [
        "Pass unopposed by Tue 19 Jan needs 3 practices on different days; only 2 are left"
    ]


def test_a_pin_before_what_it_needs() -> None:
    """A pin that comes before its needs names the first possible date."""
    pin = Pin(skill="cut", stage="unopposed", date=day("01-12"))
    of = season(weeks=2, goal=(goal("cut"),), pin=(pin,))

    assert misses(of, library("pass", skill("cut", needs=("pass",)))) == [
        "Cut unopposed pinned to Tue 12 Jan: what it needs cannot be taught before Fri 15 Jan"
    ]


def test_a_pin_where_the_players_lack() -> None:
    """A pin on a practice with too few players says so."""
    pin = Pin(skill="play", stage="unopposed", date=day("01-15"))
    of = season(weeks=2, expected=8, pin=(pin,), goal=(goal("pass"),))
    skills = library("pass", skill("play", unopposed=StageWork(players=10)))

    assert misses(of, skills) == [
        "Play unopposed pinned to Fri 15 Jan needs 10 players, 8 usually come"
    ]


def test_a_pin_for_something_new_just_before_a_game() -> None:
    """A pin that introduces a skill in the last practice before a game is given up."""
    pin = Pin(skill="pass", stage="unopposed", date=day("01-15"), number=1)
    of = season(weeks=2, pin=(pin,), game=(game(date=day("01-16")),))

    assert misses(of, library("pass")) == [
        (
            "Pass unopposed block 1 pinned to Fri 15 Jan: nothing new is introduced in the last "
            "practice before a game"
        )
    ]


def test_a_pin_on_a_block_that_the_stage_does_not_have() -> None:
    """A pin may name a higher block than there is."""
    pin = Pin(skill="pass", stage="unopposed", date=day("01-15"), number=3)
    of = season(weeks=2, goal=(goal("pass"),), pin=(pin,))

    assert misses(of, library("pass")) == [
        "Pass unopposed block 3 pinned to Fri 15 Jan: it takes 1 block"
    ]


def test_a_pin_longer_than_its_practice() -> None:
    """The minutes named are those of the pinned practice; another one may have more."""
    long = PracticeOn(date=day("01-14"), start=dt.time(17), minutes=120, venue="north-gym")
    pin = Pin(skill="pass", stage="unopposed", date=day("01-15"), number=1)
    of = season(weeks=2, pin=(pin,), practice_on=(long,))

    assert misses(of, library(skill("pass", unopposed=(1, 50)))) == [
        (
            "Pass unopposed block 1 pinned to Fri 15 Jan takes 50 minutes at a time, "
            "the practice has 36"
        )
    ]


def test_a_pin_that_cannot_be_kept_alone() -> None:
    """Two needs cannot both be introduced before it; no goal and no other pin is to blame."""
    pin = Pin(skill="cut", stage="unopposed", date=day("01-15"))
    of = season(weeks=2, pin=(pin,), teaching={"new_skills": 1})
    skills = library("pass", "shot", skill("cut", needs=("pass", "shot")))

    assert misses(of, skills) == [
        "Cut unopposed pinned to Fri 15 Jan cannot be kept even if nothing else is taught"
    ]


def test_a_pin_on_a_stage_with_one_passed_over_below() -> None:
    """What was held without the stage below it is not reviewed before that is made good."""
    pin = Pin(skill="pass", stage="guided", date=day("01-15"))
    of = season(weeks=2, pin=(pin,))
    skills = library(skill("pass", unopposed=(2, 8), guided=(1, 8)))
    gym, workload, today = calendar_of(of), workload_of(of, skills), day("01-13")
    held = Held(((("pass", "guided"), 1, "2027-01-12-north-gym-1730"),))
    instance = build(of, gym, workload, today, held)
    case = (of, skills, gym, workload, instance)

    says = (
        "Pass guided pinned to Fri 15 Jan: it is not reviewed before Pass unopposed is taught, "
        "which was passed over"
    )
    assert [miss.why for miss in misses_of(*case, solve(instance, "quick"))] == [says]
    found = clash_of(*case)
    assert found is not None
    assert (found.says, found.requirements) == (
        says,
        (
            "Pass guided pinned to Fri 15 Jan",
            "Pass guided keeps away from what was held before",
        ),
    )


def test_two_pins_in_one_practice_that_does_not_hold_both() -> None:
    """The pin that gives way names what stands there instead."""
    pins = tuple(Pin(skill=each, stage="unopposed", date=day("01-12")) for each in ("cut", "pass"))
    of = season(weeks=2, pin=pins)
    skills = library(skill("pass", unopposed=(1, 20)), skill("cut", unopposed=(1, 20)))

    assert misses(of, skills) == [
        "Pass unopposed pinned to Tue 12 Jan gives way to Cut unopposed in that practice"
    ]


def test_a_miss_names_its_stage() -> None:
    """Every miss carries skill and stage beside its sentence."""
    of = season(weeks=2, goal=(goal("pass", by=day("01-11")),))
    gym, skills = calendar_of(of), library("pass")
    workload = workload_of(of, skills)
    instance = build(of, gym, workload)

    assert misses_of(of, skills, gym, workload, instance, solve(instance, "quick")) == (
        Miss(
            skill="pass",
            stage="unopposed",
            why="Pass unopposed by Mon 11 Jan: no practice is left before then",
        ),
    )


def test_a_pin_alone_is_told_of_alike_as_given_up_and_as_a_clash() -> None:
    """The clash needs no quiet practice to be one, but the first possible date keeps all rules."""
    pin = Pin(skill="cut", stage="unopposed", date=day("01-12"))
    of = season(weeks=2, pin=(pin,), game=(game(date=day("01-16")),))
    skills = library("pass", skill("cut", needs=("pass",)))
    gym, workload = calendar_of(of), workload_of(of, skills)
    instance = build(of, gym, workload)

    found = clash_of(of, skills, gym, workload, instance)

    assert found is not None
    assert found.says == (
        "Cut unopposed pinned to Tue 12 Jan: what it needs cannot be taught before Tue 19 Jan"
    )
    assert misses(of, skills)[-1] == found.says


def test_a_could_goal_lost_to_a_plan_that_people_know() -> None:
    """It stood in the plan before: the miss says what came first, and how to turn that round."""
    of = season(weeks=2, goal=(goal("pass"), goal("shot", need="could")))
    skills = library("pass", "shot")
    gym, workload = calendar_of(of), workload_of(of, skills)
    fresh = build(of, gym, workload)
    known = replace(fresh, former=((0,), (1,)), former_reviews=((), ()))
    without = replace(solve(fresh, "quick"), timetable=Timetable(((0,), ()), ((), ())))

    def why(instance: Instance) -> list[str]:
        return [miss.why for miss in misses_of(of, skills, gym, workload, instance, without)]

    assert why(fresh) == [
        (
            "Shot unopposed by Sun 24 Jan is crowded out by Pass unopposed; it is not reached this "
            "season"
        )
    ]
    assert why(known) == [
        (
            "Shot unopposed by Sun 24 Jan is given up for fewer changes to the plan that people "
            "know, which come before could-goals; it is not reached this season; as a should-goal, "
            "or with plan --fresh, it comes first"
        )
    ]
