"""A small season in a folder, served: what the tests of the server share."""

import datetime as dt
import re
import shutil
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

import pytest
from starlette.applications import Starlette
from starlette.routing import Mount
from starlette.testclient import TestClient

from curriculum.models.plan import Plan
from curriculum.planning import keep, make_plan
from curriculum.server import coaches
from curriculum.server.app import Seasons, application, club_application
from curriculum.server.clubsite import ClubSite
from curriculum.server.site import Place, Site
from curriculum.workspace import Workspace, open_season

NOW = dt.datetime(2027, 1, 14, 9, 0, tzinfo=dt.UTC)
"""A Thursday morning: Wednesday's practice was held and is not recorded yet."""

FIRST, SECOND_ONE = "2027-01-13-north-gym-1730", "2027-01-15-north-gym-1730"
CHILD = "Wrenbrook"
"""A player's name that stands nowhere else, to be looked for."""

SEASON = """
# The coach's remark at the top.
[season]
id = "kestrel-quay-test-2027"
name = "Test term"
start = 2027-01-11   # a Monday
end = 2027-02-14
timezone = "Europe/Dublin"
library = ["skills"]

[team]
name = "Kestrel Quay Testers"
ages = [10, 11]
players = 12
expected = 10

[[venue]]
id = "north-gym"
name = "North Gym"
baskets = 4
address = "2 Harbour Road"

[[slot]]
weekday = "wednesday"
start = 17:30:00
minutes = 75
venue = "north-gym"

[[slot]]
weekday = "friday"
start = 17:30:00
minutes = 75
venue = "north-gym"

[[game]]
id = "gulls"   # away, by ferry
date = 2027-02-06
start = 11:00:00
opponent = "Harbour Gulls"
home = false

[[goal]]
skill = "give-and-go"
stage = "guided"   # not more, they are ten
by = "gulls"
need = "must"

[[goal]]
skill = "backdoor-cut"
stage = "unopposed"
need = "should"
"""

SKILLS = """
strand = "Moving without the ball"

[[skill]]
id = "v-cut"
name = "V-cut"
why = "Gets a player open."
cues = ["Walk them down", "Burst out"]
faults = ["Runs a circle"]
[skill.unopposed]
blocks = 1
minutes = 8
[skill.guided]
blocks = 1
minutes = 8

[[skill]]
id = "give-and-go"
name = "Give and go"
needs = ["v-cut"]
cues = ["Pass and move"]
[skill.unopposed]
blocks = 1
minutes = 8
[skill.guided]
blocks = 2
minutes = 10

[[skill]]
id = "backdoor-cut"
name = "Backdoor cut"
needs = ["give-and-go"]
cues = ["Plant the outside foot"]
[skill.unopposed]
blocks = 1
minutes = 8
"""


CLUB = """
[club]
id = "kestrel-quay-test-club"
name = "Kestrel Quay Test Club"

[[gym]]
id = "north-gym"
name = "North Gym"
courts = 2

[[opening]]
gym = "north-gym"
weekdays = ["wednesday", "friday"]
start = 17:00:00
end = 20:00:00

[[age_group]]
id = "u12"
name = "Under-12"
ages = [10, 11]
weeks = 10
practices = 2
minutes = 75

[[coach]]
id = "morag"
name = "Morag"

[[team]]
id = "terns"
name = "Terns"
age_group = "u12"
coaches = ["morag"]

[[team]]
id = "gannets"
name = "Gannets"
age_group = "u12"

[[team]]
id = "herons"
name = "Herons"
age_group = "u12"
"""


@cache
def _planned() -> Path:
    """Make the season once; every test gets a copy of it."""
    folder = Path(mkdtemp(prefix="served-"))
    (folder / "skills").mkdir()
    (folder / "skills" / "moving.toml").write_text(SKILLS)
    (folder / "season.toml").write_text(SEASON.lstrip())
    (folder / "players.toml").write_text(f'players = ["Aoife", "Bran", "{CHILD}"]\n')
    space = opened(folder, NOW - dt.timedelta(days=9))
    keep(space, make_plan(space, now=NOW - dt.timedelta(days=9), today=dt.date(2027, 1, 5)))
    return folder


def season_folder(folder: Path) -> Path:
    """Put a copy of the season, with its plan, into a folder."""
    return Path(shutil.copytree(_planned(), folder / "season"))


