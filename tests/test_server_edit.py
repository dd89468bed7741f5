"""Editing in the browser: the command line's checks, the coach's remarks kept, all or nothing."""

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from curriculum.server import edits
from curriculum.workspace import open_season
from tests.server_cases import SEASON, Served, hidden, post

GOAL = {"skill": "v-cut", "stage": "guided", "by": "2027-02-05", "need": "could", "weight": "2"}


@pytest.fixture
def served(tmp_path: Path) -> Served:
    """Serve the season."""
    return Served(tmp_path)


def season(served: Served) -> str:
    """Return the season file."""
    return (served.folder / "season.toml").read_text()


def data(served: Served) -> dict[str, Any]:
    """Return the season file as another TOML reader sees it."""
    return tomllib.loads(season(served))


def change(served: Served, table: str, fields: dict[str, str], **others: str) -> Any:
    """Send a form of the edit page."""
    coach = served.coach()
    mark = hidden(coach.get("/edit").text, "mark")
    return post(coach, f"/edit/{table}", {"mark": mark, **fields, **others}, page="/edit")


def test_goals_are_called_by_the_game_they_are_due_by(served: Served) -> None:
    """A goal is called as a coach says it; the game's id is only what is typed, with its words."""
    change(served, "goal", GOAL, do="add")
    page = served.coach().get("/edit").text
    goals = page.partition('id="h-goal"')[2].partition("</section>")[0]

    assert re.findall(r"<summary>(.*?)</summary>", goals) == [
        "Give and go, guided, before the game against Harbour Gulls on Sat 6 Feb, must",
        "Backdoor cut, unopposed, should",
        "V-cut, guided, by Fri 5 Feb, could",
        "Add a goal",
    ]
    assert '<option value="gulls">the game against Harbour Gulls on Sat 6 Feb</option>' in page


def test_the_last_day_is_set_and_remarks_stay(served: Served) -> None:
    """Only the value changes: every other byte of the file, remarks too, is as it was."""
    answer = change(served, "season", {"start": "2027-01-11", "end": "2027-02-21"})

    assert (answer.status_code, answer.headers["location"]) == (303, "/edit?saved=season#season")
    assert season(served) == SEASON.lstrip().replace("end = 2027-02-14", "end = 2027-02-21")


def test_a_goal_is_added_changed_and_taken_out(served: Served) -> None:
    """Each step is what the form said, with real dates and numbers, and the rest stays."""
    before = data(served)
    assert change(served, "goal", GOAL, do="add").status_code == 303
    added = data(served)
    changed_goal = {**GOAL, "by": "gulls", "need": "should", "weight": ""}
    assert change(served, "goal", changed_goal, do="save", place="2").status_code == 303
    changed = data(served)
    assert change(served, "goal", {}, do="remove", place="2").status_code == 303

    assert f"{added['goal'][2]}" == (
        "{'skill': 'v-cut', 'stage': 'guided', 'by': datetime.date(2027, 2, 5), 'need': 'could',"
        " 'weight': 2}"
    )
    assert changed["goal"][2] == {
        "skill": "v-cut",
        "stage": "guided",
        "by": "gulls",
        "need": "should",
    }
    assert data(served) == before
    assert "# not more, they are ten" in season(served)


@pytest.mark.parametrize(
    ("table", "fields", "kept"),
    [
        ("closure", {"from": "2027-01-25", "until": "2027-01-29", "reason": "break"}, None),
        ("no_practice", {"date": "2027-01-27", "reason": "exam"}, None),
        ("move", {"of": "2027-01-20", "date": "2027-01-21"}, None),
        (
            "practice_on",
            {"date": "2027-01-23", "start": "10:00", "minutes": "60", "venue": "north-gym"},
            None,
        ),
        (
            "game",
            {
                "id": "otters",
                "date": "2027-02-13",
                "start": "10:30",
                "opponent": "Otters",
                "home": "yes",
            },
            None,
        ),
    ],
)
def test_every_table_takes_an_entry(
    served: Served, table: str, fields: dict[str, str], kept: None
) -> None:
    """A new entry of each table passes the checks and stands in the file as typed."""
    assert change(served, table, fields, do="add").status_code == 303
    entry = data(served)[table][-1]

    assert {key: str(value) for key, value in entry.items()} == {
        key: {"yes": "True"}.get(text, f"{text}:00" if key == "start" else text)
        for key, text in fields.items()
    }


@pytest.mark.parametrize(
    ("entry", "called"),
    [
        (
            "[[closure]]\nfrom = 2027-01-25\nuntil = 2027-01-29\nvenue = 'north-gym'\n",
            "Mon 25 Jan to Fri 29 Jan, North Gym",
        ),
        (
            "[[no_practice]]\nfrom = 2027-01-25\nuntil = 2027-01-29\nreason = 'exams'\n",
            "Mon 25 Jan to Fri 29 Jan, exams",
        ),
        ("[[no_practice]]\ndate = 2027-01-27\nreason = 'exam'\n", "Wed 27 Jan, exam"),
        (
            "[[move]]\nof = {date = 2027-01-20, venue = 'north-gym'}\ndate = 2027-01-21\n",
            "Wed 20 Jan to Thu 21 Jan",
        ),
    ],
)
def test_an_entry_is_called_by_its_dates_and_its_gym(
    served: Served, entry: str, called: str
) -> None:
    """Two dates with a comma between them read like two days, not like a stretch or a move."""
    file = served.folder / "season.toml"
    file.write_text(f"{season(served)}\n{entry}", encoding="utf-8")

    assert f"<summary>{called}</summary>" in served.coach().get("/edit").text


