"""Share jobs out among workers, and take their results; a lost worker fails one job only."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, wait
from typing import Protocol

from publisher.catalogue.build.values import BuildJob, Result
from publisher.errors import Place, Problem


class Pool(Protocol):
    """Workers elsewhere; `window` jobs are in work or waiting at any time."""

    window: int

    def take(self, job: BuildJob) -> Future[Result]:
        """Begin a job."""
        ...

    def again(self, job: BuildJob) -> Result:
        """Do a job with nothing else in work, as it may have killed a worker before."""
        ...


def share_out(pool: Pool, jobs: Iterable[BuildJob]) -> Iterator[tuple[BuildJob, Result]]:
    """Do all jobs, each result as soon as it is there."""
    waiting: dict[Future[Result], BuildJob] = {}
    for job in jobs:
        waiting[pool.take(job)] = job
        if len(waiting) >= pool.window:
            yield from _finished(pool, waiting)
    while waiting:
        yield from _finished(pool, waiting)


def _finished(
    pool: Pool, waiting: dict[Future[Result], BuildJob]
) -> Iterator[tuple[BuildJob, Result]]:
    """Wait for a job or more, and take what has come back out of `waiting`.

    Where a worker was lost, nobody knows by which job: all in work are waited for, and those
    that did not come back are done again one by one, so that none suffers for another.
    """
    lost: list[BuildJob] = []
    while waiting:
        for future in wait(waiting, return_when=FIRST_COMPLETED).done:
            job = waiting.pop(future)
            if not future.cancelled() and future.exception() is None:
                yield job, future.result()
            else:  # `do` raises nothing: the way to the worker and back failed
                lost.append(job)
        if not lost:
            return
    for job in lost:
        yield job, _alone(pool, job)


def _alone(pool: Pool, job: BuildJob) -> Result:
    try:
        return pool.again(job)
    except Exception as error:
        return _lost(job, error)


def _lost(job: BuildJob, error: Exception) -> Result:
    told = " ".join(f"{type(error).__name__}: {error}".split())[:200]
    problem = Problem(
        Place(job.pattern.path),
        f"the worker process that made this was lost ({told})",
        "build this pattern alone; if it is lost again, the machine may be short of memory",
    )
    return Result(job.pattern.slug, problems=(problem,))
