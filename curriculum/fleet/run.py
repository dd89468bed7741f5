"""Plan all teams of a club: many at once, one fault at a time, and never the same work twice."""

import hashlib
from collections.abc import Generator, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, Executor, Future, wait
from pathlib import Path

from curriculum.club.outcome import Outcome
from curriculum.fleet.executors import Start
from curriculum.fleet.journal import JOURNAL_FILE, begin, note, read_journal
from curriculum.fleet.parcels import Orders, Parcel, club_bytes, pack
from curriculum.fleet.work import work
from curriculum.problems import FaultyInputError
from curriculum.store import write_atomic
from curriculum.workspace import PLAN_FILE


def plan_club(
    folder: Path, teams: Iterable[str], orders: Orders, start: Start, window: int
) -> Iterator[Outcome]:
    """Plan some teams of a club and yield what became of each, in the order in which they finish.

    Plans are written as they come. A team whose plan stands and was made from the same files with
    the same orders is left alone, so that a stopped run goes on where it was.
    window: how many teams are on their way at once; memory grows with it, not with the club.
    """
    journal = folder / JOURNAL_FILE
    done = dict(read_journal(journal))
    names = tuple(teams)
    begin(journal, {team: each for team, each in done.items() if team in names})
    files = club_bytes(folder)
    given: dict[str, str] = {}

    def parcels() -> Iterator[Parcel | Outcome]:
        for team in names:
            try:
                parcel = pack(files, team, folder / team, orders)
            except (FaultyInputError, OSError) as fault:
                yield Outcome(team, "faulty", problems=tuple(str(fault).splitlines()))
                continue
            given[team] = parcel.fingerprint
            last = done.get(team)
            if last is not None and last.given == given[team] and last.plan == _digest(parcel):
                yield Outcome(
                    team, "stands", digest=last.plan, status=last.status, missed=last.missed
                )
            else:
                yield parcel

    for outcome in run_all(parcels(), start, window):
        if outcome.plan is not None:
            write_atomic(folder / outcome.team / PLAN_FILE, outcome.plan)
        note(journal, given.pop(outcome.team, ""), outcome)
        yield outcome


def _digest(parcel: Parcel) -> str:
    data = dict(parcel.season).get(PLAN_FILE)
    return "" if data is None else hashlib.sha256(data).hexdigest()


def run_all(parcels: Iterable[Parcel | Outcome], start: Start, window: int) -> Iterator[Outcome]:
    """Work through parcels, so many on their way at once; outcomes among them pass through.

    A worker that dies takes its executor with it: then a new one is started, the parcels that were
    on their way are tried again one by one, and the one that kills its worker again is given up.
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
    """Yield outcomes; return what was on its way when the executor broke, and if all is done."""
    under_way: dict[Future[Outcome], Parcel] = {}
    more = True
    while more or under_way:
        while more and len(under_way) < window:
            parcel = next(waiting, None)
            if parcel is None:
                more = False
            elif isinstance(parcel, Outcome):
                yield parcel
            else:
                try:
                    under_way[executor.submit(work, parcel)] = parcel
                except BrokenExecutor:
                    return [parcel, *under_way.values()], False
        for future in wait(under_way, return_when=FIRST_COMPLETED).done:
            parcel = under_way.pop(future)
            fault = future.exception()
            if isinstance(fault, BrokenExecutor):
                return [parcel, *under_way.values()], False
            yield _outcome(parcel, future)
    return [], True


def _one_by_one(executor: Executor, suspects: list[Parcel]) -> Iterator[Outcome]:
    """Work through suspects until one breaks the executor; what is done leaves the list."""
    while suspects:
        parcel = suspects.pop(0)
        future = executor.submit(work, parcel)
        if isinstance(future.exception(), BrokenExecutor):
            says = "the process that planned this team died twice"
            yield Outcome(parcel.team, "failed", problems=(says,))
            return
        yield _outcome(parcel, future)


def _outcome(parcel: Parcel, future: Future[Outcome]) -> Outcome:
    fault = future.exception()
    if fault is None:
        return future.result()
    says = f"the program failed on this team: {type(fault).__name__}: {fault}"
    return Outcome(parcel.team, "failed", problems=(says,))
