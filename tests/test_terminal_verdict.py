"""What `curriculum plan` prints: the verdict first, the next practices, where the rest is."""

import datetime as dt
from pathlib import Path

from curriculum.outputs.terminal.render import render
from curriculum.outputs.terminal.verdict import nearest_view, proof_line, verdict_view
from curriculum.practice.agenda import Agenda, agenda
from tests.build import day
from tests.command_line import QUICK, Line
from tests.conftest import Golden
from tests.sample_plan import GYM, LIBRARY, PLAN, SEASON

PAGE: Agenda = agenda(PLAN, SEASON, LIBRARY, GYM)


def nearest(today: dt.date) -> list[str]:
    """Return the lines about dates, not those about blocks, that are near on a day."""
    view = nearest_view(PAGE, today)
    return [] if view is None else [row for row in render(view).splitlines() if row[2:3] != " "]


def test_the_verdict_is_as_expected(golden: Golden) -> None:
    """Must-goals and everything missed stand there with reasons; what is met besides is counted."""
    golden.check("terminal-verdict.txt", render(verdict_view(PAGE)))


def test_missed_could_goals_can_be_one_line() -> None:
    """In a season without goals of its own, could-goals that are missed are only counted."""
    page = render(verdict_view(PAGE, every_miss=False))

    assert "and 1 could-goal not reached" in page
    assert "Screen away" not in page
    assert "Not honoured" not in page


def test_a_reason_told_below_is_not_told_twice() -> None:
    """Why a goal was lost stands with what has changed; what was missed before keeps its place."""
    first, second = (miss.why for miss in PLAN.misses)
    page = " ".join(render(verdict_view(PAGE, told=(first,))).replace("!", "").split())

    assert (first in page, second in page, "MISSED Guard the ball" in page) == (False, True, True)
    assert "Not honoured" not in render(verdict_view(PAGE, told=(first, second)))


def test_the_next_practices_count_from_today() -> None:
    """Two practices from a day on are shown, the day itself included, with what lies between."""
    assert nearest(day("02-10")) == [
        "Next practices",
        "  Wed 10 Feb 17:30 North Gym                                        30 of 37 min",
        "  Fri 12 Feb 18:00 Quay Hall                                        20 of 32 min",
    ]
    assert [row[2:12] for row in nearest(day("02-12"))[1:]] == [
        "Fri 12 Feb",
        "Mon 15 Feb",
        "Wed 17 Feb",
        "Fri 19 Feb",
        "Sat 20 Feb",
        "Wed 24 Feb",
    ]


def test_no_practice_is_next_after_the_last() -> None:
    """After the last practice the heading is gone too."""
    assert nearest(PLAN.practices[-1].date + dt.timedelta(days=1)) == []


def test_the_proof_tells_what_is_open() -> None:
    """What is proved and what is not are kept apart, with value and bound."""
    words = " ".join(render(proof_line(PAGE)).split())

    assert words == (
        "Proved best: must-goals 0. Not proved: should- and could-goals 2, at least 1; comfort "
        "1184, at least 902. Everything asked for needs at least 14 practices; 19 are there."
    )


def test_plan_prints_a_page_and_all_of_it_on_request(line: Line, tmp_path: Path) -> None:
    """The verdict comes before the practices and fits on a screen or two; --all prints the rest."""
    folder = tmp_path / "demo"
    line("new", folder, "--from", "kestrel-quay-u12")

    short = line("plan", folder, *QUICK).out
    whole = line("plan", folder, *QUICK, "--all").out

    marks = ["Plan: good", "Goals  16 of 16 met", "At risk", "Next practices", "Proved best"]
    assert [short.find(mark) for mark in marks] == sorted(short.find(mark) for mark in marks)
    assert short.find(marks[0]) > 0
    assert short.endswith(
        f"The whole season: curriculum show {folder}\nThe next sheet:   curriculum sheet {folder}\n"
    )
    assert len(short.splitlines()) < 60 < 150 < len(whole.splitlines())
    assert max(map(len, short.splitlines()[:-3])) <= 80
    assert "Week 12" in whole