@pytest.mark.parametrize(
    ("table", "fields", "says"),
    [
        ("goal", {**GOAL, "skill": "v-cat"}, "v-cat"),
        ("goal", {**GOAL, "by": "2027-02-30"}, "there is no such date"),
        ("goal", {**GOAL, "by": "no-game"}, "no-game"),
        ("goal", {**GOAL, "weight": "12"}, "from 1 to 9"),
        ("goal", {**GOAL, "skill": ""}, "this is missing"),
        ("goal", {**GOAL, "skill": 'x"\n[team]\nname = "y'}, "in one line"),
        ("closure", {"from": "2027-01-29", "until": "2027-01-25"}, "until"),
        ("move", {"of": "2027-01-19", "date": "2027-01-21"}, "move"),
        ("season", {"start": "2027-03-01", "end": "2027-02-14"}, "end"),
        ("season", {"start": "11.1.2027", "end": "2027-02-14"}, "write a date like"),
        (
            "practice_on",
            {"date": "2027-01-23", "start": "25:00", "minutes": "60", "venue": "north-gym"},
            "hour must be",
        ),
        (
            "practice_on",
            {"date": "2027-01-23", "start": "10:00", "minutes": "60", "venue": "moon"},
            "moon",
        ),
    ],
)
def test_what_fails_a_check_is_not_written(
    served: Served, table: str, fields: dict[str, str], says: str
) -> None:
    """The page says what is wrong, the file stays to the byte, and nothing is left beside it."""
    answer = change(served, table, fields, do="add")

    assert (answer.status_code, "Nothing was written" in answer.text) == (422, True)
    assert says in answer.text
    assert season(served) == SEASON.lstrip()
    assert [each.name for each in served.folder.iterdir() if each.name.startswith(".season")] == []


def test_a_change_over_anothers_change_is_refused(served: Served) -> None:
    """Two coaches with the page open: the second is told, and the first one's change stays."""
    morag, fergus = served.coach(), served.coach("Fergus")
    mark = hidden(morag.get("/edit").text, "mark")
    first = {"mark": mark, "start": "2027-01-11", "end": "2027-02-21"}
    second = {"mark": mark, "start": "2027-01-11", "end": "2027-02-28"}
    codes = [
        post(browser, "/edit/season", fields, page="/edit").status_code
        for browser, fields in ((morag, first), (fergus, second))
    ]

    assert codes == [303, 409]
    assert data(served)["season"]["end"].isoformat() == "2027-02-21"


def test_a_change_by_hand_meanwhile_is_not_overwritten(
    served: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An editor that saves while the checks run wins; the form is refused."""
    plain = open_season

    def slow(*arguments: Any) -> Any:
        (served.folder / "season.toml").write_text(SEASON.lstrip() + "# by hand\n")
        return plain(*arguments)

    monkeypatch.setattr(edits, "open_season", slow)
    answer = change(served, "season", {"start": "2027-01-11", "end": "2027-02-21"})

    assert (answer.status_code, season(served)) == (409, SEASON.lstrip() + "# by hand\n")


@pytest.mark.parametrize("place", ["2", "99999", "-1", "", "x", "²"])
def test_there_is_no_such_entry(served: Served, place: str) -> None:
    """A place that the file does not have changes nothing."""
    assert change(served, "goal", {}, do="remove", place=place).status_code == 422
    assert season(served) == SEASON.lstrip()


def test_tables_that_cannot_be_edited(served: Served) -> None:
    """Only what the page offers can be changed."""
    assert change(served, "team", {"name": "x"}, do="add").status_code == 404


@pytest.mark.parametrize(("do", "place"), [("add", ""), ("save", "1")])
def test_what_was_typed_need_not_be_typed_again(served: Served, do: str, place: str) -> None:
    """A form that is refused comes back open and filled in; no other one changes."""
    wrong = {**GOAL, "skill": "give-and-go", "by": "2027-02-30", "weight": "7"}
    others = {"place": place} if place else {}
    page = change(served, "goal", wrong, do=do, **others).text
    forms = re.findall(r'<details class="fold[^"]*" open>(.*?)</details>', page, re.DOTALL)

    assert len(forms) == 1
    assert (hidden(forms[0], "place") == place) if place else ('name="place"' not in forms[0])
    assert re.findall(r'name="(?:skill|by|weight)"[^>]* value="([^"]*)"', forms[0]) == [
        "give-and-go",
        "2027-02-30",
        "7",
    ]
    assert re.findall(r"<option selected>(\w+)", forms[0]) == ["guided", "could"]
    assert page.count('value="2027-02-30"') == 1


def test_a_change_is_confirmed_where_the_browser_goes(served: Served) -> None:
    """The page is long: at its top nobody would see that something was saved."""
    coach = served.coach()
    added = {"date": "2027-01-27", "reason": "exam"}
    answer = change(served, "no_practice", added, do="add")
    page = coach.get(answer.headers["location"]).text
    section = page.split('<section id="no_practice"')[1].split("</section>")[0]

    assert answer.headers["location"].endswith("#no_practice")
    assert (page.count("Saved."), section.count("Saved.")) == (1, 1)
