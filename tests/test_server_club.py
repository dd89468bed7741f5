"""A club over HTTP: its own pages, and every season below its address as if it were alone."""

import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from curriculum.records.database import history, open_record
from curriculum.server import addresses
from curriculum.server.state import State
from tests.server_cases import (
    CHILD,
    CLUB,
    FIRST,
    NOW,
    SECOND_ONE,
    ServedClub,
    at_once,
    held,
    hidden,
    plan_in,
    post,
)

TERNS = "/team/terns"


@pytest.fixture
def served(tmp_path: Path) -> ServedClub:
    """Serve the club."""
    return ServedClub(tmp_path)


def records(served: ServedClub, team: str) -> list[str]:
    """Return the notes of all that is recorded of a team."""
    path = served.folder / team / "record.db"
    if not path.exists():
        return []
    with open_record(path) as db:
        return [saved.entry.note for saved in history(db)]


def cards(page: str) -> dict[str, str]:
    """Return the words of each team's card on the front page."""
    found = re.findall(
        r'<section class="card".*?<h2[^>]*>(.*?)</h2>(.*?)</section>', page, re.DOTALL
    )
    return {plain(name): plain(words) for name, words in found}


def plain(page: str) -> str:
    """Return the words of a part of a page."""
    return " ".join(re.sub(r"<[^>]+>", " ", page).split())


def test_every_team_at_a_glance(served: ServedClub) -> None:
    """The next practice, what waits to be recorded, who coaches, and the way to the season."""
    page = served.coach().get("/").text

    assert cards(page) == {
        "Terns": "Morag Fri 15 Jan , 17:30 to 18:45 North Gym 1 practice not recorded",
        "Gannets": "Fri 15 Jan , 17:30 to 18:45 North Gym 1 practice not recorded",
        "Herons": "No season stands in the folder herons yet.",
    }
    assert re.findall(r'<h2[^>]*><a href="([^"]+)"', page) == [
        "/team/terns/", "/team/gannets/",
    ]  # fmt: skip


def with_goals_in_danger(served: ServedClub) -> None:
    """Let a team's plan miss one goal, and teach one in the last practice before its date."""
    path = served.folder / "terns" / "plan.json"
    plan = plan_in(served.folder / "terns")
    first, second = plan.goals
    last = max(each.date for each in plan.practices if each.date <= second.by)
    goals = (
        first.model_copy(update={"met": False, "reached": None}),
        second.model_copy(update={"reached": last}),
    )
    path.write_text(plan.model_copy(update={"goals": goals}).model_dump_json(by_alias=True))


def test_goals_in_danger_are_counted(served: ServedClub) -> None:
    """A goal that the plan misses, and one taught in the last practice before its date."""
    with_goals_in_danger(served)
    words = cards(served.coach().get("/").text)

    assert "1 goal missed by the plan 1 goal taught in the last practice" in words["Terns"]
    assert "goal" not in words["Gannets"]


def test_a_team_without_plan_says_so(served: ServedClub) -> None:
    """No plan is no fault: its card says so and leads to the page that proposes one."""
    (served.folder / "terns" / "plan.json").unlink()
    coach = served.coach()

    assert "No plan yet." in cards(coach.get("/").text)["Terns"]
    assert "Propose a plan" in coach.get(f"{TERNS}/").text


def test_one_key_opens_all_seasons(served: ServedClub) -> None:
    """Who signed in for the club is signed in for every team, and the other way round."""
    coach, stranger = served.coach(), served.browser()
    below = post(stranger, f"{TERNS}/sign-in", {"key": served.key}, page=f"{TERNS}/sign-in")

    assert [coach.get(path).status_code for path in ("/", f"{TERNS}/", "/team/gannets/")] == [
        200
    ] * 3
    assert (below.status_code, below.headers["location"]) == (303, f"{TERNS}/")
    assert "Path=/;" in below.headers["set-cookie"]
    assert [stranger.get(path).status_code for path in ("/", "/team/gannets/edit")] == [200] * 2


