"""`curriculum serve`: a season, or a club's seasons, in a browser; calendars for phones."""

import datetime as dt
from pathlib import Path

import click

from curriculum.cli.common import MomentType, moment, opened, warn
from curriculum.club.reading import club_file
from curriculum.problems import FaultyInputError, Problem
from curriculum.server import coaches
from curriculum.server.clubsite import ClubSite
from curriculum.server.run import run
from curriculum.server.site import Clock, Place, Site

LOOPBACK = ("127.0.0.1", "::1", "localhost")


@click.command()
@click.argument("folder", type=click.Path(path_type=Path), default=Path())
@click.option("--host", default="127.0.0.1", show_default=True, help="The address to listen on.")
@click.option(
    "--port",
    type=click.IntRange(1, 65535),
    default=8080,
    show_default=True,
    help="The port to listen on.",
)
@click.option(
    "--public",
    metavar="URL",
    help="The address under which others reach this server, when something stands in front of it.",
)
@click.option("--new-key", metavar="NAME", help="Make a key for one more coach, and stop.")
@click.option("--end-keys", metavar="NAME", help="Take back a coach's keys, and stop.")
@click.option("--now", type=MomentType(), help="The moment at which the server's clock begins.")
def command(
    folder: Path,
    host: str,
    port: int,
    public: str | None,
    new_key: str | None,
    end_keys: str | None,
    now: dt.datetime | None,
) -> None:
    """Serve a season to its coaches' phones, and its calendars to families.

    In a club's folder every team is served, and one key opens all of them. The first start prints a
    key; with it a coach signs in. Without --host the server is reached from this machine alone.
    The practice pages work without network only where the server is reached through https, or from
    this machine.
    """
    name, place = _place(folder, moment(now), _clock(now), _checked(public))
    if end_keys is not None:
        click.echo(f"Taken back: {coaches.end_keys(place.keys, end_keys)} of {end_keys}.")
        return
    if new_key is not None:
        _tell_key(place, _name(new_key))
        return
    if not coaches.keys(place.keys):
        _tell_key(place, "Coach")
    click.echo(f"Serving {name} at {public or f'http://{_shown(host)}:{port}'}/")
    if host not in LOOPBACK:
        click.echo(
            "This machine listens to its network. Over plain http a key can be read on the way:"
            " put https in front of it, and name its address with --public."
        )
    click.echo("Stop it with Ctrl-C.")
    run(place, host, port)


def _place(
    folder: Path, at: dt.datetime, clock: Clock, public: str | None
) -> tuple[str, Site | ClubSite]:
    """Return what is served, with its name; raises FaultyInputError when it cannot be read."""
    if club_file(folder).is_file():
        club = ClubSite(club_file(folder).parent, clock, public)
        files = club.files()
        warn(files.problems)
        return files.club.club.name, club
    space = opened(folder, at)
    return space.season.team.name, Site(space.folder, clock, public)


def _tell_key(place: Place, coach: str) -> None:
    key = coaches.add_key(place.keys, coach, place.now())
    click.echo(f"Key for {coach}: {key}")
    click.echo("It is shown this once. Another: curriculum serve FOLDER --new-key NAME")


def _clock(now: dt.datetime | None) -> Clock:
    """Return the clock, or one that was set to another moment and goes on from there."""
    if now is None:
        return lambda: dt.datetime.now(dt.UTC)
    ahead = now - dt.datetime.now(dt.UTC)
    return lambda: dt.datetime.now(dt.UTC) + ahead


def _shown(host: str) -> str:
    return f"[{host}]" if ":" in host else host


def _name(text: str) -> str:
    name = text.strip()
    if not name or len(name) > 40 or "," in name or ";" in name or not name.isprintable():
        says, way_out = "a coach's name is short and has no comma", 'write it like "Aoife"'
        raise FaultyInputError([Problem("", 0, "--new-key", says, text[:60], way_out)])
    return name


def _checked(public: str | None) -> str | None:
    if public is not None and not public.startswith(("http://", "https://")):
        says, way_out = "this is no address", "write it like https://team.example.org"
        raise FaultyInputError([Problem("", 0, "--public", says, public, way_out)])
    return public
