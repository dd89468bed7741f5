"""The season's page in a real browser, from a file and without a network: phone, desk and paper.

Chromium is the system's; the checker is axe-core, fetched with npm.
"""

from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from curriculum.outputs.html.season import season_page
from tests.browser import SIZES, axe, grave_faults, missing
from tests.sample_drills import DRILLED, drilled
from tests.sample_plan import BLOCKS, GYM, PLAN, SEASON

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

pytestmark = [
    pytest.mark.skipif(bool(missing()), reason=missing() or "all is here"),
    pytest.mark.filterwarnings("ignore::ResourceWarning"),
]

PRACTICE = "2027-02-03-north-gym-1730"
VIEWS = ("practices", PRACTICE, "dates", "chart", "skills")


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> str:
    """Write the page to a file and return its address."""
    path: Path = tmp_path_factory.mktemp("html") / "season.html"
    sheets = tuple(drilled(day) for day in BLOCKS)
    path.write_text(season_page(PLAN, SEASON, DRILLED, GYM, sheets), encoding="utf-8")
    return path.as_uri()


def opened(
    chromium: "Browser", size: str = "phone", **others: Any
) -> "tuple[Page, list[str], list[str]]":
    """Open a window without network; return what its console says and what it asks for."""
    width, height = SIZES[size]
    context = chromium.new_context(
        viewport={"width": width, "height": height}, offline=True, bypass_csp=True, **others
    )
    context.set_default_timeout(20_000)
    page = context.new_page()
    said: list[str] = []
    asked: list[str] = []
    page.on("console", lambda message: said.append(f"{message.type}: {message.text}"))
    page.on("pageerror", lambda fault: said.append(f"fault: {fault}"))
    page.on("request", lambda request: asked.append(request.url))
    return page, said, asked


def stop_the_clock(page: "Page") -> None:
    """Let the page's time pass only when a test says so, however slow the machine is."""
    page.clock.install(time="2027-02-03T17:00:00")
    page.clock.pause_at("2027-02-03T17:30:00")


@pytest.mark.parametrize("size", SIZES)
def test_every_view_opens_and_fits(chromium: "Browser", address: str, size: str) -> None:
    """No error, no request but for the file itself, nothing wider than the window."""
    page, said, asked = opened(chromium, size)
    wide = []
    for view in VIEWS:
        page.goto(f"{address}#{view}")
        page.wait_for_selector(f'section[id="{view}"]:not([hidden])')
        if page.evaluate("document.documentElement.scrollWidth > window.innerWidth"):
            wide.append(view)
        assert page.locator("section.page:visible").count() == 1

    assert (said, wide) == ([], [])
    assert {each.partition("#")[0] for each in asked} == {address}


@pytest.mark.parametrize("colours", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
def test_axe_finds_no_grave_fault(
    chromium: "Browser", address: str, size: str, colours: str
) -> None:
    """Headings, labels, contrast and keyboard: axe-core has nothing serious to say."""
    if not axe():
        pytest.skip("axe-core cannot be fetched: needs npm and its registry")
    page, _, _ = opened(chromium, size, color_scheme=colours)
    found = {}
    for view in VIEWS:
        page.goto(f"{address}#{view}")
        page.wait_for_selector(f'section[id="{view}"]:not([hidden])')
        found[view] = grave_faults(page)
    page.goto(f"{address}#{PRACTICE}")
    page.locator("button.start:visible").click()
    page.wait_for_selector("#clock:not([hidden])")
    found["timer"] = grave_faults(page)

    assert {view: faults for view, faults in found.items() if faults} == {}


def test_the_timer_runs_without_a_network(chromium: "Browser", address: str) -> None:
    """It counts down, says when a part ends, counts on, goes on by a key, pauses and stops."""
    page, said, _ = opened(chromium)
    stop_the_clock(page)
    page.goto(f"{address}#{PRACTICE}")
    page.locator("button.start:visible").click()
    left, title = page.locator("#clock-left"), page.locator("#clock-title")
    seen = [(title.inner_text(), left.inner_text())]
    page.clock.run_for(60_000)
    seen.append((title.inner_text(), left.inner_text()))
    page.clock.run_for(7 * 60_000 + 5_000)
    seen.append((page.locator("#clock-next").inner_text(), left.inner_text()))
    announced = page.locator("#clock-says").inner_text()
    page.locator("#clock-on").focus()
    page.keyboard.press("Enter")
    seen.append((title.inner_text(), left.inner_text()))
    page.locator("#clock-pause").click()
    page.clock.run_for(30_000)
    seen.append((page.locator("#clock-pause").inner_text(), left.inner_text()))

    assert seen == [
        ("Warm-up: move, land, balance", "8:00"),
        ("Warm-up: move, land, balance", "7:00"),
        ("Time is up. Next: Recall: Jump stop", "+0:05"),
        ("Recall: Jump stop", "4:00"),
        ("Go on", "4:00"),
    ]
    assert announced == "Time is up. Next: Recall: Jump stop"
    page.locator("#clock-stop").click()
    page.wait_for_selector("#clock", state="hidden")
    assert said == []


def test_the_timer_survives_a_reload(chromium: "Browser", address: str) -> None:
    """A phone that closes the page in the middle of a block finds the clock where it should be."""
    page, _, _ = opened(chromium)
    stop_the_clock(page)
    page.goto(f"{address}#{PRACTICE}")
    page.locator("button.here:visible").nth(2).click()
    title = page.locator("#clock-title").inner_text()
    page.clock.run_for(90_000)
    page.reload()
    page.wait_for_selector("#clock:not([hidden])")

    assert page.locator("#clock-title").inner_text() == title == "Give and go"
    assert page.locator("#clock-left").inner_text() == "8:30"


def test_the_next_practice_is_marked(chromium: "Browser", address: str) -> None:
    """By the phone's own date the list says which practice comes next."""
    page, _, _ = opened(chromium)
    page.clock.set_fixed_time("2027-02-04T12:00:00")
    page.goto(f"{address}#practices")
    page.wait_for_selector("li.due")

    assert page.locator("li.due").get_attribute("data-date") == "2027-02-05"
    assert page.locator("li.past").count() == 7


def test_without_a_script_everything_is_readable(chromium: "Browser", address: str) -> None:
    """All sheets, chart and map stand below each other, and no dead button is shown."""
    page, _, _ = opened(chromium, java_script_enabled=False)
    page.goto(address)

    assert page.locator("section.page:visible").count() == len(BLOCKS) + 4
    assert page.locator("button:visible").count() == 0


def test_paper_shows_the_practice_alone(chromium: "Browser", address: str) -> None:
    """Printed from the browser, a practice comes without navigation, buttons and timer."""
    page, _, _ = opened(chromium, "desk")
    page.goto(f"{address}#{PRACTICE}")
    page.emulate_media(media="print")
    page.wait_for_selector("nav", state="hidden")

    assert page.locator("button:visible").count() == 0
    assert page.locator("article.row:visible").count() == len(drilled("02-03").rows)
