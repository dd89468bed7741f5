"""The command that starts the server: keys, addresses and its clock."""

import datetime as dt
import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from curriculum.cli import serve
from curriculum.problems import FaultyInputError
from curriculum.server import coaches
from curriculum.server.site import Site
from tests.server_cases import season_folder

Started = list[tuple[Site, str, int]]


@pytest.fixture
def started(monkeypatch: pytest.MonkeyPatch) -> Started:
    """Keep what would be served, and serve nothing."""
    kept: Started = []
    monkeypatch.setattr(serve, "run", lambda *all_: kept.append(all_))
    return kept


def call(*arguments: str) -> str:
    """Run the command and return what it prints."""
    done = CliRunner().invoke(serve.command, arguments, catch_exceptions=False)
    assert done.exit_code == 0, done.output
    return done.output


def test_the_first_start_tells_a_key_once(tmp_path: Path, started: Started) -> None:
    """The key opens the server; a second start does not tell it again."""
    folder = season_folder(tmp_path)
    first, second = call(str(folder)), call(str(folder))
    found = re.search(r"Key for Coach: (\S+)", first)
    assert found
    site, host, port = started[0]

    assert (host, port, "Key for" in second) == ("127.0.0.1", 8080, False)
    assert coaches.sign_in(site.state, found[1], site.now()) is not None


def test_keys_are_made_and_taken_back_without_serving(tmp_path: Path, started: Started) -> None:
    """One more coach gets a key, and loses it again."""
    folder = str(season_folder(tmp_path))
    made = call(folder, "--new-key", "Fergus")
    ended = [call(folder, "--end-keys", "Fergus") for _ in range(2)]

    assert made.startswith("Key for Fergus: ")
    assert ended == ["Taken back: 1 of Fergus.\n", "Taken back: 0 of Fergus.\n"]
    assert started == []


def test_a_network_is_warned_of(tmp_path: Path, started: Started) -> None:
    """Listening beyond this machine is said, with what to do about it."""
    told = call(str(season_folder(tmp_path)), "--host", "0.0.0.0", "--port", "9000")

    assert ("put https in front of it" in told, started[0][1:]) == (True, ("0.0.0.0", 9000))


@pytest.mark.parametrize(
    ("option", "text"), [("--public", "team.example.org"), ("--new-key", "a,b")]
)
def test_what_cannot_be_understood(
    tmp_path: Path, started: Started, option: str, text: str
) -> None:
    """An address without http and a name with a comma are refused in a sentence."""
    with pytest.raises(FaultyInputError, match="write it like"):
        call(str(season_folder(tmp_path)), option, text)

    assert started == []


def test_the_clock_can_begin_elsewhere(tmp_path: Path, started: Started) -> None:
    """With --now the server lives at that moment and goes on from there."""
    call(str(season_folder(tmp_path)), "--now", "2027-01-14T09:00")
    ahead = started[0][0].now() - dt.datetime(2027, 1, 14, 9, 0, tzinfo=dt.UTC)

    assert dt.timedelta(0) <= ahead < dt.timedelta(minutes=5)
