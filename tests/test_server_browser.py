"""The whole story in a real browser, on a phone and on a desk, and its accessibility.

Chromium is the system's; the checker is axe-core, fetched with npm.
"""

import re
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from curriculum.records.database import history, open_record, read_record
from tests.browser import SIZES, axe, grave_faults, missing
from tests.server_cases import SECOND_ONE, club_folder, plan_in, season_folder
from tests.server_process import SECONDS, Running

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

FRIDAY = "2027-01-15T18:50"
pytestmark = [
    pytest.mark.skipif(bool(missing()), reason=missing() or "all is here"),
    pytest.mark.filterwarnings("ignore::ResourceWarning"),
]


@pytest.fixture
def running(tmp_path: Path) -> Iterator[Running]:
    """Serve a season on a Friday evening, after the practice."""
    with Running(season_folder(tmp_path), FRIDAY) as running:
        yield running


def sized(chromium: "Browser", size: str, **others: Any) -> "Page":
    """Open a window of a size, patient enough for a loaded machine."""
    width, height = SIZES[size]
    context = chromium.new_context(viewport={"width": width, "height": height}, **others)
    context.set_default_timeout(1000 * SECONDS)
    return context.new_page()


def sign_in(page: "Page", running: Running) -> None:
    """Sign in with the key that the first start printed."""
    page.goto(f"{running.address}/")
    page.get_by_label("Your key").fill(running.key)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url(f"{running.address}/")


def wait_until_kept(page: "Page") -> None:
    """Wait until the phone has kept the practice that is open, and would open it by itself."""
    page.wait_for_function(
        """async () => {
          const kept = [];
          for (const name of await caches.keys()) {
            kept.push(...await (await caches.open(name)).keys());
          }
          return navigator.serviceWorker.controller !== null
            && kept.some(each => each.url.includes('/static/'))
            && kept.some(each => each.url === location.href);
        }"""
    )


def reload(page: "Page") -> None:
    """Load the page anew without network, and wait until it is there.

    Playwright's own way sometimes takes the worker's vain try to fetch it for a failure.
    """
    page.evaluate("() => { window.old = true; setTimeout(() => location.reload()); }")
    page.wait_for_function("() => !window.old && document.readyState === 'complete'")


@pytest.mark.parametrize("size", SIZES)
def test_the_story(chromium: "Browser", running: Running, size: str) -> None:
    """Open the season, record without network, come back, accept the re-plan, subscribe."""
    page = sized(chromium, size)
    said: list[str] = []
    page.on("console", lambda message: said.append(f"{message.type}: {message.text}"))
    page.on("pageerror", lambda fault: said.append(f"fault: {fault}"))
    sign_in(page, running)
    page.get_by_role("link", name="Open the practice").click()
    page.wait_for_url(f"**/practice/{SECOND_ONE}")
    wait_until_kept(page)

    # In the gym: no network, and the server is killed besides.
    page.context.set_offline(True)
    running.kill()
    reload(page)
    page.get_by_role("button", name=re.compile("^Start")).first.click()
    page.locator("#left", has_text=re.compile(r"^\d+:\d\d$")).wait_for()
    page.locator(".after").first.get_by_role("radio", name="Shaky").check()
    page.get_by_label("Note for yourself").fill("Said without network")
    page.get_by_role("button", name="Save the record").click()
    page.get_by_text("1 record is kept on this phone").wait_for()
    reload(page)
    page.get_by_text("1 record is kept on this phone").wait_for()

    # At home: the network is back.
    running.start()
    page.context.set_offline(False)
    page.get_by_text("Fri 15 Jan: recorded.").wait_for()
    with open_record(running.folder / "record.db") as db:
        kept = history(db)
    assert [(each.version, each.entry.note, each.entry.blocks[0].went) for each in kept] == [
        (1, "Said without network", "shaky")
    ]

    page.get_by_role("link", name="What follows").click()
    page.get_by_role("link", name="See what would change").click()
    page.get_by_role("button", name="Propose a plan").click()
    page.get_by_role("button", name="Accept this plan").click()
    page.get_by_text("Accepted. Revision 2 is in force").wait_for()
    assert plan_in(running.folder).revision == 2

    page.get_by_role("link", name="Calendars").click()
    page.get_by_role("button", name="Make the address").click()
    address = page.get_by_label("Or copy this address").input_value()
    page.locator("svg.qr").wait_for()
    with urllib.request.urlopen(address) as answer:
        assert answer.read().startswith(b"BEGIN:VCALENDAR")
    family = sized(chromium, size)
    family.goto(address.removesuffix(".ics"))
    family.get_by_role("link", name="Subscribe on this device").wait_for()
    wrong = [each for each in said if "net::ERR" not in each and not each.startswith("verbose")]
    assert wrong == []


