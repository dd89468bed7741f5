"""The console script: the list of commands, each loaded only when it is called."""

import gc
import importlib
import io
import os
import sys

import click

from curriculum.files.nearest import suggest
from curriculum.problems import FaultyInputError

COMMANDS: dict[str, tuple[str, str]] = {
    "new": ("curriculum.cli.new", "Make a season folder, from answers or from a demo."),
    "check": ("curriculum.cli.check", "Read the files and say everything that is wrong."),
    "plan": ("curriculum.cli.plan", "Decide what is taught at which practice."),
    "show": ("curriculum.cli.show", "Show the season, a week, a skill, a strand, the graph."),
    "why": ("curriculum.cli.why", "Say why a skill is taught when it is."),
    "sheet": ("curriculum.cli.sheet", "Show one practice on one page, or make it a PDF."),
    "print": ("curriculum.cli.prints", "Make every sheet and the wall chart as PDF files."),
    "record": ("curriculum.cli.record", "Record what happened at a practice."),
    "calendar": ("curriculum.cli.calendar", "Write the dates as a calendar file for phones."),
    "club": ("curriculum.cli.club", "Many teams: gyms, curriculum by age, all plans at once."),
    "serve": ("curriculum.cli.serve", "Serve the season to phones: gym, record, calendars."),
    "schema": ("curriculum.cli.schema", "Print the JSON Schema of a file format."),
}
"""Command name to its module and the line that `--help` shows."""


YOUNG_OBJECTS = 50_000
"""New objects after which unused ones are looked for. Nearly all that a short command makes stays
in use, so that Python's own 700 took a tenth of the time of `curriculum sheet`."""


class LazyGroup(click.Group):
    """Knows its commands by name and loads a command's module when it is asked for."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names of all commands in the order of a season's work."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Load and return a command, or None when there is none of that name."""
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = importlib.import_module(COMMANDS[cmd_name][0]).command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Return a command by its name; one that is near to a name that no command has is told."""
        if args and not args[0].startswith("-") and args[0] not in COMMANDS:
            way_out = suggest(args[0], list(COMMANDS), "`curriculum --help` lists all")
            ctx.fail(f"No such command '{args[0]}'; {way_out}")
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the table of commands without loading any of them."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, text) for name, (_, text) in COMMANDS.items()])


@click.group(cls=LazyGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="curriculum")
def cli() -> None:
    """Plan what a youth basketball team is taught at which practice.

    A command takes a season folder; without one it takes the current folder.
    Exit code 0: done. 1: problems found, or a must-goal missed. 2: wrong usage.
    """


def settle_output() -> None:
    """Write UTF-8 to pipes and files, whatever the system's own code page is.

    Where somebody set another encoding, and on a terminal that lacks a sign, a question mark stands
    for what cannot be shown.
    """
    for stream in (sys.stdout, sys.stderr):
        if not isinstance(stream, io.TextIOWrapper):
            continue
        if stream.isatty() or "PYTHONIOENCODING" in os.environ:
            stream.reconfigure(errors="replace")
        else:
            stream.reconfigure(encoding="utf-8")


def run() -> None:
    """Run the command line and leave with its exit code.

    Neither faulty input nor a file that the system refuses is a traceback.
    """
    gc.set_threshold(YOUNG_OBJECTS)
    settle_output()
    try:
        code = cli(standalone_mode=False)
    except FaultyInputError as fault:
        for problem in fault.problems:
            click.echo(str(problem), err=True)
        sys.exit(1)
    except click.exceptions.Exit as leaving:
        sys.exit(leaving.exit_code)
    except click.Abort:
        click.echo("stopped", err=True)
        sys.exit(130)
    except click.ClickException as wrong:
        wrong.show()
        sys.exit(wrong.exit_code)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(0)
    except OSError as refused:
        place = f"{refused.filename}: " if refused.filename else ""
        click.echo(f"{place}{(refused.strerror or str(refused)).lower()}", err=True)
        sys.exit(1)
    sys.exit(code if isinstance(code, int) else 0)