def test_without_a_key_every_page_leads_to_the_sign_in(served: ServedClub) -> None:
    """The club's own pages and those of its seasons; afterwards one is where one wanted to be."""
    stranger = served.browser()
    asked = {path: stranger.get(path) for path in ("/", "/week", f"{TERNS}/edit")}

    assert {path: answer.headers["location"] for path, answer in asked.items()} == {
        "/": "/sign-in?next=/",
        "/week": "/sign-in?next=/week",
        f"{TERNS}/edit": f"{TERNS}/sign-in?next=/edit",
    }


def test_signing_out_of_one_season_signs_out_of_all(served: ServedClub) -> None:
    """The session ends, and its cookie goes."""
    coach = served.coach()
    answer = post(coach, f"{TERNS}/sign-out", page=f"{TERNS}/edit")

    assert answer.headers["location"] == f"{TERNS}/sign-in"
    assert [coach.get(path).status_code for path in ("/", f"{TERNS}/", "/team/gannets/")] == [
        303
    ] * 3


PAGES = (
    *("/", f"/practice/{SECOND_ONE}", f"/practice/{SECOND_ONE}/record", "/plan", "/skills"),
    *("/skills/give-and-go", "/edit", "/prints", "/calendars", "/progress", "/load"),
)


@pytest.mark.parametrize("path", PAGES)
def test_every_address_in_a_page_stays_below_its_season(served: ServedClub, path: str) -> None:
    """Links, forms and files all carry the season's path; only the way back to the teams is up."""
    page = served.coach().get(f"{TERNS}{path}").text
    found = re.findall(r'(?:href|src|action)="(/[^"]*)"', page)

    assert {each for each in found if not each.startswith(f"{TERNS}/")} == {"/"}
    assert (f'data-base="{TERNS}"' in page, 'data-root=""' in page) == (True, True)


def test_the_worker_keeps_to_its_season(served: ServedClub) -> None:
    """It answers below the season's path alone, and lists files below it."""
    browser = served.browser()
    worker, own = browser.get(f"{TERNS}/worker.js"), browser.get("/worker.js")
    files = re.findall(r'"(/[^"]+/static/[^"]+)"', worker.text)

    assert worker.headers["service-worker-allowed"] == f"{TERNS}/"
    assert f'const BASE = "{TERNS}";' in worker.text
    assert {browser.get(each).status_code for each in files} == {200}
    assert {each.partition("/static/")[0] for each in files} == {TERNS}
    assert (own.headers["service-worker-allowed"], 'const BASE = "";' in own.text) == ("/", True)


def test_a_record_reaches_its_team_alone(served: ServedClub) -> None:
    """Two teams practise at the same time in the same gym: each record goes where it belongs."""
    coach = served.coach()
    path = f"{TERNS}/practice/{FIRST}/record"
    answer = post(coach, path, held(note="of the terns"), page=f"{TERNS}/edit")

    assert answer.headers["location"] == f"{TERNS}/practice/{FIRST}/recorded"
    assert (records(served, "terns"), records(served, "gannets")) == (["of the terns"], [])
    assert "not recorded" not in cards(coach.get("/").text)["Terns"]


def test_a_token_of_any_page_is_good_for_all(served: ServedClub) -> None:
    """What waited on a phone goes out from whatever page is open; another's token never."""
    coach, other = served.coach(), served.coach("Fergus")
    path = f"/team/gannets/practice/{FIRST}/record"
    tokens = [each.get("/session").json()["token"] for each in (coach, other)]
    codes = [
        coach.post(path, data=held(), headers={"X-Form-Token": each}).status_code
        for each in reversed(tokens)
    ]

    assert codes == [403, 303]