def club_folder(folder: Path) -> Path:
    """Put a club into a folder: two teams with the same season, and one without any."""
    club = folder / "club"
    for team, name in (("terns", "Testers"), ("gannets", "Gannets")):
        season = Path(shutil.copytree(_planned(), club / team))
        for file in ("season.toml", "plan.json"):
            text = (season / file).read_text().replace("Quay Testers", f"Quay {name}")
            (season / file).write_text(text.replace("kestrel-quay-test-2027", f"{team}-2027"))
    (club / "club.toml").write_text(CLUB.lstrip())
    return club


def opened(folder: Path, now: dt.datetime = NOW) -> Workspace:
    """Open a season that is sound."""
    opening = open_season(folder, now)
    assert opening.workspace is not None, [str(problem) for problem in opening.problems]
    return opening.workspace


def plan_in(folder: Path) -> Plan:
    """Return the plan of a folder."""
    plan = opened(folder).plan
    assert plan is not None
    return plan


class Hand:
    """A clock that stands where it is put."""

    def __init__(self, now: dt.datetime = NOW) -> None:
        self.now = now

    def __call__(self) -> dt.datetime:
        """Return the moment."""
        return self.now


class Server:
    """A server, a clock, and browsers as many as wanted."""

    def __init__(self, place: Place, app: Starlette, clock: Hand) -> None:
        self.place = place
        self.app = app
        self.clock = clock
        self.key = coaches.add_key(place.keys, "Morag", NOW)

    def browser(self, *, loud: bool = True) -> TestClient:
        """Return a browser of somebody who is not signed in. loud: faults of the server raise."""
        return TestClient(
            self.app,
            self.place.public or "http://testserver",
            raise_server_exceptions=loud,
            follow_redirects=False,
        )

    def coach(self, name: str = "Morag") -> TestClient:
        """Return a browser in which a coach is signed in."""
        key = self.key if name == "Morag" else coaches.add_key(self.place.keys, name, NOW)
        browser = self.browser()
        answer = post(browser, "/sign-in", {"key": key}, page="/sign-in")
        assert answer.status_code == 303
        return browser


class Served(Server):
    """A season with its server."""

    def __init__(self, folder: Path, public: str | None = None) -> None:
        self.folder = season_folder(folder)
        clock = Hand()
        self.site = Site(self.folder, clock, public)
        super().__init__(self.site, application(self.site), clock)

    def restarted(self) -> None:
        """Start the server anew over the same folder."""
        self.site = Site(self.folder, self.clock, self.site.public)
        self.app = application(self.site)


class ServedClub(Server):
    """The club with its server."""

    def __init__(self, folder: Path, public: str | None = None) -> None:
        self.folder = club_folder(folder)
        clock = Hand()
        self.house = ClubSite(self.folder, clock, public)
        super().__init__(self.house, club_application(self.house), clock)

    def season(self, team: str) -> Starlette:
        """Return the application of a team's season."""
        mounted = next(each for each in self.app.routes if isinstance(each, Mount))
        assert isinstance(mounted.app, Seasons)
        return mounted.app.season(team)


def token(browser: TestClient, page: str = "/edit") -> str:
    """Return the token of a form on a page."""
    found = re.search(r'name="token" value="([^"]+)"', browser.get(page).text)
    assert found, page
    return found[1]


def hidden(text: str, name: str) -> str:
    """Return the first hidden field of a name in a page."""
    found = re.search(rf'name="{name}" value="([^"]*)"', text)
    assert found, name
    return found[1]


def post(  # type: ignore[no-untyped-def]
    browser: TestClient,
    path: str,
    fields: Mapping[str, str | list[str]] | None = None,
    page: str = "/calendars",
    **others,
):
    """Send a form as a browser does that has just loaded a page with it."""
    return browser.post(path, data={"token": token(browser, page), **(fields or {})}, **others)


def held(client: str = "phone-0001", version: int = 0, **others: str) -> dict[str, str]:
    """Return the form of a practice that was held as planned."""
    return {"client": client, "version": f"{version}", "status": "held", **others}


def at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let all requests come in one moment for whoever counts them, however slow the machine is."""
    monkeypatch.setattr("curriculum.server.limits.monotonic", lambda: 100.0)
