"""A new season folder: a commented season file that passes every check and plans at once."""

import datetime as dt
import hashlib
import shutil
import unicodedata
from dataclasses import dataclass
from importlib.resources import files as package_files
from pathlib import Path

from curriculum.checks import reach_problems
from curriculum.club.reading import CLUB_FILE
from curriculum.files.nearest import slug
from curriculum.gym.slots import calendar_of
from curriculum.models.gymtimes import Holidays, Slot, Venue, Weekday
from curriculum.models.season import Frame, Goal, Season, Team
from curriculum.models.skills import Library, Stage
from curriculum.problems import FaultyInputError, Problem
from curriculum.store import ensure_folder, write_atomic
from curriculum.workload import workload_of

LADDER: tuple[tuple[str, Stage], ...] = (
    ("show-and-catch", "guided"),
    ("dribble-control", "guided"),
    ("lay-up-strong-hand", "guided"),
    ("give-and-go", "live"),
    ("guard-the-ball", "live"),
    ("backdoor-cut", "guided"),
    ("fill-three-players", "live"),
    ("three-on-two", "live"),
    ("drive-and-kick", "guided"),
    ("catch-and-shoot", "guided"),
    ("fill-five-spots", "live"),
    ("help-and-recover", "guided"),
    ("box-out", "live"),
    ("drive-and-kick", "live"),
    ("backdoor-cut", "live"),
    ("four-on-four", "live"),
    ("cut-off-screen", "live"),
    ("read-the-screen", "live"),
    ("ball-screen-middle", "live"),
    ("reject-ball-screen", "live"),
    ("five-on-four", "live"),
    ("five-on-five", "live"),
)
"""Goals to begin with, in the order in which they are proposed; ages and gym time cut the list."""

MUST_SHARE, SHOULD_SHARE, COULD_SHARE = 40, 70, 90
"""Percent of the gym time up to which a proposed goal is a must, a should and a could."""

MOST_ID = 60
"""Letters of an id at most."""

PRIVATE = (
    *("players.toml", "record.db*", "server.db*"),
    *(".published.json.lock*", ".plan.json.lock*", ".plan.json.before"),
)
"""What version control is told to ignore: files with children's data, the server's keys, a lock."""


@dataclass(frozen=True)
class SlotAnswer:
    """A weekly gym time as answered."""

    weekday: Weekday
    start: dt.time
    minutes: int


@dataclass(frozen=True)
class Answers:
    """What a new season needs to know; `end` is the last day, included."""

    team: str
    season: str
    ages: tuple[int, int]
    players: int
    start: dt.date
    end: dt.date
    timezone: str
    country: str
    venue: str
    baskets: int
    slots: tuple[SlotAnswer, ...]


def zones_of(country: str) -> tuple[str, ...]:
    """Return the time zones of a country by its two-letter code, the most usual first."""
    table = package_files("tzdata").joinpath("zoneinfo", "zone.tab").read_text(encoding="utf-8")
    rows = [line.split("\t") for line in table.splitlines() if not line.startswith("#")]
    return tuple(row[2] for row in rows if row[0] == country.upper())


def season_of(answers: Answers, goals: tuple[Goal, ...] = ()) -> Season:
    """Return the season that the answers describe."""
    venue = id_of("gym", answers.venue)
    return Season(
        season=Frame(
            id=_season_id(answers),
            name=answers.season,
            start=answers.start,
            end=answers.end,
            timezone=answers.timezone,
        ),
        team=Team(name=answers.team, ages=answers.ages, players=answers.players, coaches=2),
        venue=(Venue(id=venue, name=answers.venue, baskets=answers.baskets),),
        slot=tuple(
            Slot(weekday=slot.weekday, start=slot.start, minutes=slot.minutes, venue=venue)
            for slot in answers.slots
        ),
        holidays=Holidays(country=answers.country) if answers.country else None,
        goal=goals,
    )


def _season_id(answers: Answers) -> str:
    """Return the season's id; every UID grows from it, so teams that differ must differ here."""
    team, season = id_of("team", answers.team), id_of("season", answers.season)
    whole = f"{team}-{season}-{answers.start.year}"
    return whole if len(whole) <= MOST_ID else _cut(whole, whole)


