"""`curriculum serve`: the season in a browser, and its calendars for phones."""

import datetime as dt
from pathlib import Path

import click

from curriculum.cli.common import MomentType, moment, opened, season_argument
from curriculum.problems import FaultyInputError, Problem
from curriculum.server import coaches
from curriculum.server.run import run
from curriculum.server.site import Clock, Site

LOOPBACK = ("127.0.0.1", "::1", "localhost")


@click.command()
@season_argument
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
    season: Path,
    host: str,
    port: int,
    public: str | None,
    new_key: str | None,
    end_keys: str | None,
    now: dt.datetime | None,
) -> None:
    """Serve the season to its coaches' phones, and its calendars to families.

    The first start prints a key; with it a coach signs in. Without --host the server is reached
    from this machine alone. The practice pages work without network only where the server is
    reached through https, or from this machine.
    """
    space = opened(season, moment(now))
    site = Site(space.folder, _clock(now), _checked(public))
    if end_keys is not None:
        click.echo(f"Taken back: {coaches.end_keys(site.state, end_keys)} of {end_keys}.")
        return
    if new_key is not None:
        _tell_key(site, _name(new_key))
        return
    if not coaches.keys(site.state):
        _tell_key(site, "Coach")
    click.echo(f"Serving {space.season.team.name} at {public or f'http://{_shown(host)}:{port}'}/")
    if host not in LOOPBACK:
        click.echo(
            "This machine listens to its network. Over plain http a key can be read on the way:"
            " put https in front of it, and name its address with --public."
        )
    click.echo("Stop it with Ctrl-C.")
    run(site, host, port)


def _tell_key(site: Site, coach: str) -> None:
    key = coaches.add_key(site.state, coach, site.now())
    click.echo(f"Key for {coach}: {key}")
    click.echo("It is shown this once. Another: curriculum serve SEASON --new-key NAME")


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
