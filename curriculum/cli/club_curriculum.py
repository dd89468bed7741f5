"""`curriculum club curriculum` and `joiner`: what each age group learns."""

import datetime as dt
from pathlib import Path

import click

from curriculum.cli.club_common import club_argument, known
from curriculum.cli.common import json_option, moment, now_option, show, show_json, warn
from curriculum.cli.here import FolderFirst
from curriculum.outputs.tables import as_data
from curriculum.problems import FaultyInputError
from curriculum.store import write_atomic


@click.command()
@club_argument
@click.option("--propose", is_flag=True, help="Spread the library anew over the age groups.")
@click.option("--share", type=click.IntRange(5, 90), help="Percent of minutes for what is new.")
@click.option("--write", is_flag=True, help="With --propose: write it to curriculum.toml.")
@click.option("--pdf", type=click.Path(path_type=Path), help="Write a poster to this PDF file.")
@click.option("--csv", type=click.Path(path_type=Path), help="Write the matrix to this CSV file.")
@click.option("--xlsx", type=click.Path(path_type=Path), help="The same as a spreadsheet.")
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True)
@now_option
@json_option
def curriculum(
    club: Path,
    propose: bool,
    share: int | None,
    write: bool,
    pdf: Path | None,
    csv: Path | None,
    xlsx: Path | None,
    paper: str,
    now: dt.datetime | None,
    as_json: bool,
) -> int:
    """Show and judge what each age group learns.

    A matrix of skills and age groups, with what is wrong in it, and a scheduled season of each
    group as proof of its hours. Or propose one, from needs, usual ages, guidance and hours.
    """
    from curriculum.club.curricula.judge import judge_curriculum
    from curriculum.club.curricula.matrix import matrix_of
    from curriculum.club.curricula.propose import propose as proposed
    from curriculum.club.reading import CURRICULUM_FILE, read_club
    from curriculum.club.writing import curriculum_text
    from curriculum.outputs.pdf.club import club_pdf
    from curriculum.outputs.terminal.curricula import judgement_view, matrix_view
    from curriculum.outputs.workbook import matrix_csv, matrix_xlsx

    files = read_club(club)
    warn(files.problems)
    if files.library is None:
        raise FaultyInputError(files.problems)
    stated = files.curriculum
    if propose:
        stated = proposed(files.club, files.library, share).curriculum
    matrix = matrix_of(files.club, stated, files.library)
    judgement = judge_curriculum(files.club, stated, files.library)
    written: list[tuple[Path, bytes]] = []
    if propose and write:
        names = {group.id: group.name for group in files.club.age_group}
        text = curriculum_text(stated, names)
        written.append((files.folder / CURRICULUM_FILE, text.encode()))
    if pdf is not None:
        printed = club_pdf(
            files.club.club.name, matrix, moment(now), "letter" if paper == "letter" else "a4"
        )
        warn(printed.problems)
        written.append((pdf, printed.pdf))
    if csv is not None:
        written.append((csv, matrix_csv(matrix)))
    if xlsx is not None:
        written.append((xlsx, matrix_xlsx(matrix, "Curriculum")))
    if as_json:
        show_json({"matrix": as_data(matrix), "judgement": as_data(judgement)})
    else:
        show(matrix_view(matrix))
        click.echo()
        show(judgement_view(judgement, matrix))
    for path, data in written:
        write_atomic(path, data)
        if not as_json:
            click.echo(f"Written: {path}")
    return 1 if any(finding.error for finding in judgement.findings) else 0


@click.command(cls=FolderFirst)
@club_argument
@click.argument("group")
@click.option("--can", multiple=True, metavar="SKILL@STAGE", help="What the player can do.")
@json_option
def joiner(club: Path, group: str, can: tuple[str, ...], as_json: bool) -> None:
    """List what to check with a player who joins late.

    GROUP is an age group or a team, by its id.
    """
    from curriculum.club.joiners import entry_check
    from curriculum.club.reading import read_club
    from curriculum.graph import split_need
    from curriculum.outputs.terminal.curricula import joiner_view

    files = read_club(club)
    if files.library is None:
        raise FaultyInputError(files.problems)
    groups = {each.id: each for each in files.club.age_group}
    named = {team.id: groups[team.age_group] for team in files.club.team} | groups
    known(group, tuple(named), "GROUP")
    skills = {skill.id: skill for skill in files.library.skills}
    owned = []
    for text in can:
        skill, stage = split_need(text)
        known(skill, tuple(skills), "--can")
        owned.append((skill, stage or skills[skill].stages[-1]))
    items = entry_check(files.club, files.curriculum, files.library, named[group], tuple(owned))
    if as_json:
        show_json(as_data(items))
    else:
        show(joiner_view(named[group].name, items))
