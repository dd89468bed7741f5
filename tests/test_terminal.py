"""What the terminal shows: whole pages against expected texts, and what must hold of any page."""

import re
from collections.abc import Callable

import pytest
from rich.cells import cell_len
from rich.console import RenderableType

from curriculum.models.plan import Plan
from curriculum.models.skills import Library
from curriculum.outputs.terminal.chart import chart_view
from curriculum.outputs.terminal.problems import difference_view, problems_view
from curriculum.outputs.terminal.render import NARROWEST, render, say
from curriculum.outputs.terminal.season import season_view
from curriculum.outputs.terminal.sheet import sheet_view
from curriculum.outputs.terminal.skills import graph_view, skill_view, strand_view
from curriculum.outputs.terminal.week import week_view
from curriculum.practice.difference import difference
from curriculum.problems import Problem
from tests.conftest import Golden
from tests.sample_drills import drilled
from tests.sample_plan import GYM, LIBRARY, PLAN, SEASON, sheet

PROBLEMS = (
    Problem(
        "", 0, "fonts", "these letters came from a font of this computer", "한", level="warning"
    ),
    Problem(
        "season.toml",
        14,
        "slot.minutes",
        "a gym time of ten minutes holds no practice, because the fixed parts take longer",
        "10",
        "write at least 30, or set the fixed parts yourself",
    ),
)


def later_plan() -> Plan:
    """Return the plan after a bad week: a practice and a block moved, others and a goal lost."""
    practices = list(PLAN.practices)
    third, fifth = practices[2], practices[4]
    practices[2] = third.model_copy(update={"blocks": third.blocks[:2]})
    practices[3] = practices[3].model_copy(update={"date": third.date.replace(day=23)})
    practices[4] = fifth.model_copy(update={"blocks": fifth.blocks + third.blocks[2:]})
    goals = [
        goal.model_copy(update={"met": goal.skill not in {"backdoor-cut", "screen-away"}})
        for goal in PLAN.goals
    ]
    changes = {"revision": 4, "practices": tuple(practices[:-1]), "goals": tuple(goals)}
    return PLAN.model_copy(update=changes)


PAGES: dict[str, Callable[[], RenderableType]] = {
    "season": lambda: season_view(PLAN, SEASON, LIBRARY, GYM),
    "chart": lambda: chart_view(PLAN, SEASON, LIBRARY),
    "week-6": lambda: week_view(PLAN, SEASON, LIBRARY, GYM, 6),
    "week-9": lambda: week_view(PLAN, SEASON, LIBRARY, GYM, 9),
    "skill": lambda: skill_view(PLAN, SEASON, LIBRARY, "give-and-go"),
    "strand": lambda: strand_view(PLAN, SEASON, LIBRARY, "Moving without the ball"),
    "graph": lambda: graph_view(LIBRARY, PLAN),
    "sheet": lambda: sheet_view(sheet("02-24")),
    "sheet-with-drills": lambda: sheet_view(drilled("02-03", missed={"give-and-go": ("Aoife",)})),
    "sheet-without-blocks": lambda: sheet_view(sheet("03-12")),
    "problems": lambda: problems_view(PROBLEMS),
    "difference": lambda: difference_view(difference(PLAN, later_plan(), SEASON, LIBRARY)),
}


@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_as_expected(name: str, golden: Golden) -> None:
    """A page at 80 columns without colour is the expected text."""
    golden.check(f"terminal-{name}.txt", render(PAGES[name]()))


@pytest.mark.parametrize("width", [NARROWEST, 80, 100])
@pytest.mark.parametrize("name", PAGES)
def test_no_line_is_wider_than_the_page(name: str, width: int) -> None:
    """Lines fold instead of running over, also on a narrow page."""
    lines = render(PAGES[name](), width).splitlines()

    assert [line for line in lines if cell_len(line) > width] == []


@pytest.mark.parametrize("name", PAGES)
def test_colour_adds_nothing_that_words_do_not_say(name: str) -> None:
    """With its escapes taken out a coloured page is the plain one."""
    coloured = render(PAGES[name](), color=True)
    bare = re.sub(r"\x1b\[[0-9;]*m", "", coloured)

    assert [line.rstrip() for line in bare.splitlines()] == render(PAGES[name]()).splitlines()


