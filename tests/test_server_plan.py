"""A plan is proposed, then accepted: only the one that was seen, over what it was computed from."""

import datetime as dt
import json
import re
from dataclasses import replace
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from curriculum.models.plan import Miss, Plan
from curriculum.planning import make_plan, same_season
from curriculum.risk import Outlook, Risk
from curriculum.server import replanning
from curriculum.server.replanning import base_of
from curriculum.server.waiting import Proposal, keep_proposal
from curriculum.store import plan_bytes, plan_mark, replace_plan
from tests.server_cases import FIRST, NOW, Served, held, hidden, opened, plan_in, post

PATH = f"/practice/{FIRST}/record"


@pytest.fixture
def served(tmp_path: Path) -> Served:
    """Serve the season."""
    return Served(tmp_path)


def lose_first(coach: TestClient, client: str = "phone-lost") -> None:
    """Record that the first practice was lost, so that another plan is due."""
    lost = {**held(client), "status": "lost", "reason": "no heating"}
    assert post(coach, PATH, lost).status_code == 303


def proposed(served: Served, coach: TestClient) -> dict[str, str]:
    """Ask for a proposal and return the fields of the form that accepts it."""
    assert post(coach, "/plan/propose").headers["location"] == "/plan"
    served.app.state.planner.wait()
    text = coach.get("/plan").text
    return {name: hidden(text, name) for name in ("proposal", "revision")}


def test_proposing_changes_nothing(served: Served) -> None:
    """Until it is accepted the plan in force stays to the byte, and the page shows what changes."""
    coach = served.coach()
    lose_first(coach)
    before = (served.folder / "plan.json").read_bytes()
    proposed(served, coach)
    page = coach.get("/plan").text

    assert (served.folder / "plan.json").read_bytes() == before
    assert ("Proposed: revision 2" in page, "Accept this plan" in page) == (True, True)
    assert re.search(r"\d+ blocks? changed", page)


def test_accepting_puts_it_in_force(served: Served) -> None:
    """The revision counts up, the lost practice is out of it, and the proposal is gone."""
    coach = served.coach()
    lose_first(coach)
    answer = post(coach, "/plan/accept", proposed(served, coach))
    plan = plan_in(served.folder)

    assert answer.headers["location"] == "/plan?done=accepted"
    assert (plan.revision, plan.practices[0].id == FIRST) == (2, False)
    assert "Accept this plan" not in coach.get("/plan").text


def test_the_proposal_outlives_a_restart(served: Served) -> None:
    """A proposal can be accepted after the server was started anew."""
    coach = served.coach()
    lose_first(coach)
    fields = proposed(served, coach)
    served.restarted()
    browser = served.browser()
    browser.cookies.set("curriculum_session", coach.cookies["curriculum_session"])

    assert post(browser, "/plan/accept", fields).status_code == 303
    assert plan_in(served.folder).revision == 2


@pytest.mark.parametrize("what", ["record", "season", "plan", "day", "proposal", "revision"])
def test_a_stale_accept_is_refused(served: Served, what: str) -> None:
    """When anything it was computed from has changed, nothing is written."""
    coach = served.coach()
    lose_first(coach)
    fields = proposed(served, coach)
    plan = served.folder / "plan.json"
    if what == "record":
        post(coach, PATH, held("phone-other", 1, note="it was held after all"))
    elif what == "season":
        season = served.folder / "season.toml"
        season.write_text(season.read_text().replace("minutes = 75", "minutes = 90"))
    elif what == "plan":
        plan.write_text(plan.read_text().replace('"revision": 1', '"revision": 7'))
    elif what == "day":
        served.clock.now = NOW + dt.timedelta(days=2)
    else:
        fields[what] = "99"
    before = plan.read_bytes()
    answer = post(coach, "/plan/accept", fields)

    assert answer.status_code == 409
    assert "was not put in force" in answer.text
    assert plan.read_bytes() == before