def test_editing_and_planning_below_the_path(served: ServedClub) -> None:
    """A season is edited, planned anew and accepted, and the other team's files stay."""
    coach = served.coach()
    before = {
        file: (served.folder / "gannets" / file).read_bytes()
        for file in ("season.toml", "plan.json")
    }
    mark = hidden(coach.get(f"{TERNS}/edit").text, "mark")
    move = {"mark": mark, "do": "add", "of": "2027-01-20", "date": "2027-01-21"}
    edited = post(coach, f"{TERNS}/edit/move", move, page=f"{TERNS}/edit")
    proposed = post(coach, f"{TERNS}/plan/propose", page=f"{TERNS}/edit")
    served.season("terns").state.planner.wait()
    page = coach.get(f"{TERNS}/plan").text
    fields = {name: hidden(page, name) for name in ("proposal", "revision")}
    taken = post(coach, f"{TERNS}/plan/accept", fields, page=f"{TERNS}/edit")

    assert [each.headers["location"] for each in (edited, proposed, taken)] == [
        f"{TERNS}/edit?saved=move#move", f"{TERNS}/plan", f"{TERNS}/plan?done=accepted",
    ]  # fmt: skip
    assert plan_in(served.folder / "terns").revision == 2
    assert before == {file: (served.folder / "gannets" / file).read_bytes() for file in before}


def test_calendars_of_each_team(served: ServedClub) -> None:
    """Addresses are unguessable, given out by each season, and open no other team's calendar."""
    coach, phone = served.coach(), served.browser()
    page = post(coach, f"{TERNS}/calendars/new", page=f"{TERNS}/calendars").text
    found = re.search(rf'value="http://testserver({TERNS}/f/[\w-]{{32}})\.ics"', page)
    assert found
    own, other = (
        phone.get(f"{path}.ics") for path in (found[1], found[1].replace("terns", "gannets"))
    )

    assert (own.status_code, "Kestrel Quay Testers" in own.text, other.status_code) == (
        200,
        True,
        404,
    )
    assert phone.get(found[1]).status_code == 200
    assert f'href="webcal://testserver{found[1]}.ics"' in page


def test_behind_https_addresses_carry_the_path(tmp_path: Path) -> None:
    """Where something stands in front of the server, addresses name what others reach."""
    served = ServedClub(tmp_path, public="https://club.example.org")
    page = post(served.coach(), f"{TERNS}/calendars/new", page=f"{TERNS}/calendars").text

    assert f'value="https://club.example.org{TERNS}/f/' in page


def test_robots_may_fetch_every_teams_calendars(served: ServedClub) -> None:
    """They stand below each team's path (RFC 9309 knows the star)."""
    assert served.browser().get("/robots.txt").text == (
        "User-agent: *\nAllow: /team/*/f/\nDisallow: /\n"
    )