def id_of(kind: str, name: str) -> str:
    """Return a name as an id of letters, digits and hyphens, never empty.

    A name that loses letters on the way, as one in another script does, gets six digits of its
    hash, so that two such names stay apart; `kind` stands for one that is lost altogether. Names
    that differ in case or punctuation alone have the same id: they are said the same, and a club
    in which two seasons have it is told so.
    """
    name = unicodedata.normalize("NFC", name.strip())
    bare = slug(name)
    lost = any(letter.isalnum() and not slug(letter) for letter in name)
    if bare and not lost and len(bare) <= MOST_ID:
        return bare
    return _cut(bare or kind, name)


def _cut(text: str, name: str) -> str:
    """Return a text with six digits of the name's hash, cut so that both fit into an id."""
    digits = hashlib.sha256(name.encode()).hexdigest()[:6]
    return f"{text[: MOST_ID - len(digits) - 1].rstrip('-')}-{digits}"


def proposed_goals(answers: Answers, library: Library) -> tuple[Goal, ...]:
    """Propose goals for the season's end that the ages allow and the gym time can hold."""
    gym = calendar_of(season_of(answers))
    usable = sum(practice.usable_minutes for practice in gym.practices)
    most_new = season_of(answers).teaching.new_skills * len(gym.practices)
    known = {skill.id: skill for skill in library.skills}
    goals: tuple[Goal, ...] = ()
    for skill_id, stage in LADDER:
        if skill_id not in known or stage not in known[skill_id].stages:
            continue
        trial = (*goals, Goal(skill=skill_id, stage=stage, need="could"))
        workload = workload_of(season_of(answers, trial), library)
        share = (
            100 * (workload.minutes + sum(job.blocks for job in workload.jobs)) // max(1, usable)
        )
        new = sum(job.introduces for job in workload.jobs)
        usual = [known[job.skill].work(job.stage).age or 0 for job in workload.jobs]
        players = max((job.players for job in workload.jobs), default=1)
        fits = share <= COULD_SHARE and 4 * new <= 3 * most_new
        if not fits or max(usual, default=0) > max(answers.ages):
            continue
        if players > season_of(answers).team.usual:
            continue
        # In few weeks minutes may do where days do not.
        if any(reach_problems(season_of(answers, trial), library, gym)):
            continue
        need = "must" if share <= MUST_SHARE else "should" if share <= SHOULD_SHARE else "could"
        goals = (*goals, Goal.model_validate({"skill": skill_id, "stage": stage, "need": need}))
    return goals


def make_folder(folder: Path, text: str) -> Path:
    """Write a new season folder and return its season file.

    Raises FaultyInputError when the folder holds a season already: nothing is overwritten.
    """
    target = _new_file(folder / "season.toml", "a season")
    write_atomic(target, text.encode())
    keep_private(folder)
    return target


def _new_file(target: Path, what: str) -> Path:
    """Return a file's path once its folder is there; raises FaultyInputError where it stands.

    One that is empty may be written: whoever reads it is told to start a season.
    """
    if target.exists() and not (target.is_file() and not target.read_bytes().strip()):
        says = f"{what} stands here already and is not overwritten"
        raise FaultyInputError([Problem(str(target), 0, "", says, "", "choose another folder")])
    ensure_folder(target.parent)
    return target


def keep_private(folder: Path) -> None:
    """Keep children's data and keys out of version control; what else is ignored stays so."""
    ignore = folder / ".gitignore"
    # Bytes, for version control takes such a file in any encoding.
    present = ignore.read_bytes() if ignore.exists() else b""
    missing = [name for name in PRIVATE if name.encode() not in present.splitlines()]
    if missing:
        gap = b"\n" if present and not present.endswith(b"\n") else b""
        added = "\n".join(["# stays with the coach", *missing, ""])
        write_atomic(ignore, present + gap + added.encode())


def copy_demo(demo: Path, folder: Path) -> Path:
    """Copy a demo season, or a demo club with all its seasons, and return its own file.

    Raises FaultyInputError when the folder holds one already.
    """
    if (demo / CLUB_FILE).exists():
        target = _new_file(folder / CLUB_FILE, "a club")
        for season in sorted(each for each in demo.iterdir() if (each / "season.toml").exists()):
            copy_demo(season, folder / season.name)
        write_atomic(target, (demo / CLUB_FILE).read_bytes())
    else:
        target = make_folder(folder, (demo / "season.toml").read_text(encoding="utf-8"))
    for extra in sorted(demo.iterdir()):
        if extra.is_file() and extra.name not in {target.name, ".gitignore"}:
            shutil.copyfile(extra, folder / extra.name)
    return target
