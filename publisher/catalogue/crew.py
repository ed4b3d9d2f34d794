"""Share errands out among workers, and take their results; a lost worker fails one errand only."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, wait
from typing import Protocol

from publisher.catalogue.values import Errand, Result
from publisher.errors import Place, Problem


class Crew(Protocol):
    """Workers elsewhere; `window` errands are in work or waiting at any time."""

    window: int

    def take(self, errand: Errand) -> Future[Result]:
        """Begin an errand."""
        ...

    def again(self, errand: Errand) -> Result:
        """Do an errand with nothing else in work, as it may have killed a worker before."""
        ...


def share_out(crew: Crew, errands: Iterable[Errand]) -> Iterator[tuple[Errand, Result]]:
    """Do all errands, each result as soon as it is there."""
    waiting: dict[Future[Result], Errand] = {}
    for errand in errands:
        waiting[crew.take(errand)] = errand
        if len(waiting) >= crew.window:
            yield from _finished(crew, waiting)
    while waiting:
        yield from _finished(crew, waiting)


def _finished(crew: Crew, waiting: dict[Future[Result], Errand]) -> Iterator[tuple[Errand, Result]]:
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
        yield errand, _alone(crew, errand)


def _alone(crew: Crew, errand: Errand) -> Result:
    try:
        return crew.again(errand)
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