def test_a_calendar_that_many_fetch_is_not_held_back(
    served: ServedClub, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Calendars below a team's path have the allowance of calendars, not that of pages."""
    at_once(monkeypatch)
    token = addresses.add_feed(State(served.folder / "terns"), "Families", "families", NOW)
    phone = served.browser()

    assert {phone.get(f"{TERNS}/f/{token}.ics").status_code for _ in range(400)} == {200}


@pytest.mark.parametrize(
    "path",
    [
        "/team/herons/",
        "/team/nobody/",
        "/team/../club.toml",
        "/team/..%2Fclub/",
        "/team/%2e%2e/",
        "/team/./",
        "/team/terns%2F..%2Fgannets/",
        "/team/terns/..%2F..%2Fclub.toml",
        "/team/terns%00/",
        "/team//",
        "/club.toml",
    ],
)
def test_no_address_reaches_a_file(served: ServedClub, path: str) -> None:
    """A team is looked up among the club's own; what stands in an address opens no folder."""
    names = {each.name for each in served.folder.rglob("*")}
    answer = served.coach().get(path)

    assert answer.status_code == 404
    assert "Kestrel" not in answer.text
    assert {each.name for each in served.folder.rglob("*")} == names


def test_a_team_that_comes_and_goes(served: ServedClub) -> None:
    """Once the club file names it, a team is served; once it does not, it is gone."""
    coach, file = served.coach(), served.folder / "club.toml"
    file.write_text(CLUB.lstrip().replace('id = "terns"', 'id = "swifts"'))
    during = coach.get(f"{TERNS}/").status_code
    file.write_text(CLUB.lstrip())

    assert (during, coach.get(f"{TERNS}/").status_code) == (404, 200)


def test_a_faulty_club_file_stops_no_calendar(served: ServedClub) -> None:
    """Coaches see what is wrong with it; the seasons' calendars stay as they were."""
    token = addresses.add_feed(State(served.folder / "terns"), "Families", "families", NOW)
    coach, phone = served.coach(), served.browser()
    good = phone.get(f"{TERNS}/f/{token}.ics")
    (served.folder / "club.toml").write_text("[club\n")
    page, after = coach.get("/"), phone.get(f"{TERNS}/f/{token}.ics")

    assert (page.status_code, "The club cannot be read" in page.text) == (503, True)
    assert f"{served.folder}" not in page.text
    assert (after.status_code, after.content) == (200, good.content)


def test_the_week_over_all_teams(served: ServedClub) -> None:
    """Who teaches what where, the use of the gyms, and the weeks before and after."""
    page = served.coach().get("/week", params={"of": "2027-01-13"}).text
    words = plain(page)

    assert "17:30-18:45 Terns North Gym; Morag NEW V-cut, unopposed" in words
    assert "17:30-18:45 Gannets North Gym NEW V-cut, unopposed" in words
    assert "North Gym 300 min, 41 % 720 min" in words
    assert re.findall(r"/week\?of=([\d-]+)", page) == ["2027-01-04", "2027-01-18"]


def test_the_week_tells_missed_goals_from_those_just_in_time(served: ServedClub) -> None:
    """Each stands under a heading of its own."""
    with_goals_in_danger(served)
    words = plain(served.coach().get("/week", params={"of": "2027-01-13"}).text)
    missed, _, last = words.partition("Goals taught in the last practice before their date")

    assert "never taught" in missed.partition("Goals missed")[2]
    assert "never taught" not in last
    assert last.startswith(" Terns ")


def test_goals_at_risk_over_all_teams(served: ServedClub) -> None:
    """Each is one sentence below its team, with how much was looked into; a change looks again."""
    coach = served.coach()
    first = coach.get("/risks").text
    path = served.folder / "terns" / "season.toml"
    path.write_text(path.read_text().replace("end = 2027-02-14", "end = 2027-01-22"))
    second = coach.get("/risks").text

    assert "The loss of 18 of 18 practices still to come was looked into." in first
    assert first != second


@pytest.mark.parametrize("text", ["", "x", "0001-01-01", "9999-12-31", "2027-02-30"])
def test_any_week_can_be_asked_for(served: ServedClub, text: str) -> None:
    """What is no date is this week, and no date is too far."""
    assert served.coach().get("/week", params={"of": text}).status_code == 200


def test_a_child_is_named_to_coaches_only(served: ServedClub) -> None:
    """With a name in a record, no page of the club without a key shows it."""
    coach, stranger = served.coach(), served.browser()
    fields = held(absent=CHILD, note=f"{CHILD} fell")
    post(coach, f"{TERNS}/practice/{FIRST}/record", fields, page=f"{TERNS}/edit")
    paths = ("/", "/week", f"{TERNS}/", f"{TERNS}/practice/{FIRST}/record", "/session")

    assert CHILD in coach.get(f"{TERNS}/practice/{FIRST}/record").text
    assert [CHILD in stranger.get(path).text for path in paths] == [False] * len(paths)


def test_tries_to_sign_in_are_counted_over_all_teams(
    served: ServedClub, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Going from team to team gives no further tries."""
    at_once(monkeypatch)
    browser: TestClient = served.browser()
    codes = [
        post(browser, f"{path}/sign-in", {"key": "wrong"}, page=f"{path}/sign-in").status_code
        for path in ("", TERNS, "/team/gannets") * 3
    ]

    assert codes == [403] * 8 + [429]
