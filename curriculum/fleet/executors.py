"""Where teams are planned: in this process, in a pool of processes, or on a cluster."""

import multiprocessing
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from contextlib import AbstractContextManager, contextmanager
from importlib import import_module
from typing import ParamSpec, TypeVar

from curriculum.problems import FaultyInputError, Problem

P = ParamSpec("P")
T = TypeVar("T")

Start = Callable[[], AbstractContextManager[Executor]]
"""Starts an executor; called again when one has broken down."""


class InProcess(Executor):
    """Does everything at once where it is called."""

    def submit(self, fn: Callable[P, T], /, *args: P.args, **kwargs: P.kwargs) -> Future[T]:
        """Do it and return the finished future."""
        future: Future[T] = Future()
        try:
            future.set_result(fn(*args, **kwargs))
        except Exception as fault:  # noqa: BLE001  # the future carries it, as in every executor
            future.set_exception(fault)
        return future


def in_process() -> Start:
    """Return what plans one team after the other, in this process."""

    @contextmanager
    def start() -> Iterator[Executor]:
        yield InProcess()

    return start


def processes(workers: int) -> Start:
    """Return what plans so many teams at once, each in a process of its own on this machine."""

    @contextmanager
    def start() -> Iterator[Executor]:
        # Fresh processes: a forked one would share whatever state this one happens to hold.
        context = multiprocessing.get_context("spawn")
        with ProcessPoolExecutor(workers, mp_context=context) as executor:
            yield executor

    return start


def cluster(address: str) -> Start:
    """Return what plans teams on a Dask cluster, by the address of its scheduler.

    Raises FaultyInputError when the library is missing or nothing answers there.
    """

    @contextmanager
    def start() -> Iterator[Executor]:
        try:
            distributed = import_module("distributed")
        except ImportError as fault:
            says = "a cluster needs the library `distributed`, which is not installed"
            way_out = 'install it with pip install "curriculum[cluster]", or leave --address out'
            raise FaultyInputError([Problem("", 0, "--address", says, "", way_out)]) from fault
        try:
            client = distributed.Client(address)
        except (OSError, ValueError) as fault:
            says, way_out = "no scheduler answers at this address", "start one: dask scheduler"
            problem = Problem("", 0, "--address", says, address, way_out)
            raise FaultyInputError([problem]) from fault
        with client, client.get_executor(pure=False) as executor:
            yield executor

    return start
