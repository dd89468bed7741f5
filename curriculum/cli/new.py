"""`curriculum new`: make a season folder from options, from answers, or from a demo."""

import datetime as dt
import re
import sys
from pathlib import Path
from typing import Any

import click

from curriculum.cli.common import DateType, moment
from curriculum.files.library import read_library
from curriculum.files.shipped import shipped
from curriculum.gym.slots import calendar_of
from curriculum.models.gymtimes import WEEKDAYS
from curriculum.outputs.season_file import season_text
from curriculum.problems import FaultyInputError, errors
from curriculum.starter import (
    Answers,
    SlotAnswer,
    copy_demo,
    make_folder,
    proposed_goals,
    season_of,
    zones_of,
)

NO_ZONE = "UTC"
"""The time zone of a season for which neither a country nor a zone was named."""

SLOT = re.compile(r"(?P<day>[a-z]+)\s+(?P<hour>\d{1,2}):(?P<minute>\d{2})(\s+(?P<length>\d+))?")


class SlotType(click.ParamType[SlotAnswer, str]):
    """A weekly gym time such as `wednesday 17:30 75`; 75 minutes when no length stands there."""

    name = "slot"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> SlotAnswer:
        """Return the gym time, or fail with the form that is understood."""
        if isinstance(value, SlotAnswer):
            return value
        found = SLOT.fullmatch(str(value).strip().lower())
        days = [day for day in WEEKDAYS if found and len(found["day"]) > 1]
        days = [day for day in days if found and day.startswith(found["day"])]
        if found is None or len(days) != 1 or int(found["hour"]) > 23 or int(found["minute"]) > 59:
            self.fail(
                f"{value!r} is not a gym time; write it like 'wednesday 17:30 75'", param, ctx
            )
        minutes = int(found["length"] or 75)
        if not 30 <= minutes <= 300:
            self.fail(f"{minutes} minutes is not between 30 and 300", param, ctx)
        return SlotAnswer(days[0], dt.time(int(found["hour"]), int(found["minute"])), minutes)


class AgesType(click.ParamType[tuple[int, int], str]):
    """Youngest and oldest player in years: `10-11`, or one number."""

    name = "ages"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> tuple[int, int]:
        """Return both ages, or fail with the form that is understood."""
        if isinstance(value, tuple):
            return value
        found = re.fullmatch(r"(\d{1,2})(?:\s*-\s*(\d{1,2}))?", str(value).strip())
        ages = (int(found[1]), int(found[2] or found[1])) if found else (0, 0)
        if not 3 <= ages[0] <= ages[1]:
            self.fail(f"{value!r} are no ages; write them like 10-11", param, ctx)
        return ages


class CountryType(click.ParamType[str, str]):
    """A country by its two letters, whose public holidays are known; "" for none."""

    name = "country"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> str:
        """Return the two letters in capitals, or fail with the form that is understood."""
        from holidays.utils import list_supported_countries

        country = str(value).strip().upper()
        if country and country not in list_supported_countries():
            self.fail(
                f"{value!r} is no country whose holidays are known; write two letters like IE, "
                "or '' for none",
                param,
                ctx,
            )
        return country


class ZoneType(click.ParamType[str, str]):
    """A time zone such as `Europe/Dublin`."""

    name = "zone"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> str:
        """Return the zone's name, or fail with the form that is understood."""
        from zoneinfo import available_timezones

        if value not in available_timezones():
            self.fail(f"{value!r} is no time zone; write it like Europe/Dublin", param, ctx)
        return str(value)


