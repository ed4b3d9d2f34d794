"""Do errands in processes on all cores of this machine."""

from __future__ import annotations

import gc
import multiprocessing
import os
import signal
import sys
import threading
from collections.abc import Iterable, Iterator
from concurrent.futures import BrokenExecutor, Future, ProcessPoolExecutor

from publisher.catalogue.crew import share_out
from publisher.catalogue.garbage import look_seldom
from publisher.catalogue.values import Errand, Result
from publisher.catalogue.working import Bench, do


class Workers:
    """Processes of this machine. Where they are forked off, they share what was imported before."""

    def __init__(self, bench: Bench, jobs: int) -> None:
        self.window = 2 * jobs
        self._bench = bench
        self._jobs = jobs
        bench.stages.warm()
        self._pool = self._start(jobs)

    def work(self, errands: Iterable[Errand]) -> Iterator[tuple[Errand, Result]]:
        return share_out(self, errands)

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
        jobs = min(jobs, _MOST_OF_WINDOWS) if sys.platform == "win32" else jobs
        return ProcessPoolExecutor(jobs, initializer=_begin, initargs=(self._bench,))


_MOST_OF_WINDOWS = 61
"""It waits for no more processes at once; the pool refuses them."""
_mine: Bench | None = None


def _begin(bench: Bench) -> None:
    """Set a worker up: its bench; no answer to Ctrl-C; and it leaves when its parent is gone."""
    global _mine
    _mine = bench
    gc.freeze()
    look_seldom()
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
