"""Which skills the map shows, how they hang together, and when each is taught."""

from curriculum.models.skills import Library, Skill, StageWork
from curriculum.practice.skillmap import SkillNode, skill_map
from tests.sample_plan import LIBRARY, PLAN, SEASON

WORK = StageWork()


def test_the_map_holds_what_is_taught_known_and_left_out() -> None:
    """Weeks are those of the first lesson; the eleven weeks of the season make four shades.

    Jump stop is known; give and go is new on 27 January, in week 3; the second quarter begins with
    week 4 (11 / 4 = 2.75 weeks a quarter).
    """
    nodes = {node.skill: node for node in skill_map(PLAN, SEASON, LIBRARY).nodes}

    assert nodes["jump-stop"] == SkillNode(
        "jump-stop", "Jump stop", "Footwork", "known before", "known"
    )
    assert (nodes["give-and-go"].when, nodes["give-and-go"].shade) == ("week 3", "first")
    assert (nodes["guard-the-ball"].when, nodes["guard-the-ball"].shade) == ("week 4", "second")
    assert (nodes["screen-away"].when, nodes["screen-away"].shade) == ("week 8", "third")


def test_the_legend_names_the_weeks_of_each_shade_in_use() -> None:
    """Weeks 10 and 11 teach nothing new, so their shade is not in the legend."""
    assert skill_map(PLAN, SEASON, LIBRARY).legend == (
        ("first", "first taught in weeks 1 to 3"),
        ("second", "first taught in weeks 4 to 6"),
        ("third", "first taught in weeks 7 to 9"),
        ("known", "known before"),
    )


def test_needs_that_follow_from_others_are_left_out() -> None:
    """The backdoor cut needs the V-cut by way of give and go already."""
    needs = skill_map(PLAN, SEASON, LIBRARY).needs

    assert ("give-and-go", "backdoor-cut") in needs
    assert ("v-cut", "backdoor-cut") not in needs


def test_a_goal_that_is_never_taught_is_on_the_map() -> None:
    """A skill that the plan leaves out stands there as left out, with what it needs."""
    bare = PLAN.model_copy(
        update={"practices": tuple(p.model_copy(update={"blocks": ()}) for p in PLAN.practices)}
    )
    nodes = {node.skill: node.when for node in skill_map(bare, SEASON, LIBRARY).nodes}

    assert nodes["screen-away"] == "not in this plan"
    assert nodes["chest-pass"] == "not in this plan"
    assert nodes["jump-stop"] == "known before"


def test_skills_that_need_each_others_stages_still_have_an_order() -> None:
    """A needs B without a defender, B's live stage needs A: whole skills run in a circle."""
    library = Library(
        skills=(
            Skill(id="a", name="A", strand="S", unopposed=WORK, needs=("b@unopposed",)),
            Skill(
                id="b",
                name="B",
                strand="S",
                unopposed=WORK,
                live=StageWork(needs=("a@unopposed",)),
            ),
        )
    )
    goals = tuple(
        goal.model_copy(update={"skill": skill, "stage": "unopposed"})
        for goal, skill in zip(PLAN.goals, "ab", strict=False)
    )
    plan = PLAN.model_copy(update={"practices": (), "goals": goals})
    season = SEASON.model_copy(update={"known": (), "goal": ()})

    assert skill_map(plan, season, library).needs == (("a", "b"),)
