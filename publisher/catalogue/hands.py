"""Hand errands to whoever does them: this process, workers on all cores, or a cluster."""

from __future__ import annotations

import gc
import multiprocessing
import os
import signal
import threading
from collections.abc import Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, Future, wait
from contextlib import suppress
from typing import TYPE_CHECKING, Any, Protocol

from publisher.catalogue.values import Errand, Result
from publisher.catalogue.working import Bench, do
from publisher.errors import Place, Problem, UsageError

if TYPE_CHECKING:
    from concurrent.futures import ProcessPoolExecutor


_PATIENCE_S = 10.0  # with a cluster that does not answer


class Hands(Protocol):
    """Those who do errands; `window` are in work or waiting at any time."""

    window: int

    def take(self, errand: Errand) -> Future[Result]:
        """Begin an errand."""
        ...

    def again(self, errand: Errand) -> Result:
        """Do an errand with nothing else in work, as it may have killed a worker before."""
        ...

    def close(self) -> None:
        """Let go of the workers. What has not begun is dropped."""
        ...


def results(hands: Hands, errands: Iterable[Errand]) -> Iterator[tuple[Errand, Result]]:
    """Do all errands, each result as soon as it is there. A lost worker fails one errand only."""
    waiting: dict[Future[Result], Errand] = {}
    for errand in errands:
        waiting[hands.take(errand)] = errand
        if len(waiting) >= hands.window:
            yield from _finished(hands, waiting)
    while waiting:
        yield from _finished(hands, waiting)


def _finished(
    hands: Hands, waiting: dict[Future[Result], Errand]
) -> Iterator[tuple[Errand, Result]]:
    """Wait for an errand or more, and take what has come back out of `waiting`.

    Where a worker was lost, nobody knows by which errand: all in work are waited for, and those
    that did not come back are done again one by one, so that none suffers for another.
    """
    lost: list[Errand] = []
    while waiting:
        for future in wait(waiting, return_when=FIRST_COMPLETED).done:
            errand = waiting.pop(future)
            if not future.cancelled() and future.exception() is None:
                yield errand, future.result()
            else:  # `do` raises nothing: the way to the worker and back failed
                lost.append(errand)
        if not lost:
            return
    for errand in lost:
        yield errand, _alone(hands, errand)


def _alone(hands: Hands, errand: Errand) -> Result:
    try:
        return hands.again(errand)
    except Exception as error:
        return _lost(errand, error)


def _lost(errand: Errand, error: Exception) -> Result:
    told = " ".join(f"{type(error).__name__}: {error}".split())[:200]
    problem = Problem(
        Place(errand.pattern.path),
        f"the worker process that made this was lost ({told})",
        "build this pattern alone; if it is lost again, the machine may be short of memory",
    )
    return Result(errand.pattern.slug, problems=(problem,))


class OwnHands:
    """This process, one errand after the other: the quickest for few."""

    window = 1

    def __init__(self, bench: Bench) -> None:
        self._bench = bench

    def take(self, errand: Errand) -> Future[Result]:
        future: Future[Result] = Future()
        future.set_result(do(self._bench, errand))
        return future

    def again(self, errand: Errand) -> Result:
        return do(self._bench, errand)

    def close(self) -> None:
        pass


class Workers:
    """Processes of this machine. They share what was imported before they were forked off."""

    def __init__(self, bench: Bench, jobs: int) -> None:
        self.window = 2 * jobs
        self._bench = bench
        self._jobs = jobs
        bench.stages.warm()
        self._pool = self._start(jobs)

    def take(self, errand: Errand) -> Future[Result]:
        try:
            return self._pool.submit(_do_mine, errand)
        except BrokenExecutor:  # what was in work is lost, and known by its own future
            self._pool = self._start(self._jobs)
            return self._pool.submit(_do_mine, errand)

    def again(self, errand: Errand) -> Result:
        with self._start(1) as pool:
            return pool.submit(_do_mine, errand).result()

    def close(self) -> None:
        self._pool.shutdown(cancel_futures=True)

    def _start(self, jobs: int) -> ProcessPoolExecutor:
        from concurrent.futures import ProcessPoolExecutor

        return ProcessPoolExecutor(jobs, initializer=_begin, initargs=(self._bench,))


_mine: Bench | None = None
_GARBAGE = (50_000, 20, 20)
"""Pages are many nodes and little garbage: to look for it more seldom saves 5 % of the time."""


def _begin(bench: Bench) -> None:
    """Set a worker up: its bench; no answer to Ctrl-C; and it leaves when its parent is gone."""
    global _mine
    _mine = bench
    gc.freeze()
    gc.set_threshold(*_GARBAGE)
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_leave_with_parent, daemon=True).start()


def _leave_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent:
        parent.join()
        os._exit(1)


def _do_mine(errand: Errand) -> Result:
    assert _mine is not None
    return do(_mine, errand)


class Cluster:
    """Workers of a dask cluster, on this machine or others, with the same program installed."""

    def __init__(self, bench: Bench, address: str) -> None:
        self._client = _client(address)
        self._executor = self._client.get_executor(pure=False)
        self._bench = self._client.submit(_itself, bench, pure=False)
        self.window = 2 * max(1, sum(self._client.nthreads().values()))

    def take(self, errand: Errand) -> Future[Result]:
        future: Future[Result] = self._executor.submit(_do_one_at_a_time, self._bench, errand)
        return future

    def again(self, errand: Errand) -> Result:
        return self.take(errand).result()

    def close(self) -> None:
        with suppress(Exception):  # whatever is left to say goodbye to
            self._client.close()


def _itself(bench: Bench) -> Bench:
    """The bench as a task's result: a cluster makes that again where a worker with it is lost."""
    return bench


_turn = threading.Lock()


def _do_one_at_a_time(bench: Bench, errand: Errand) -> Result:
    """A cluster's worker may have several threads, and drawing is for one."""
    with _turn:
        return do(bench, errand)


def _client(address: str) -> Any:
    try:
        import distributed
    except ImportError:
        hint = "pip install 'publisher[cluster]'"
        raise UsageError(Problem(Place("--cluster"), "dask is not installed", hint)) from None
    connect: Any = distributed.Client
    try:
        return connect(address, timeout=_PATIENCE_S, set_as_default=False)
    except (OSError, ValueError) as error:
        message = f"no cluster answers at {address} ({' '.join(str(error).split())[:120]})"
        hint = "start its scheduler, or leave --cluster out"
        raise UsageError(Problem(Place("--cluster"), message, hint)) from None
