"""Recording over the server: once each, over the version that was seen, nothing lost."""

from pathlib import Path
from urllib.parse import urlencode

import pytest
from starlette.testclient import TestClient

from curriculum.models.record import Entry
from curriculum.planning import keep, make_plan
from curriculum.records.database import history, open_record, practice_record
from tests.server_cases import (
    CHILD,
    FIRST,
    NOW,
    SECOND_ONE,
    Served,
    held,
    hidden,
    opened,
    plan_in,
    post,
    token,
)

PATH = f"/practice/{FIRST}/record"
DATA = {"Accept": "application/json"}


@pytest.fixture
def served(tmp_path: Path) -> Served:
    """Serve the season."""
    return Served(tmp_path)


def standing(served: Served) -> Entry:
    """Return what stands for the first practice."""
    with open_record(served.folder / "record.db") as db:
        saved = practice_record(db, FIRST)
    assert saved is not None
    return saved.entry


def versions(served: Served) -> list[tuple[int | None, str]]:
    """Return version and note of every submission about the first practice."""
    with open_record(served.folder / "record.db") as db:
        return [(saved.version, saved.entry.note) for saved in history(db, FIRST)]


def nodes(served: Served) -> list[str]:
    """Return the blocks of the first practice as forms name them."""
    return [f"{block.skill}@{block.stage}" for block in plan_in(served.folder).practices[0].blocks]


def test_a_form_becomes_an_entry(served: Served) -> None:
    """Every field reaches the record, and the coach's name comes from the key."""
    coach, node = served.coach(), nodes(served)[0]
    fields = {
        **held(note="good energy", absent=CHILD),
        f"held:{node}": "partly",
        f"went:{node}": "shaky",
    }
    answer = post(coach, PATH, fields)
    entry = standing(served)

    assert (answer.status_code, answer.headers["location"]) == (303, f"/practice/{FIRST}/recorded")
    assert (entry.status, entry.note, entry.absent, entry.by) == (
        "held",
        "good energy",
        (CHILD,),
        "Morag",
    )
    assert (entry.blocks[0].held, entry.blocks[0].went) == ("partly", "shaky")
    assert "one block more" in coach.get(f"/practice/{FIRST}/recorded").text


def test_lost_and_shortened(served: Served) -> None:
    """A reason and the minutes are asked for; without them nothing is saved, and it is said."""
    coach = served.coach()
    wrong = [
        post(coach, PATH, {**held("phone-a1b2"), "status": "lost"}),
        post(coach, PATH, {**held("phone-c3d4"), "status": "shortened"}),
        post(coach, PATH, {**held("phone-e5f6"), "status": "shortened", "minutes_held": "x"}),
        post(coach, PATH, {**held("phone-g7h8"), "status": "shortened", "minutes_held": "75"}),
    ]
    lost = {**held("phone-i9j0"), "status": "lost", "reason": "flooded"}
    short = {**held("phone-k1l2", 1), "status": "shortened", "minutes_held": "40"}

    assert [each.status_code for each in wrong] == [422] * 4
    assert all("Nothing was saved" in each.text for each in wrong)
    assert post(coach, PATH, lost).status_code == 303
    assert (standing(served).status, standing(served).reason) == ("lost", "flooded")
    assert post(coach, PATH, short).status_code == 303
    assert (standing(served).status, standing(served).really) == ("shortened", 40)


def test_a_practice_to_come_is_not_held(served: Served) -> None:
    """Tomorrow's practice can be lost already, but not held."""
    coach, path = served.coach(), f"/practice/{SECOND_ONE}/record"

    assert post(coach, path, held()).status_code == 422
    assert post(coach, path, {**held(), "status": "lost", "reason": "ice"}).status_code == 303


def test_sent_twice_recorded_once(served: Served) -> None:
    """A phone that got no answer sends again, also after a restart and over a newer plan."""
    coach = served.coach()
    first = post(coach, PATH, held(note="once"), headers=DATA)
    again = post(coach, PATH, held(note="once"), headers=DATA)
    space = opened(served.folder, NOW)
    keep(space, make_plan(space, now=NOW, today=NOW.date(), fresh=True))
    served.restarted()
    browser = served.browser()
    browser.cookies.set("curriculum_session", coach.cookies["curriculum_session"])
    later = post(browser, PATH, held(note="once"), headers=DATA)

    assert [each.json() for each in (first, again, later)] == [
        {"version": 1, "again": False},
        {"version": 1, "again": True},
        {"version": 1, "again": True},
    ]
    assert versions(served) == [(1, "once")]