def test_the_story_in_a_club(chromium: "Browser", tmp_path: Path) -> None:
    """On a phone: from the teams to a practice, recorded without network, sent from the teams."""
    with Running(club_folder(tmp_path), FRIDAY) as running:
        page = sized(chromium, "phone")
        said: list[str] = []
        page.on("pageerror", lambda fault: said.append(f"fault: {fault}"))
        sign_in(page, running)
        wait_until_kept(page)
        page.get_by_role("link", name="Terns").click()
        page.wait_for_url("**/team/terns/")
        page.get_by_role("link", name="Open the practice").click()
        page.wait_for_url(f"**/team/terns/practice/{SECOND_ONE}")
        wait_until_kept(page)

        # In the gym: no network, and the server is killed besides. The teams' page opens too.
        page.context.set_offline(True)
        running.kill()
        reload(page)
        page.get_by_label("Note for yourself").fill("The terns without network")
        page.get_by_role("button", name="Save the record").click()
        page.get_by_text("1 record is kept on this phone").wait_for()

        page.get_by_role("link", name="Teams").click()
        page.get_by_role("heading", name="Kestrel Quay Test Club").wait_for()
        page.get_by_text("1 record is kept on this phone").wait_for()

        # At home it is sent from the teams' page, and only to the terns.
        running.start()
        page.context.set_offline(False)
        page.get_by_text(": recorded.").wait_for()
        notes = {team: recorded_notes(running.folder / team) for team in ("terns", "gannets")}
        assert notes == {"terns": ["The terns without network"], "gannets": []}
        page.get_by_role("link", name="What follows").click()
        page.wait_for_url(f"**/team/terns/practice/{SECOND_ONE}/recorded")

        page.get_by_role("link", name="Calendars").click()
        page.get_by_role("button", name="Make the address").click()
        address = page.get_by_label("Or copy this address").input_value()
        assert address.startswith(f"{running.address}/team/terns/f/")
        family = sized(chromium, "phone")
        family.goto(address.removesuffix(".ics"))
        family.get_by_role("link", name="Subscribe on this device").wait_for()

        page.get_by_role("link", name="Teams").click()
        page.wait_for_url(f"{running.address}/")
        page.get_by_role("link", name="Who teaches what this week").click()
        page.get_by_role("heading", name="Use of the gyms").wait_for()
        page.get_by_role("button", name="Sign out").click()
        page.wait_for_url("**/sign-in")
        page.wait_for_function(
            "async () => !(await caches.keys()).some(name => name.startsWith('curriculum-pages'))"
        )
        assert said == []


def test_without_network_a_page_that_is_not_kept_leads_to_those_that_are(
    chromium: "Browser", running: Running
) -> None:
    """In place of the browser's own error: what is kept on this phone, and once more."""
    page = sized(chromium, "phone")
    sign_in(page, running)
    page.get_by_role("link", name="Open the practice").click()
    page.wait_for_url(f"**/practice/{SECOND_ONE}")
    wait_until_kept(page)
    page.context.set_offline(True)
    for name in ("Plan", "Calendars"):
        page.get_by_role("link", name=name, exact=True).click()
        page.get_by_role("heading", name="No network").wait_for()
        assert not axe() or check(page) == []
        page.get_by_role("link", name="Friday 15 January 2027").click()
        page.get_by_role("button", name="Save the record").wait_for()
    page.get_by_role("link", name="Plan", exact=True).click()
    page.get_by_role("heading", name="No network").wait_for()
    page.context.set_offline(False)
    page.get_by_role("link", name="Try again").click()
    page.get_by_role("heading", name="The plan").wait_for()


