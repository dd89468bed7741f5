"""Pages that show a plan say when the calendar has changed since, to coaches alone."""

import datetime as dt
import re
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader
from starlette.testclient import TestClient

from curriculum.problems import Problem
from curriculum.server.visits import plain
from curriculum.workspace import Opening, open_season
from tests.server_cases import FIRST, SECOND_ONE, Served, ServedClub, held, post

REASON = "the roof leaks"
LOST = "Fri 22 Jan 17:30 is not held any more"
WAY = 'href="/plan">Bring the plan up to date'
NEXT_LOST = '[[no_practice]]\ndate = 2027-01-15\nreason = "school dance"\n'
PAGES = ("/", f"/practice/{SECOND_ONE}", "/prints", "/calendars")


@pytest.fixture
def served(tmp_path: Path) -> Served:
    """Serve the season."""
    return Served(tmp_path)


def lose(folder: Path) -> None:
    """Take a practice out of the gym time, as a coach does in the season file."""
    file = folder / "season.toml"
    closed = f'\n[[no_practice]]\ndate = 2027-01-22\nreason = "{REASON}"\n'
    file.write_text(file.read_text() + closed)


@pytest.mark.parametrize("page", PAGES)
def test_a_page_says_that_the_calendar_has_changed(served: Served, page: str) -> None:
    """It is silent before, names the practice after, leads to the plan, and is silent again."""
    coach = served.coach()
    before = coach.get(page).text
    lose(served.folder)
    after = coach.get(page).text
    post(coach, "/plan/propose")
    served.app.state.planner.wait()
    shown = coach.get("/plan").text
    fields = {name: shown.split(f'name="{name}" value="')[1].split('"')[0] for name in FIELDS}
    assert post(coach, "/plan/accept", fields).status_code == 303

    assert (LOST in before, LOST in after, WAY in after) == (False, True, True)
    assert LOST not in coach.get(page).text


FIELDS = ("proposal", "revision")


def test_a_practice_that_is_lost_keeps_its_form_alone(served: Served) -> None:
    """It has no sheet any more; what became of it is told, and no other change."""
    coach = served.coach()
    lose(served.folder)
    season = served.folder / "season.toml"
    season.write_text(season.read_text() + NEXT_LOST)
    page = coach.get(f"/practice/{SECOND_ONE}").text

    assert "made: Fri 15 Jan 17:30 is not held any more (no practice: school dance)." in page
    assert (LOST in page, "Save the record" in page, "To the practice" in page) == (
        False,
        True,
        False,
    )
    assert coach.get(f"/practice/{SECOND_ONE}/sheet.pdf").status_code == 404


def test_the_booklet_leaves_out_what_is_lost(served: Served) -> None:
    """The other sheets can be printed before there is a new plan."""
    coach = served.coach()
    whole = sheets(coach)
    lose(served.folder)

    assert whole - sheets(coach) == {"Friday 22 January 2027"}
    assert SECOND_ONE in coach.get("/prints").text
    assert "2027-01-22-north-gym-1730/sheet.pdf" not in coach.get("/prints").text


def sheets(coach: TestClient) -> set[str]:
    """Return the dates of the practices that the booklet holds a sheet of."""
    answer = coach.get("/prints/sheets.pdf")
    assert answer.status_code == 200
    pages = PdfReader(BytesIO(answer.content)).pages
    words = " ".join(" ".join(page.extract_text() for page in pages).split())
    return set(re.findall(r"[A-Z]\w+day \d+ \w+ 2027", words))


def test_a_fault_names_no_place_on_the_machine(served: Served) -> None:
    """Where a way out is a command, the folder stands in it as such."""
    folder = f"{served.folder}"
    fault = Problem(f"{folder}/plan.json", 0, "", "is no plan", "", f"run curriculum plan {folder}")

    assert plain(served.site, (fault,))[0]["way_out"] == "run curriculum plan FOLDER"


