"""Plan all teams of a club: many at once, one fault at a time, and never the same work twice."""

from collections import Counter
from collections.abc import Generator, Iterable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, Executor, Future, wait
from dataclasses import replace
from pathlib import Path

from curriculum.club.outcome import Outcome
from curriculum.fleet.executors import Start
from curriculum.fleet.journal import JOURNAL_FILE, Done, note, read_journal, renew
from curriculum.fleet.parcels import Orders, Parcel, club_bytes, pack
from curriculum.fleet.work import work
from curriculum.planning import displaced
from curriculum.problems import FaultyInputError
from curriculum.store import mark_of, replace_plan
from curriculum.workspace import PLAN_FILE

RENEWED_AFTER = 500
"""Teams after which a new executor is started: whatever one holds on to stays bounded."""


def plan_clubs(
    clubs: Iterable[tuple[Path, Sequence[str]]], orders: Orders, start: Start, window: int
) -> Iterator[Outcome]:
    """Plan teams of clubs and yield what became of each, in the order in which they finish.

    Plans are written as they come. A team whose plan stands and was made from the same files with
    the same orders is left alone, so that a stopped run goes on where it was. A club's journal
    grows as its teams finish, and is put in order with the last of them.
    clubs: folders, each with the teams to be planned.
    window: how many teams are on their way at once; memory grows with it, not with the clubs.
    """
    given: dict[str, str] = {}
    stood: dict[str, str] = {}
    left: Counter[Path] = Counter()

    def parcels() -> Iterator[Parcel | Outcome]:
        for folder, teams in clubs:
            journal = folder / JOURNAL_FILE
            done = dict(read_journal(journal))
            renew(journal, done)
            left[folder] += len(teams)
            files = club_bytes(folder)
            for team in teams:
                packed = _parcel(files, team, folder, orders, done.get(team), given)
                if isinstance(packed, Parcel):
                    stood[packed.folder] = _digest(packed)
                yield packed

    for found in run_all(parcels(), start, window):
        outcome = _written(found, stood.pop(found.folder, ""))
        club = Path(outcome.folder).parent
        journal = club / JOURNAL_FILE
        note(journal, given.pop(outcome.folder, ""), outcome)
        left[club] -= 1
        if not left[club]:
            del left[club]
            renew(journal, read_journal(journal))
        yield outcome


def _written(outcome: Outcome, mark: str) -> Outcome:
    """Write the plan that came out, if any; the outcome is faulty where it cannot be written.

    mark: of the plan file that it was made from.
    """
    if outcome.plan is None:
        return outcome
    path = Path(outcome.folder) / PLAN_FILE
    try:
        written = replace_plan(path, outcome.plan, mark)
    except FaultyInputError as fault:
        return replace(outcome, state="faulty", plan=None, problems=(str(fault),))
    if not written:
        return replace(outcome, state="faulty", plan=None, problems=(str(displaced(path)),))
    return outcome


def _parcel(
    files: tuple[tuple[str, bytes], ...],
    team: str,
    folder: Path,
    orders: Orders,
    last: Done | None,
    given: dict[str, str],
) -> Parcel | Outcome:
    """Return a team's parcel, or what is to be said of it without any work."""
    season = folder / team
    try:
        parcel = pack(files, team, season, orders)
    except (FaultyInputError, OSError) as fault:
        words = tuple(str(fault).splitlines())
        return Outcome(team, str(season), "faulty", problems=words)
    if last is not None and last.given == parcel.fingerprint and last.plan == _digest(parcel):
        return Outcome(
            team, str(season), "stands", digest=last.plan, status=last.status, missed=last.missed
        )
    given[str(season)] = parcel.fingerprint
    return parcel


def _digest(parcel: Parcel) -> str:
    data = dict(parcel.season).get(PLAN_FILE)
    return "" if data is None else mark_of(data)


def run_all(parcels: Iterable[Parcel | Outcome], start: Start, window: int) -> Iterator[Outcome]:
    """Work through parcels, so many on their way at once; outcomes among them pass through.

    Executors are renewed now and then. A worker that dies takes its executor with it: then a new
    one is started, the parcels that were on their way are tried again one by one, and the one that
    kills its worker again is given up.
    """
    waiting = iter(parcels)
    suspects: list[Parcel] = []
    ended = False
    while not ended:
        with start() as executor:
            broken, ended = yield from _until_broken(executor, waiting, window)
        suspects += broken
        while suspects:
            with start() as executor:
                yield from _one_by_one(executor, suspects)


def _until_broken(
    executor: Executor, waiting: Iterator[Parcel | Outcome], window: int
) -> Generator[Outcome, None, tuple[list[Parcel], bool]]:
    """Yield outcomes; return what was on its way when the executor broke, and if all is done.

    Not all is done, though nothing broke, when the executor has had as many as it may.
    """
    under_way: dict[Future[Outcome], Parcel] = {}
    more, taken = True, 0
    while under_way or (more and taken < RENEWED_AFTER):
        while more and taken < RENEWED_AFTER and len(under_way) < window:
            parcel = next(waiting, None)
            taken += 1
            if parcel is None:
                more = False
            elif isinstance(parcel, Outcome):
                yield parcel
            else:
                try:
                    under_way[executor.submit(work, parcel)] = parcel
                except BrokenExecutor:
                    return [parcel, *under_way.values()], False
        done = wait(under_way, return_when=FIRST_COMPLETED).done if under_way else set()
        for future in [each for each in under_way if each in done]:
            parcel = under_way.pop(future)
            fault = future.exception()
            if isinstance(fault, BrokenExecutor):
                return [parcel, *under_way.values()], False
            yield _outcome(parcel, future)
    return [], not more


def _one_by_one(executor: Executor, suspects: list[Parcel]) -> Iterator[Outcome]:
    """Work through suspects until one breaks the executor; what is done leaves the list."""
    while suspects:
        parcel = suspects.pop(0)
        future = executor.submit(work, parcel)
        if isinstance(future.exception(), BrokenExecutor):
            says = "the process that planned this team died twice"
            yield Outcome(parcel.team, parcel.folder, "failed", problems=(says,))
            return
        yield _outcome(parcel, future)


def _outcome(parcel: Parcel, future: Future[Outcome]) -> Outcome:
    fault = future.exception()
    if fault is None:
        return future.result()
    says = f"the program failed on this team: {type(fault).__name__}: {fault}"
    return Outcome(parcel.team, parcel.folder, "failed", problems=(says,))
