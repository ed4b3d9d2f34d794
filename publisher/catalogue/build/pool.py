"""Share errands out among workers, and take their results; a lost worker fails one errand only."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, wait
from typing import Protocol

from publisher.catalogue.build.values import Job, Result
from publisher.errors import Place, Problem


class Pool(Protocol):
    """Workers elsewhere; `window` errands are in work or waiting at any time."""

    window: int

    def take(self, job: Job) -> Future[Result]:
        """Begin an errand."""
        ...

    def again(self, job: Job) -> Result:
        """Do an errand with nothing else in work, as it may have killed a worker before."""
        ...


def share_out(pool: Pool, errands: Iterable[Job]) -> Iterator[tuple[Job, Result]]:
    """Do all errands, each result as soon as it is there."""
    waiting: dict[Future[Result], Job] = {}
    for job in errands:
        waiting[pool.take(job)] = job
        if len(waiting) >= pool.window:
            yield from _finished(pool, waiting)
    while waiting:
        yield from _finished(pool, waiting)


def _finished(pool: Pool, waiting: dict[Future[Result], Job]) -> Iterator[tuple[Job, Result]]:
    """Wait for an errand or more, and take what has come back out of `waiting`.

    Where a worker was lost, nobody knows by which errand: all in work are waited for, and those
    that did not come back are done again one by one, so that none suffers for another.
    """
    lost: list[Job] = []
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


def _alone(pool: Pool, job: Job) -> Result:
    try:
        return pool.again(job)
    except Exception as error:
        return _lost(job, error)


def _lost(job: Job, error: Exception) -> Result:
    told = " ".join(f"{type(error).__name__}: {error}".split())[:200]
    problem = Problem(
        Place(job.pattern.path),
        f"the worker process that made this was lost ({told})",
        "build this pattern alone; if it is lost again, the machine may be short of memory",
    )
    return Result(job.pattern.slug, problems=(problem,))
