"""Players who join late, and teams ahead of or behind their age group."""

from curriculum.club.joiners import CheckItem, Standing, entry_check, standing_of
from tests.build import goal, gym, library, plan_of, season, skill
from tests.club_build import club, columns, reach

PASS = skill("pass", unopposed=(1, 8), guided=(2, 9))
CUT = skill("cut", needs=("pass",), guided=(1, 8))
SKILLS = library(PASS, CUT)
COLUMNS = columns(reach("young", guided=["pass"]), reach("old", guided=["cut"]))


def item(skill_id: str, blocks: int, minutes: int) -> CheckItem:
    """Return what is to be checked of a skill, to its guided stage."""
    return CheckItem(skill_id, skill_id.capitalize(), "Passing", "guided", (), blocks, minutes)


def test_a_newcomer_lacks_what_the_younger_groups_reach() -> None:
    """Everything that came before, with the blocks it takes to catch up."""
    around = club()

    assert entry_check(around, COLUMNS, SKILLS, around.age_group[1]) == (item("pass", 3, 26),)


def test_what_the_player_can_do_is_left_out() -> None:
    """A higher stage covers the lower ones and all that they need."""
    around = club()
    old = around.age_group[1]

    assert entry_check(around, COLUMNS, SKILLS, old, (("cut", "guided"),)) == ()
    assert entry_check(around, COLUMNS, SKILLS, old, (("pass", "unopposed"),)) == (
        item("pass", 2, 18),
    )


def test_the_youngest_have_nothing_to_catch_up() -> None:
    """Nobody is younger, so nothing was missed."""
    around = club()

    assert entry_check(around, COLUMNS, SKILLS, around.age_group[0]) == ()


def test_a_team_stands_ahead_behind_and_begins_again() -> None:
    """A team that teaches the younger group's skill from new, and not its own column.

    By hand: its plan introduces pass, which the young reach; cut, its column, is not in it; shot is
    beyond the column.
    """
    skills = library(PASS, CUT, skill("shot"))
    of = season(goal=(goal("pass"), goal("shot")))
    plan = plan_of(of, skills, gym(of), {"01-12": ["pass", "shot"]})
    around = club()

    found = standing_of("a", around.age_group[1], plan, frozenset(), around, COLUMNS, skills)

    assert found == Standing(
        team="a",
        asked=1,
        behind=(("cut", "guided"),),
        ahead=(("shot", "unopposed"),),
        again=(("pass", "unopposed"),),
    )