def recorded_notes(folder: Path) -> list[str]:
    """Return the notes of all that is recorded of a season."""
    record, problems = read_record(folder / "record.db")
    assert problems == ()
    return [entry.note for entry in record.entries]


def test_signing_out_forgets_the_pages(chromium: "Browser", running: Running) -> None:
    """After signing out no practice is left on the phone."""
    page = sized(chromium, "phone")
    sign_in(page, running)
    page.goto(f"{running.address}/practice/{SECOND_ONE}")
    page.wait_for_function("async () => (await caches.keys()).includes('curriculum-pages')")
    page.get_by_role("button", name="Sign out").click()
    page.wait_for_url("**/sign-in")
    page.wait_for_function("async () => !(await caches.keys()).includes('curriculum-pages')")

    assert page.locator("nav").count() == 0


def test_without_scripts_everything_can_be_recorded(chromium: "Browser", running: Running) -> None:
    """A browser that runs no script records a practice with the plain form."""
    page = sized(chromium, "phone", java_script_enabled=False)
    sign_in(page, running)
    page.goto(f"{running.address}/practice/{SECOND_ONE}/record")
    page.get_by_label("Note for yourself").fill("No script")
    page.get_by_role("button", name="Save the record").click()
    page.wait_for_url("**/recorded")

    assert page.get_by_role("heading", name="Recorded").count() == 1


@pytest.mark.parametrize(("size", "scheme"), [("phone", "dark"), ("desk", "light")])
def test_an_accessibility_checker_finds_nothing_grave(
    chromium: "Browser", running: Running, size: str, scheme: str
) -> None:
    """axe-core (Deque, MPL 2.0) with all its rules, on every kind of page."""
    if not axe():
        pytest.skip("npm cannot fetch axe-core here")
    page = sized(chromium, size, color_scheme=scheme)
    page.goto(f"{running.address}/sign-in")
    found = {"/sign-in": check(page)}
    sign_in(page, running)
    for path in PAGES:
        page.goto(f"{running.address}{path}")
        page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true; })")
        found[path] = check(page)
    page.goto(f"{running.address}/calendars")
    page.get_by_role("button", name="Make the address").click()
    page.get_by_label("Or copy this address").wait_for()
    found["subscribe"] = check(page)

    assert {path: faults for path, faults in found.items() if faults} == {}


def test_the_clubs_pages_have_nothing_grave(chromium: "Browser", tmp_path: Path) -> None:
    """The club's own pages and a season's below them, on a phone; nothing is too wide either."""
    if not axe():
        pytest.skip("npm cannot fetch axe-core here")
    with Running(club_folder(tmp_path), FRIDAY) as running:
        page = sized(chromium, "phone")
        sign_in(page, running)
        found = {}
        for path in ("/", "/week", "/risks", "/team/terns/"):
            page.goto(f"{running.address}{path}")
            found[path] = check(page)

        assert {path: faults for path, faults in found.items() if faults} == {}


PAGES = (
    "/",
    f"/practice/{SECOND_ONE}",
    f"/practice/{SECOND_ONE}/record",
    "/plan",
    "/progress",
    "/load",
    "/skills",
    "/skills/give-and-go",
    "/edit",
    "/prints",
    "/calendars",
    "/skills/none",
)


def check(page: "Page") -> list[str]:
    """Return the grave faults of a page, and whether it is wider than the window."""
    grave = grave_faults(page)
    over = page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
    return [*grave, *([f"{over} pixels too wide"] if over > 0 else [])]


def test_targets_are_large_enough_for_cold_fingers(chromium: "Browser", running: Running) -> None:
    """On the gym's page everything that is touched is at least 48 pixels high."""
    page = sized(chromium, "phone")
    sign_in(page, running)
    page.goto(f"{running.address}/practice/{SECOND_ONE}")
    page.get_by_role("button", name=re.compile("^Start")).first.click()
    small = page.evaluate(
        """() => [...document.querySelectorAll(
            'main button, main .pick, main .tick, main summary, main input:not([type=radio])'
            + ':not([type=checkbox]):not([type=hidden]), main textarea, .timer button')]
          .filter(each => each.offsetParent && each.getBoundingClientRect().height < 48)
          .map(each => each.outerHTML.slice(0, 100))"""
    )

    assert small == []