def test_two_coaches_at_once(served: Served) -> None:
    """The second sees the first's version beside the own one, and nothing is lost."""
    morag, fergus = served.coach(), served.coach("Fergus")
    post(morag, PATH, held("phone-morag", note="hers"))
    answer = post(fergus, PATH, held("phone-fergus", note="his"))
    page = fergus.get(answer.headers["location"])
    fields = {
        **held(hidden(page.text, "client"), int(hidden(page.text, "version"))),
        "note": "his, with hers",
    }
    decided = post(fergus, PATH, fields)

    assert answer.headers["location"] == f"/practice/{FIRST}/conflict/phone-fergus"
    assert ("Morag saved this practice before you" in page.text, "hers" in page.text) == (
        True,
        True,
    )
    assert ">his</textarea>" in page.text
    assert decided.headers["location"] == f"/practice/{FIRST}/recorded"
    assert versions(served) == [(1, "hers"), (None, "his"), (2, "his, with hers")]


def test_two_coaches_at_once_by_script(served: Served) -> None:
    """A phone is told where both versions can be looked at, and whose came first."""
    morag, fergus = served.coach(), served.coach("Fergus")
    post(morag, PATH, held("phone-morag"))
    answer = post(fergus, PATH, held("phone-fergus"), headers=DATA)

    assert (answer.status_code, answer.json()) == (
        409,
        {"conflict": f"/practice/{FIRST}/conflict/phone-fergus", "by": "Morag"},
    )


def test_what_an_old_page_did_not_know_was_not_held(served: Served) -> None:
    """A page opened before the plan changed tells what was held; what the new plan adds was not."""
    coach, every = served.coach(), nodes(served)
    post(coach, PATH, {**held(), f"held:{every[0]}": "held"})

    assert [block.held for block in standing(served).blocks] == [
        "held",
        *["not held"] * (len(every) - 1),
    ]


def test_a_block_beside_the_plan(served: Served) -> None:
    """What was taught beside the plan is recorded as such."""
    coach = served.coach()
    post(coach, PATH, {**held(), "also": "backdoor-cut@unopposed", "also_went": "solid"})
    beside = [block for block in standing(served).blocks if not block.planned]

    assert [(block.skill, block.went) for block in beside] == [("backdoor-cut", "solid")]


@pytest.mark.parametrize(
    ("fields", "status"),
    [
        ({"client": ""}, 400),
        ({"client": "../../../etc"}, 400),
        ({"version": "-1"}, 422),
        ({"version": "9"}, 303),
        ({"held:nonsense": "held"}, 400),
        ({"held:unknown-skill@live": "held"}, 422),
        ({"status": "nonsense"}, 303),
        ({"absent": "Nobody of ours"}, 422),
        ({"note": "x" * 3000}, 422),
    ],
)
def test_damaged_forms(served: Served, fields: dict[str, str], status: int) -> None:
    """A damaged form is refused in a sentence; a version never seen is set aside, not lost."""
    answer = post(served.coach(), PATH, {**held(), **fields})

    assert answer.status_code == status


def test_another_practice_cannot_take_a_number(served: Served) -> None:
    """A number that stands for one practice is refused for another."""
    coach = served.coach()
    post(coach, PATH, held())
    lost = {**held(), "status": "lost", "reason": "ice"}

    assert post(coach, f"/practice/{SECOND_ONE}/record", lost).status_code == 409


def test_pages_show_what_is_recorded(served: Served) -> None:
    """Season, practice and form show it at once, whoever recorded it."""
    coach: TestClient = served.coach()
    before = coach.get("/").text
    post(coach, PATH, {**held(note="<b>loud</b>"), "status": "lost", "reason": "no heating"})
    season, form = coach.get("/").text, coach.get(PATH).text

    assert ("Not recorded yet" in before, "lost: no heating" in season) == (True, True)
    assert "Wed 13 Jan 17:30 is not held any more" in season
    assert ("&lt;b&gt;loud&lt;/b&gt;" in form, "<b>loud" in form) == (True, False)
    assert coach.get("/prints/record.csv").text.count("no heating") >= 1
    assert coach.get("/prints/record.json").json()[0]["entry"]["reason"] == "no heating"


def test_a_script_sends_the_token_in_a_header(served: Served) -> None:
    """What was kept without network goes out with a token fetched just before."""
    coach = served.coach()
    fresh = coach.get("/session").json()
    headers = {**DATA, "X-Form-Token": fresh["token"]}
    headers["Content-Type"] = "application/x-www-form-urlencoded"
    answer = coach.post(PATH, content=urlencode(held()), headers=headers)

    assert (fresh["coach"], answer.json()) == ("Morag", {"version": 1, "again": False})
    assert token(coach) != fresh["token"]
