"""`curriculum club`: many teams, shared gyms, what each age group learns."""

import click

from curriculum.cli.club_curriculum import curriculum, joiner
from curriculum.cli.club_pages import calendar, check, show_command
from curriculum.cli.club_work import allocate, plan


@click.group()
def command() -> None:
    """Work on a club: many teams that share gyms, coaches and a curriculum.

    A club is a folder with club.toml and one season folder a team.
    """


for each in (check, curriculum, allocate, plan, show_command, joiner, calendar):
    command.add_command(each)
