"""Progress and load in the browser: planned against real, who missed what, hours and cautions."""

import re
from pathlib import Path

import pytest

from tests.server_cases import CHILD, FIRST, Served, held, post

PATH = f"/practice/{FIRST}/record"


@pytest.fixture
def served(tmp_path: Path) -> Served:
    """Serve the season."""
    return Served(tmp_path)


def words(page: str) -> str:
    """Return the words of a page's main part."""
    main = page[page.index("<main") : page.index("</main>")]
    return " ".join(re.sub(r"<[^>]+>", " ", main).split())


def test_nothing_recorded_counts_as_held(served: Served) -> None:
    """Before anything is recorded the past is what was planned, and the page says so."""
    page = words(served.coach().get("/progress").text)

    assert "0 of 1 past practice recorded. 1 counts as held as planned." in page
    assert "5 stages asked for: 1 taught and 4 to come." in page
    assert "Nobody, by the record." in page


def test_a_skill_through_its_stages(served: Served) -> None:
    """A shaky block adds one; promise and present date stand beside each other."""
    coach = served.coach()
    fields = {**held(), "held:v-cut@unopposed": "held", "went:v-cut@unopposed": "shaky"}
    assert post(coach, PATH, fields).status_code == 303
    page = words(coach.get("/progress").text)

    assert (
        "V-cut begun unopposed 1 of 2 blocks held, 1 added because one was shaky;"
        " the last one shaky; first planned for Wed 13 Jan; no date in the plan"
    ) in page
    assert "1 of 1 past practice recorded." in page


def test_learnt_is_said_only_of_what_was_solid(served: Served) -> None:
    """The record's word makes a taught stage a learnt one."""
    coach = served.coach()
    fields = {**held(), "held:v-cut@unopposed": "held", "went:v-cut@unopposed": "solid"}
    post(coach, PATH, fields)

    assert "1 of 1 block held; the last one solid; taught Wed 13 Jan, as first planned" in words(
        coach.get("/progress").text
    )


def test_who_missed_an_introduction_is_told_to_coaches_only(served: Served) -> None:
    """A child who was absent is named beside what it missed; a stranger sees nothing."""
    coach = served.coach()
    post(coach, PATH, held(absent=CHILD))
    page, stranger = coach.get("/progress").text, served.browser().get("/progress")

    assert f"{CHILD} V-cut, Wed 13 Jan; not taught it since" in words(page)
    assert (stranger.status_code, CHILD in stranger.text) == (303, False)


def test_the_load_of_each_week(served: Served) -> None:
    """Hours of practices and games, days without, and what is asked for by whom, with its year."""
    page = words(served.coach().get("/load").text)

    assert "no diagnosis of any child" in page
    assert "NBA and USA Basketball , at this age: at most 5 hours a week" in page
    assert "Source: NBA and USA Basketball, Youth Basketball Guidelines (2016)" in page
    assert "Week 1, Mon 11 Jan 2:30 h 2 practices; 5 days without" in page
    assert "Every week keeps what is asked for." in page


def test_bodies_that_differ_are_told(served: Served) -> None:
    """Where published guidance disagrees at this age, each body is named with its number."""
    page = words(served.coach().get("/load").text)

    assert (
        "Hours a week, at most: NBA and USA Basketball 5, National Athletic Trainers&#39;"
        " Association 10."
    ) in page


def test_a_week_over_the_limit_is_to_be_looked_at(served: Served) -> None:
    """More hours than asked for are said at their week and counted above."""
    path = served.folder / "season.toml"
    extra = "".join(
        f"\n[[practice_on]]\ndate = 2027-01-{day}\nstart = 10:00:00\nminutes = 90\n"
        'venue = "north-gym"\n'
        for day in (16, 17)
    )
    path.write_text(path.read_text() + extra)
    page = words(served.coach().get("/load").text)

    assert "1 week to look at." in page
    assert "5:30 h 4 practices; 3 days without; more than 5 hours" in page


def test_both_are_found_from_everywhere(served: Served) -> None:
    """They stand among the pages, and below what follows from a record."""
    coach = served.coach()
    post(coach, PATH, held())
    links = [
        re.findall(r'href="(/progress|/load)"', coach.get(path).text)
        for path in ("/", f"/practice/{FIRST}/recorded")
    ]

    assert links == [["/progress", "/load"], ["/progress", "/load"] * 2]


def test_without_a_plan_there_is_load_but_no_progress(served: Served) -> None:
    """The hours follow from the calendar alone."""
    (served.folder / "plan.json").unlink()
    coach = served.coach()

    assert [coach.get(path).status_code for path in ("/progress", "/load")] == [404, 200]