def test_one_notice_is_enough(served: Served) -> None:
    """A practice recorded as lost is no second notice about what was recorded."""
    coach = served.coach()
    lost = {**held("phone-lost"), "status": "lost", "reason": "no heating"}
    assert post(coach, f"/practice/{FIRST}/record", lost).status_code == 303
    page = coach.get("/").text

    assert "Wed 13 Jan 17:30 is not held any more (no practice: called off)" in page
    assert "recorded since" not in page


def test_a_practice_with_another_end_is_told(served: Served) -> None:
    """A plan for 75 minutes does not fit into 60."""
    coach = served.coach()
    season = served.folder / "season.toml"
    season.write_text(season.read_text().replace("minutes = 75", "minutes = 60"))

    assert "Wed 13 Jan 17:30 ends at 18:30 now" in coach.get("/").text


def test_the_page_of_the_plan_says_why_a_new_one_is_due(served: Served) -> None:
    """There the way out is the button below."""
    coach = served.coach()
    lose(served.folder)
    page = coach.get("/plan").text

    assert (LOST in page, WAY in page, "Propose a plan" in page) == (True, False, True)


def test_families_see_the_plan_in_force_and_no_word_of_it(served: Served) -> None:
    """What a coach tries out in the season file is told to nobody before a plan is accepted."""
    coach = served.coach()
    page = post(coach, "/calendars/new", {"audience": "families", "label": "All"}).text
    address = page.split('value="http://testserver')[1].split('"')[0]
    family = served.browser()
    before = family.get(address).content
    lose(served.folder)
    public = family.get(address.removesuffix(".ics")).text

    assert family.get(address).content == before
    assert not [words for words in ("has changed", REASON, "not held") if words in public]


def test_calendars_can_be_taken_back_while_the_files_are_faulty(served: Served) -> None:
    """The page of addresses opens, though nothing can be said of the calendar."""
    coach = served.coach()
    (served.folder / "season.toml").write_text("[season\n")
    answer = coach.get("/calendars")

    assert (answer.status_code, "has changed" in answer.text) == (200, False)


def test_the_season_is_read_once_for_all_pages(
    served: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After a change the first page opens the folder; pages and calendars after it do not."""
    coach = served.coach()
    page = post(coach, "/calendars/new", {"audience": "coach", "label": "Morag"}).text
    address = page.split('value="http://testserver')[1].split('"')[0]
    coach.get(address)
    opened: list[Path] = []

    def counted(folder: Path, now: dt.datetime) -> Opening:
        opened.append(folder)
        return open_season(folder, now)

    monkeypatch.setattr("curriculum.server.site.open_season", counted)
    lose(served.folder)
    for path in (*PAGES, "/plan", address, address):
        assert coach.get(path).status_code == 200

    assert opened == [served.folder]


def test_a_clubs_week_names_the_teams_whose_calendar_has_changed(tmp_path: Path) -> None:
    """Only those, each with the way to its own plan; and the team's own pages say it too."""
    club = ServedClub(tmp_path)
    coach = club.coach()
    before = coach.get("/week").text
    lose(club.folder / "terns")
    after, own = coach.get("/week").text, coach.get("/team/terns/").text

    assert "older than their calendar" not in before
    assert f"<strong>Terns</strong>: {LOST}" in after
    assert ('href="/team/terns/plan"' in after, 'href="/team/gannets/plan"' in after) == (
        True,
        False,
    )
    assert (LOST in own, 'href="/team/terns/plan">Bring' in own) == (True, True)


def test_the_season_says_which_practice_is_lost_and_names_another_one_next(served: Served) -> None:
    """Nobody is sent to the gym for a practice that is not held any more."""
    coach = served.coach()
    season = served.folder / "season.toml"
    season.write_text(season.read_text() + NEXT_LOST)
    page = coach.get("/").text
    row = next(line for line in page.splitlines() if f'/practice/{SECOND_ONE}"' in line)

    assert "not held any more" in row
    assert re.search(r'<p class="big">(.*?)</p>', page)[1] == "Wednesday 20 January 2027"  # type: ignore[index]
