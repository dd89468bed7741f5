"""Reasons, clashes and risks as the terminal shows them, whole pages."""

from curriculum.gym.slots import calendar_of
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.outputs.terminal.clash import clash_view, risks_view
from curriculum.outputs.terminal.render import render
from curriculum.outputs.terminal.why import why_view
from curriculum.risk import Outlook, outlook
from curriculum.schedule.again import Setting, trial
from curriculum.schedule.explain.clash import Clash, clash_of
from curriculum.schedule.explain.remedies import remedies_of
from curriculum.schedule.explain.why import why
from curriculum.schedule.instance import build
from curriculum.schedule.reread import timetable_of
from curriculum.workload import workload_of
from tests.build import day, goal, gym, library, plan_of, season, skill

OF = season(weeks=2, goal=(goal("cut", by=day("01-19")), goal("shot", need="should")))
SKILLS = library("pass", skill("cut", needs=("pass",)), skill("shot", needs=("cut",)))


def lines(*each: str) -> str:
    """Return lines as a page."""
    return "".join(f"{line}\n" for line in each)


def why_page(of: Season, skills: Library, blocks: dict[str, tuple[str, ...]], asked: str) -> str:
    """Return the page about a skill in the plan with these blocks."""
    held = gym(of)
    workload = workload_of(of, skills)
    instance = build(of, held, workload)
    timetable = timetable_of(plan_of(of, skills, held, blocks), held, workload, instance)
    return render(why_view(why(skills, held, workload, instance, timetable, asked), skills))


def test_a_skill_with_its_reasons() -> None:
    """Each block with what keeps it back, what waits for it, what losing it costs."""
    blocks: dict[str, tuple[str, ...]] = {
        "01-12": ("pass",),
        "01-15": ("cut",),
        "01-19": ("shot",),
    }

    assert why_page(OF, SKILLS, blocks, "cut") == lines(
        "Cut",
        "",
        "Fri 15 Jan: unopposed, block 1 of 1 (new)",
        "  Why not earlier?",
        "    - Tue 12 Jan: needs come first: Pass unopposed is held on Tue 12 Jan; no",
        "      plan can have it before Fri 15 Jan.",
        "",
        "Waits for it",
        "  - Shot: unopposed from Tue 19 Jan",
        "",
        "Without it",
        "  - Cut unopposed by Tue 19 Jan is missed",
        "  - 1 stage of Shot waits for Cut unopposed, the first on Tue 19 Jan",
        "  - Shot unopposed by Sun 24 Jan is missed if it is reached after Tue 19 Jan",
    )


def test_a_skill_in_the_first_practice() -> None:
    """Nothing comes before the first practice, and nothing need wait for it."""
    of = season(weeks=2, goal=(goal("pass"),))

    assert why_page(of, library("pass"), {"01-12": ("pass",)}, "pass") == lines(
        "Pass",
        "",
        "Tue 12 Jan: unopposed, block 1 of 1 (new)",
        "  It stands in the first practice that is left.",
        "",
        "Without it",
        "  - Pass unopposed by Sun 24 Jan is missed",
        "  - nothing else waits for Pass unopposed",
    )


def test_a_clash_with_its_remedies() -> None:
    """The sentence, the requirements and what was tried."""
    of = season(weeks=2, goal=(goal("pass", by=day("01-15")),))
    skills = library(skill("pass", unopposed=(3, 8)))
    made = trial(Setting(of, skills, calendar_of(of)))
    found = clash_of(of, skills, made.setting.gym, made.workload, made.instance)
    assert found is not None

    assert render(clash_view(found, remedies_of(made))) == lines(
        "Not everything can be kept.",
        "Pass unopposed by Fri 15 Jan needs 3 practices on different days; only 2 are",
        "left.",
        "",
        "What clashes  by itself",
        "  - Pass unopposed by Fri 15 Jan",
        "",
        "What would clear it  each one tried",
        "  - moving Pass unopposed to Tue 19 Jan: the must-goal is met",
        "  - one more practice on Thu 14 Jan at 17:30 (75 minutes, North Gym): the",
        "    must-goal is met",
        "  - making Pass unopposed a should-goal: no must-goal is missed",
    )


def test_a_clash_that_is_not_proven() -> None:
    """What is not certain is said to be so."""
    found = Clash("no plan was found", ("Pass live by Fri 15 Jan",), False, False, ())

    assert render(clash_view(found)) == lines(
        "Not everything can be kept.",
        "No plan was found.",
        "",
        "What clashes  not proven",
        "  - Pass live by Fri 15 Jan",
        "",
        "No single change that was tried clears it.",
    )


def test_goals_at_risk() -> None:
    """Each goal with the practices that it cannot do without, and what was not looked into."""
    of = season(weeks=2, goal=(goal("pass", by=day("01-15")),))
    skills = library(skill("pass", unopposed=(2, 8)))
    held = gym(of)
    plan = plan_of(of, skills, held, {"01-12": ("pass",), "01-15": ("pass",)})
    found = outlook(of, skills, held, workload_of(of, skills), plan)

    assert render(risks_view(Outlook(found.risks, 2, 4))) == lines(
        "At risk",
        "  ! Pass unopposed by Fri 15 Jan is missed if Tue 12 Jan or Fri 15 Jan is lost",
        "  Looked into the loss of 2 of 4 practices.",
    )


def test_no_goal_at_risk() -> None:
    """A safe plan says so."""
    assert render(risks_view(Outlook((), 4, 4))) == lines(
        "At risk",
        "  No goal is missed when a single practice is lost.",
    )
