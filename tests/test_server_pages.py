"""What pages show: season, practice, skills, prints, calendars, and the files that they load."""

import re
from pathlib import Path

import pytest

from curriculum.server.assets import assets
from tests.server_cases import FIRST, SECOND_ONE, Served, held, post


@pytest.fixture
def served(tmp_path: Path) -> Served:
    """Serve the season."""
    return Served(tmp_path)


def test_the_season_at_a_glance(served: Served) -> None:
    """The next practice, the one that waits to be recorded, weeks and goals."""
    page = served.coach().get("/").text
    links = re.findall(r'href="/practice/([\w/-]+)"', page)

    assert links[:2] == [SECOND_ONE, f"{FIRST}/record"]
    assert re.findall(r"<h2[^>]*>(.*?)</h2>", page) == [
        "Next practice", "Not recorded yet", "Week by week", "Goals",
    ]  # fmt: skip
    assert "Give and go, guided" in page


def test_goals_stand_under_the_game_or_date_by_which_they_are_due(served: Served) -> None:
    """A game is named by its opponent, once for all goals due by it, and its id stands nowhere."""
    page = served.coach().get("/").text
    goals = page.partition('id="goals"')[2].partition("</section>")[0]

    assert re.findall(r'class="due">(.*?)</th>|scope="row">(.*?), ', goals) == [
        ("Before the game against Harbour Gulls on Sat 6 Feb", ""),
        ("", "Give and go"),
        ("By Sun 14 Feb", ""),
        ("", "Backdoor cut"),
    ]
    assert (goals.count("<tbody>"), goals.count("</tbody>")) == (2, 2)


def test_a_thin_practice_says_why(served: Served) -> None:
    """A practice with much unused time says why in the season's weeks too."""
    week = served.coach().get("/").text.partition('id="weeks"')[2]

    assert "more for the scrimmage: the rest builds on what is taught here or later." in week


def test_the_gyms_page(served: Served) -> None:
    """Every part with its minutes for the timer, each block with its cues and its outcome."""
    page = served.coach().get(f"/practice/{FIRST}").text
    minutes = [int(each) for each in re.findall(r'data-minutes="(\d+)"', page)]
    blocks = re.findall(r'name="held:([\w@-]+)" value="held" checked form="record"', page)
    changeovers = len(blocks)

    assert sum(minutes) + changeovers == 75
    assert ("v-cut@unopposed" in blocks, "Walk them down" in page) == (True, True)


def test_a_practice_to_come_cannot_be_called_held(served: Served) -> None:
    """Before its day the page offers to record it as lost, and nothing else of it."""
    page = served.coach().get(f"/practice/{SECOND_ONE}").text

    assert ("only be recorded as lost" in page, 'name="held:' in page) == (True, False)


def test_the_graph_around_a_skill(served: Served) -> None:
    """What a skill needs and what it unlocks are links, in the picture too."""
    page = served.coach().get("/skills/give-and-go").text

    assert re.findall(r'<a href="/skills/([\w-]+)" class="box"', page) == [
        "v-cut", "backdoor-cut",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("wanted", "found"),
    [("", ["v-cut", "give-and-go", "backdoor-cut"]), ("BACKDOOR", ["backdoor-cut"]), ("zzz", [])],
)
def test_looking_for_a_skill(served: Served, wanted: str, found: list[str]) -> None:
    """Skills are found by a part of their name, in whatever case."""
    page = served.coach().get("/skills", params={"q": wanted}).text

    assert re.findall(r'href="/skills/([\w-]+)"', page) == found


def test_a_known_skill_is_not_called_unplanned(served: Served) -> None:
    """Where the team stands already is told; what a known stage needs counts as known, too."""
    (served.folder / "plan.json").unlink()
    file = served.folder / "season.toml"
    known = "\n[[known]]\nskill = 'give-and-go'\nstage = 'unopposed'\n"
    before = served.coach().get("/skills").text
    file.write_text(file.read_text(encoding="utf-8") + known, encoding="utf-8")
    after = served.coach().get("/skills").text

    told = re.compile(r"; (not planned|known \w+)</span>")
    assert told.findall(before) == ["not planned"] * 3
    assert told.findall(after) == ["known unopposed", "known unopposed", "not planned"]


def test_prints(served: Served) -> None:
    """Sheet and wall chart are PDF files to be kept, and from then on people know the plan."""
    coach = served.coach()
    sheet, chart = coach.get(f"/practice/{FIRST}/sheet.pdf"), coach.get("/prints/season.pdf")

    assert [each.content[:5] for each in (sheet, chart)] == [b"%PDF-"] * 2
    assert sheet.headers["content-disposition"] == f'attachment; filename="{FIRST}.pdf"'
    assert (served.folder / "published.json").exists()


def test_the_page_that_helps_to_subscribe(served: Served) -> None:
    """It tells the address as text, as a link for phones and as a picture, also to strangers."""
    coach = served.coach()
    page = post(coach, "/calendars/new", {"label": "All families"}).text
    found = re.search(r'value="http://testserver(/f/[\w-]+)\.ics"', page)
    assert found
    stranger = served.browser().get(found[1])

    assert "not shown again" in page
    assert (stranger.status_code, "not shown again" in stranger.text) == (200, False)
    assert f'href="webcal://testserver{found[1]}.ics"' in stranger.text
    assert ("<svg" in stranger.text, "All families" in stranger.text) == (True, False)
    assert "All families" in coach.get("/calendars").text


def test_behind_https_addresses_are_the_public_ones(tmp_path: Path) -> None:
    """Where something stands in front of the server, addresses name what others reach."""
    served = Served(tmp_path, public="https://team.example.org/")
    page = post(served.coach(), "/calendars/new").text

    assert re.search(r'value="https://team\.example\.org/f/[\w-]{32}\.ics"', page)


def test_files_that_pages_load(served: Served) -> None:
    """They may be kept for good, for their address changes with them; an old address is gone."""
    browser = served.browser()
    for name, asset in assets().items():
        answer = browser.get(f"/static/{asset.mark}/{name}")
        assert (answer.content, answer.headers["content-type"]) == (asset.body, asset.kind)
        assert "immutable" in answer.headers["cache-control"]
        assert browser.get(f"/static/000000000000/{name}").status_code == 404


def test_what_was_opened_is_listed_for_the_gym(served: Served) -> None:
    """The script that works without network names every file that pages load, by content."""
    worker = served.browser().get("/worker.js")
    listed = set(re.findall(r'"(/static/[^"]+)"', worker.text))

    assert listed == {
        f"/static/{asset.mark}/{name}" for name, asset in assets().items() if name != "worker.js"
    }
    assert worker.headers["cache-control"] == "no-cache"


def test_a_record_shows_on_the_gyms_page(served: Served) -> None:
    """What was said stands in the form again, to be corrected over its version."""
    coach = served.coach()
    post(coach, f"/practice/{FIRST}/record", {**held(), "went:v-cut@unopposed": "solid",
                                              "held:v-cut@unopposed": "held"})  # fmt: skip
    page = coach.get(f"/practice/{FIRST}").text

    assert 'name="went:v-cut@unopposed" value="solid" checked' in page
    assert ('data-version="1"' in page, "Recorded, version 1 by Morag" in page) == (True, True)
