"""Do jobs in processes on all cores of this machine."""

from __future__ import annotations

import gc
import multiprocessing
import os
import signal
import sys
import threading
from collections.abc import Iterable, Iterator
from concurrent.futures import BrokenExecutor, Future, ProcessPoolExecutor

from publisher.catalogue.build.collection import look_seldom
from publisher.catalogue.build.job import Toolkit, do
from publisher.catalogue.build.pool import share_out
from publisher.catalogue.build.values import BuildJob, Result
from publisher.errors import is_at_limit


class Workers:
    """Processes of this machine. Where they are forked off, they share what was imported before."""

    def __init__(self, toolkit: Toolkit, jobs: int) -> None:
        self.window = 2 * jobs
        self._toolkit = toolkit
        self._jobs = jobs
        toolkit.pipeline.warm()
        self._pool = self._start(jobs)

    def work(self, jobs: Iterable[BuildJob]) -> Iterator[tuple[BuildJob, Result]]:
        return share_out(self, jobs)

    def take(self, job: BuildJob) -> Future[Result]:
        try:
            return self._pool.submit(_do_mine, job)
        except (BrokenExecutor, OSError) as error:  # it may break while it starts a process
            if is_at_limit(error):
                raise
            # What was in work is lost, and known by its own future.
            self._pool = self._start(self._jobs)
            return self._pool.submit(_do_mine, job)

    def again(self, job: BuildJob) -> Result:
        with self._start(1) as pool:
            return pool.submit(_do_mine, job).result()

    def close(self) -> None:
        self._pool.shutdown(cancel_futures=True)

    def _start(self, jobs: int) -> ProcessPoolExecutor:
        jobs = min(jobs, _MOST_OF_WINDOWS) if sys.platform == "win32" else jobs
        return ProcessPoolExecutor(jobs, initializer=_begin, initargs=(self._toolkit,))


_MOST_OF_WINDOWS = 61
"""It waits for no more processes at once; the pool refuses them."""
_mine: Toolkit | None = None


def _begin(toolkit: Toolkit) -> None:
    """Set a worker up: its toolkit; no answer to Ctrl-C; and it leaves when its parent is gone."""
    global _mine
    _mine = toolkit
    gc.freeze()
    look_seldom()
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_leave_with_parent, daemon=True).start()


def _leave_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent:
        parent.join()
        os._exit(1)


def _do_mine(job: BuildJob) -> Result:
    assert _mine is not None
    return do(_mine, job)