@pytest.mark.parametrize("name", PAGES)
def test_a_page_does_not_hang_on_the_environment(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What a shell sets about width and colour changes no page."""
    before = render(PAGES[name]())
    for variable, value in (("COLUMNS", "40"), ("FORCE_COLOR", "1"), ("TERM", "dumb")):
        monkeypatch.setenv(variable, value)

    assert render(PAGES[name]()) == before


def test_optimal_is_said_only_of_an_optimal_plan() -> None:
    """The word optimal stands in a season's head when the plan's status says so, else never."""
    pages = {
        status: render(
            season_view(PLAN.model_copy(update={"status": status}), SEASON, LIBRARY, GYM)
        )
        for status in ("optimal", "feasible", "partial")
    }

    assert {status: "optimal" in page for status, page in pages.items()} == {
        "optimal": True,
        "feasible": False,
        "partial": False,
    }


def test_goals_name_the_opponent_and_no_id() -> None:
    """A goal due by a game stands under it as a coach says it, however long that is."""
    club = "Pinehill and District Basketball Club, Under-12 Whites"
    games = tuple(
        game.model_copy(update={"opponent": club}) if game.id == "cup-1" else game
        for game in PLAN.games
    )
    page = render(season_view(PLAN.model_copy(update={"games": games}), SEASON, LIBRARY, GYM))
    goals = page.partition("Goals\n")[2].partition("Not honoured")[0]

    assert " ".join(goals.split()).count(f"Before the game against {club} on Sat 20 Feb met") == 1
    assert "cup-" not in goals
    assert max(map(len, page.splitlines())) <= 80


def test_weeks_that_do_not_fit_go_below() -> None:
    """On a page too narrow for all weeks, none is lost: the rest stand in a second chart."""
    page = render(chart_view(PLAN, SEASON, LIBRARY, width=26))

    rows = [line.split()[-2] for line in page.splitlines() if line.startswith("Give and")]
    assert "".join(rows) == "··No●▒◇◇·◇◇"


def test_the_narrowest_page_loses_no_column() -> None:
    """Names, stages and dates of all goals stand on the narrowest page too, at whatever cost."""
    page = render(season_view(PLAN, SEASON, LIBRARY, GYM), 10)
    goals = page.partition("Goals")[2].partition("Not honoured")[0].split()

    assert {"Screen", "Guard", "Backdoor", "guided", "Mar", "Stour", "late"} <= set(goals)


def test_thirty_weeks_fit_into_eighty_columns() -> None:
    """A season of thirty weeks takes one character a week, and no week is dropped."""
    frame = SEASON.season.model_copy(update={"end": SEASON.season.start.replace(month=8, day=8)})
    page = render(chart_view(PLAN, SEASON.model_copy(update={"season": frame}), LIBRARY))

    (row,) = (line for line in page.splitlines() if line.startswith("Give and go"))
    assert row.split()[-2] == "··No●▒◇◇·◇◇" + "▒" * 19


def test_markup_and_control_characters_in_a_name_are_harmless() -> None:
    """A name can neither colour the page nor move the cursor."""
    assert (
        render(say("a [bold]b[/bold] \x1b[31mc\x07 :smile:"))
        == "a [bold]b[/bold]  [31mc  :smile:\n"
    )


def test_wide_letters_keep_their_columns() -> None:
    """A Korean name takes two columns a letter, and its line still ends at the page's edge."""
    library = Library(
        skills=tuple(
            skill.model_copy(update={"name": "백도어 컷 " * 5})
            if skill.id == "give-and-go"
            else skill
            for skill in LIBRARY.skills
        )
    )
    lines = render(season_view(PLAN, SEASON, library, GYM)).splitlines()

    assert max(cell_len(line) for line in lines) <= 80
    assert any("백도어 컷" in line for line in lines)


def test_no_difference_is_said_in_words() -> None:
    """Two equal plans differ in nothing."""
    assert (
        render(difference_view(difference(PLAN, PLAN, SEASON, LIBRARY)))
        == "Revision 3 to 3\nNothing changes.\n"
    )


def test_a_new_revision_never_says_that_nothing_changes() -> None:
    """Another order within a practice raises the revision, for sheets tell it; the page says so."""
    first = PLAN.practices[0]
    turned = first.model_copy(update={"blocks": first.blocks[::-1]})
    new = PLAN.model_copy(update={"revision": 4, "practices": (turned, *PLAN.practices[1:])})

    assert render(difference_view(difference(PLAN, new, SEASON, LIBRARY))) == (
        "Revision 3 to 4\nEvery block keeps its practice; sheets differ in order or words.\n"
    )


def test_no_problems_are_said_in_words() -> None:
    """A clean season says so."""
    assert render(problems_view([])) == "No problems found.\n"


def test_a_week_outside_the_season_says_that_nothing_stands_in_it() -> None:
    """An odd number of a week is answered, not refused."""
    assert render(week_view(PLAN, SEASON, LIBRARY, GYM, 40)) == (
        "Week 40 of Winter term 2027: nothing stands in it.\n"
    )


def test_needs_in_a_circle_still_make_a_tree() -> None:
    """A tree of skills that need each other unfolds each once, whatever the check says of them."""
    first, second = LIBRARY.skills[0], LIBRARY.skills[1]
    loop = Library(skills=(first.model_copy(update={"needs": (second.id,)}), second))

    assert render(graph_view(loop)).splitlines()[:4] == [
        "Footwork  2 skills",
        "└── Jump stop  U1",
        "    └── Pivot and face the basket  U1 G1",
        "        └── Jump stop  see above",
    ]