def test_a_command_at_the_same_instant_is_not_overwritten(
    served: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It puts its plan in force after all was compared and before the accepted one is written."""
    coach = served.coach()
    lose_first(coach)
    fields = proposed(served, coach)
    file = served.folder / "plan.json"
    theirs = file.read_bytes().replace(b'"revision": 1', b'"revision": 7')

    def meanwhile(path: Path, data: bytes, mark: str) -> bool:
        assert replace_plan(path, theirs, plan_mark(path))
        return replace_plan(path, data, mark)

    monkeypatch.setattr(replanning, "replace_plan", meanwhile)
    answer = post(coach, "/plan/accept", fields)

    assert (answer.status_code, "was not put in force" in " ".join(answer.text.split())) == (
        409,
        True,
    )
    assert file.read_bytes() == theirs


def test_accepting_twice_writes_once(served: Served) -> None:
    """A second touch of the button is refused, and the plan stays."""
    coach = served.coach()
    lose_first(coach)
    fields = proposed(served, coach)
    codes = [post(coach, "/plan/accept", fields).status_code for _ in range(2)]

    assert (codes, plan_in(served.folder).revision) == ([303, 409], 2)


def test_a_proposal_can_be_dropped(served: Served) -> None:
    """Then the plan in force stays, and a new proposal can be asked for."""
    coach = served.coach()
    lose_first(coach)
    proposed(served, coach)

    assert post(coach, "/plan/drop").status_code == 303
    assert "Propose a plan" in coach.get("/plan").text
    assert plan_in(served.folder).revision == 1


def test_a_plan_that_stays_is_not_proposed(served: Served, monkeypatch: pytest.MonkeyPatch) -> None:
    """When only what is proved has changed there is nothing to accept, and the page says so."""
    coach = served.coach()
    post(coach, PATH, held())
    asked = coach.get("/").text
    space = opened(served.folder)
    made = make_plan(space, now=NOW, today=NOW.date())
    assert space.plan is not None
    assert same_season(space.plan, made.plan)
    proved = made.plan.model_copy(update={"status": "optimal", "made": NOW})
    better = replace(made, plan=proved, fresh=True)
    monkeypatch.setattr(replanning, "make_plan", lambda *_, **__: better)
    before = (served.folder / "plan.json").read_bytes()
    post(coach, "/plan/propose")
    served.app.state.planner.wait()
    page = coach.get("/plan").text

    assert ("Nothing would change" in page, "Proposed: revision" in page) == (True, False)
    assert ("recorded since" in asked, "recorded since" in coach.get("/").text) == (True, False)
    assert (served.folder / "plan.json").read_bytes() == before


def test_that_the_plan_stays_is_said_no_longer_than_it_is_true(served: Served) -> None:
    """Once more is recorded, nobody knows whether the plan still stays."""
    coach = served.coach()
    post(coach, "/plan/propose")
    served.app.state.planner.wait()
    before = coach.get("/plan").text
    lose_first(coach)

    assert "Nothing would change" in before
    assert "Nothing would change" not in coach.get("/plan").text


def test_the_first_plan_is_proposed_too(served: Served) -> None:
    """A season without a plan says so everywhere, and gets one the same way."""
    coach = served.coach()
    (served.folder / "plan.json").unlink()
    codes = {coach.get(path).status_code for path in (f"/practice/{FIRST}", "/prints")}
    assert (codes, "no plan yet" in coach.get("/").text) == ({404}, True)
    fields = proposed(served, coach)

    assert fields["revision"] == "0"
    assert post(coach, "/plan/accept", fields).status_code == 303
    assert plan_in(served.folder).revision == 1


def test_faulty_files_are_shown_to_coaches_only(served: Served) -> None:
    """A broken file is a page with the fault and the way out, without this machine's paths."""
    coach = served.coach()
    (served.folder / "season.toml").write_text("[season\n")
    page, stranger = coach.get("/"), served.browser().get("/")

    assert (page.status_code, "The season cannot be read" in page.text) == (503, True)
    assert f"{served.folder}" not in page.text
    assert (stranger.status_code, coach.get("/edit").status_code) == (303, 503)


def proposal_of(served: Served, plan: Plan, risks: list[str]) -> None:
    """Let a plan wait as the proposal that follows from the folder as it is."""
    base = base_of(opened(served.folder), served.site)
    kept = Proposal("x" * 12, base, 1, plan_bytes(plan).decode(), json.dumps(risks), NOW)
    keep_proposal(served.site.state, kept)


def test_what_is_lost_and_at_risk_is_told_with_its_remedies(served: Served) -> None:
    """Each goal lost is said once, as the plan says it, with what would help; then the risks."""
    plan = plan_in(served.folder)
    goal, other = plan.goals
    why = "Give and go guided before the game on Sat 6 Feb is missed: three practices are left"
    lost = Miss(skill=goal.skill, stage=goal.stage, why=why, remedies=("hold one practice more",))
    missing = goal.model_copy(update={"met": False, "reached": None})
    changed = plan.model_copy(
        update={"revision": 2, "goals": (missing, other), "misses": (lost,), "status": "partial"}
    )
    proposal_of(served, changed, ["Backdoor cut is missed if Fri 12 Feb is lost"])
    page = served.coach().get("/plan").text
    words = " ".join(re.sub(r"<[^>]+>", " ", page).split())

    assert f"Goals lost {why} What would help hold one practice more" in words
    assert "Newly at risk Backdoor cut is missed if Fri 12 Feb is lost" in words
    assert (page.count(why), "does not honour" in page) == (1, False)


def test_a_risk_is_new_by_its_goal(served: Served, monkeypatch: pytest.MonkeyPatch) -> None:
    """A goal that was at risk before is not new because other dates are named now."""
    coach = served.coach()
    lose_first(coach)
    by = dt.date(2027, 2, 6)
    old, new = (
        Risk(
            "give-and-go", "guided", by, "must", (), (), f"Give and go is missed if {when} is lost"
        )
        for when in ("Wed 20 Jan", "Wed 27 Jan")
    )
    other = Risk("backdoor-cut", "unopposed", by, "should", (), (), "Backdoor cut is missed")
    found = {1: (old,), 2: (new, other)}
    monkeypatch.setattr(
        replanning, "outlook_of", lambda _, plan, __: Outlook(found[plan.revision], 0, 0)
    )
    proposed(served, coach)
    page = coach.get("/plan").text

    assert ("Backdoor cut is missed" in page, "Give and go is missed" in page) == (True, False)


def test_what_changes_later_is_folded_away(served: Served) -> None:
    """Two weeks stand open; the rest is counted, and can be unfolded before it is accepted."""
    plan = plan_in(served.folder)
    moved = [each.model_copy(update={"venue": "quay-hall"}) for each in plan.practices]
    emptied = [each.model_copy(update={"blocks": ()}) for each in moved[5:]]
    changed = plan.model_copy(update={"revision": 2, "practices": (*moved[:5], *emptied)})
    proposal_of(served, changed, [])
    page = served.coach().get("/plan").text
    folded = re.findall(r"<summary>And (.*?)</summary>(.*?)</details>", page, re.DOTALL)
    later = sum(len(each.blocks) for each in plan.practices[5:])

    assert [words for words, _ in folded] == [
        "5 more practices later",
        f"{later} more blocks later, all of them reviews",
    ]
    assert [inside.count("<li>") for _, inside in folded] == [5, later]
    assert page.index("</details>") < page.index("Accept this plan")