@click.command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--from", "demo", metavar="DEMO", help="Copy a demo season, e.g. kestrel-quay-u12.")
@click.option("--team", help="The team's name.")
@click.option("--season", "name", help="The season's name.", default="Season", show_default=True)
@click.option("--ages", type=AgesType(), help="Youngest and oldest player, e.g. 10-11.")
@click.option("--players", type=click.IntRange(4, 60), help="How many children are on the team.")
@click.option("--start", type=DateType(), help="First day of the season.")
@click.option("--weeks", type=click.IntRange(1, 53), help="How many weeks it lasts.")
@click.option(
    "--slot",
    "slots",
    type=SlotType(),
    multiple=True,
    help="A weekly gym time: 'wednesday 17:30 75'. Can be repeated.",
)
@click.option("--venue", help="The gym's name.")
@click.option("--baskets", type=click.IntRange(1, 20), help="How many baskets the gym has.")
@click.option(
    "--country",
    type=CountryType(),
    help="Two letters, for the public holidays, e.g. IE; '' for none.",
)
@click.option(
    "--timezone", type=ZoneType(), help="Time zone, e.g. Europe/Dublin; default: the country's."
)
def command(
    folder: Path, demo: str | None, name: str, slots: tuple[SlotAnswer, ...], **given: object
) -> None:
    """Make a season folder that passes every check and can be planned at once.

    What no option says is asked for on a terminal.
    """
    if demo is not None:
        _copy(demo, folder)
        return
    library, problems, _ = read_library([shipped("skills")])
    if library is None:
        raise FaultyInputError(problems)
    answers = _answers(name, slots, dict(given))
    for problem in errors(calendar_of(season_of(answers)).problems):
        raise click.BadParameter(f"{problem.says}; {problem.way_out}", param_hint="--slot")
    goals = proposed_goals(answers, library)
    target = make_folder(folder, season_text(season_of(answers, goals), library))
    click.echo(f"Written: {target}, with {len(goals)} goals to begin with. Change what you like.")
    if answers.timezone == NO_ZONE and given["timezone"] is None:
        click.echo("Clock:   UTC, for no --country was named; set timezone in the season file.")
    click.echo(f"Next:    curriculum plan {folder}")


def _copy(demo: str, folder: Path) -> None:
    demos = sorted(path.name for path in shipped("seasons").iterdir() if path.is_dir())
    if demo not in demos:
        raise click.BadParameter(
            f"{demo!r} is no demo; there are {', '.join(demos)}", param_hint="--from"
        )
    target = copy_demo(shipped("seasons") / demo, folder)
    click.echo(f"Written: {target}, a copy of the demo {demo}.")
    club = "club " if target.name == "club.toml" else ""
    click.echo(f"Next:    curriculum {club}plan {folder}")


def _answers(name: str, slots: tuple[SlotAnswer, ...], given: dict[str, Any]) -> Answers:
    team = _ask(given, "team", "The team's name", str, None)
    ages = _ask(given, "ages", "Ages of the youngest and oldest, e.g. 10-11", AgesType(), None)
    players = _ask(given, "players", "How many children", click.IntRange(4, 60), 12)
    start = _ask(given, "start", "First day of the season (year-month-day)", DateType(), _monday())
    weeks = _ask(given, "weeks", "How many weeks", click.IntRange(1, 53), 12)
    country = _ask(given, "country", "Country, two letters, for holidays", CountryType(), "")
    zones = zones_of(country) if country else ()
    zone = zones[0] if zones else NO_ZONE
    return Answers(
        team=team,
        season=name,
        ages=ages,
        players=players,
        start=start,
        end=start + dt.timedelta(days=7 * weeks - 1),
        timezone=_ask(given, "timezone", "Time zone", ZoneType(), zone),
        country=country,
        venue=_ask(given, "venue", "The gym's name", str, "Gym"),
        baskets=_ask(given, "baskets", "How many baskets", click.IntRange(1, 20), 2),
        slots=slots or _ask_slots(),
    )


def _ask(given: dict[str, Any], key: str, text: str, kind: Any, default: Any) -> Any:
    """Return what an option said, else ask on a terminal, else the default or a usage error."""
    if given.get(key) is not None:
        return given[key]
    if sys.stdin.isatty():
        return click.prompt(text, type=kind, default=default)
    if default is None:
        raise click.UsageError(f"--{key} is missing, and there is no terminal to ask on")
    return default


def _ask_slots() -> tuple[SlotAnswer, ...]:
    if not sys.stdin.isatty():
        raise click.UsageError("--slot is missing, and there is no terminal to ask on")
    first = click.prompt("Weekly gym time, e.g. wednesday 17:30 75", type=SlotType())
    slots = [first]
    while True:
        more = click.prompt("Another one (empty for no more)", default="", show_default=False)
        if not more:
            return tuple(slots)
        try:
            slots.append(SlotType().convert(more, None, None))
        except click.BadParameter as wrong:
            click.echo(wrong.format_message(), err=True)


def _monday() -> dt.date:
    today = moment(None).date()
    return today + dt.timedelta(days=-today.weekday() % 7)
