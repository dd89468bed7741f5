"""Plan one team from its parcel, wherever that happens; whatever goes wrong comes back as words."""

import hashlib
import tempfile
from collections.abc import Sequence
from pathlib import Path

from curriculum.club.outcome import Outcome
from curriculum.club.reading import CLUB_FILE
from curriculum.fleet.parcels import Parcel
from curriculum.planning import make_plan
from curriculum.problems import FaultyInputError
from curriculum.records.database import RECORD_FILE, open_record, record_practice
from curriculum.store import plan_bytes
from curriculum.workspace import PLAN_FILE, open_season


def work(parcel: Parcel) -> Outcome:
    """Plan a team; the same parcel gives the same outcome in any process on any machine."""
    with tempfile.TemporaryDirectory(prefix="curriculum-") as scratch:
        folder = _unpacked(parcel, Path(scratch))
        try:
            return _planned(parcel, folder)
        except FaultyInputError as fault:
            words = tuple(str(problem) for problem in fault.problems)
            return Outcome(
                parcel.team,
                parcel.folder,
                "faulty",
                problems=_where_it_stands(words, parcel, folder),
            )


def _planned(parcel: Parcel, folder: Path) -> Outcome:
    orders = parcel.orders
    opening = open_season(folder, orders.now)
    problems = _where_it_stands([str(each) for each in opening.problems], parcel, folder)
    if opening.workspace is None:
        return Outcome(parcel.team, parcel.folder, "faulty", problems=problems)
    made = make_plan(
        opening.workspace,
        now=orders.now,
        today=orders.today,
        fresh=orders.fresh,
        effort=orders.effort,
    )
    data = plan_bytes(made.plan) if made.fresh else dict(parcel.season)[PLAN_FILE]
    missed = [goal.need for goal in made.plan.goals if not goal.met]
    return Outcome(
        team=parcel.team,
        folder=parcel.folder,
        state="planned" if made.fresh else "unchanged",
        plan=data if made.fresh else None,
        digest=hashlib.sha256(data).hexdigest(),
        status=made.plan.status,
        missed=(missed.count("must"), missed.count("should")),
        problems=problems,
    )


def _unpacked(parcel: Parcel, scratch: Path) -> Path:
    """Write a parcel's files into a folder of its own and return the season's."""
    folder = scratch / "club" / parcel.team if _in_club(parcel) else scratch / parcel.team
    for base, files in ((folder.parent, parcel.club), (folder, parcel.season)):
        for name, data in files:
            path = base / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(data)
    folder.mkdir(parents=True, exist_ok=True)
    if parcel.record.practices:
        with open_record(folder / RECORD_FILE) as db:
            for saved in parcel.record.practices:
                record_practice(db, saved.entry, saved.at, 0, parcel.record.promises)
    return folder


def _in_club(parcel: Parcel) -> bool:
    return any(name == CLUB_FILE for name, _ in parcel.club)


def _where_it_stands(problems: Sequence[str], parcel: Parcel, folder: Path) -> tuple[str, ...]:
    """Return problems with the folders' real names in place of the scratch ones."""
    here, club = str(folder), str(folder.parent)
    real = str(Path(parcel.folder).parent)
    return tuple(each.replace(here, parcel.folder).replace(club, real) for each in problems)
