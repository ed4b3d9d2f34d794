"""Carry jobs out: read each pattern, hand it to an executor, and tell what became of it."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator
from dataclasses import field
from typing import Protocol, TypeVar

from publisher.catalogue.build.job import Toolkit, do, with_error
from publisher.catalogue.build.split import split_job, together
from publisher.catalogue.build.values import BuildJob, PatternTask, Result
from publisher.frozen import frozen

_Told = TypeVar("_Told")


def carry_out(
    executor: Executor,
    tasks: Iterable[PatternTask],
    prepare: Callable[[PatternTask], BuildJob],
    finish: Callable[[PatternTask, Result], _Told],
    portions: int = 1,
) -> Iterator[_Told]:
    """Prepare, do and finish each task, in the order in which they get done.

    A task of many targets is done in at most so many portions. Whatever fails in one task is told
    by its own result, and the others go on.
    """
    unread: deque[tuple[PatternTask, Result]] = deque()
    by_slug: dict[str, _Begun] = {}

    def prepared() -> Iterator[BuildJob]:
        for task in tasks:
            try:
                job = prepare(task)
            except Exception as error:
                unread.append((task, with_error(Result(task.slug), str(task.path), error)))
            else:
                parted = split_job(job, portions)
                by_slug[task.slug] = _Begun(task, len(parted))
                yield from parted

    for job, result in executor.work(prepared()):
        while unread:
            yield _finish(finish, *unread.popleft())
        begun = by_slug[job.pattern.slug]
        begun.results.append(result)
        if len(begun.results) == begun.portions:
            del by_slug[begun.task.slug]  # and with it whole books, of which there may be thousands
            yield _finish(finish, begun.task, together(begun.results, begun.task.stale))
    while unread:
        yield _finish(finish, *unread.popleft())


@frozen
class _Begun:
    """A task in work: in how many portions, and what came of those that are done."""

    task: PatternTask
    portions: int
    results: list[Result] = field(default_factory=list)


def _finish(
    finish: Callable[[PatternTask, Result], _Told], task: PatternTask, result: Result
) -> _Told:
    try:
        return finish(task, result)
    except Exception as error:
        return finish(task, with_error(Result(task.slug), str(task.path), error))


def choose_executor(toolkit: Toolkit, pending: int, jobs: int, cluster: str | None) -> Executor:
    """A cluster if one is named; this process for a single job; else as many as can be busy."""
    if cluster:
        from publisher.catalogue.build.cluster import Cluster

        return Cluster(toolkit, cluster)
    busy = min(pending, jobs)
    if busy > 1:
        from publisher.catalogue.build.processes import Workers

        return Workers(toolkit, busy)
    return InProcessExecutor(toolkit)


class Executor(Protocol):
    """An executor of jobs: this process, a pool of processes, or a cluster."""

    def work(self, jobs: Iterable[BuildJob]) -> Iterator[tuple[BuildJob, Result]]:
        """Do all jobs, each result as soon as it is there."""
        ...

    def close(self) -> None:
        """Let go of the workers. What has not begun is dropped."""
        ...


class InProcessExecutor:
    """This process, one job after the other."""

    def __init__(self, toolkit: Toolkit) -> None:
        self._toolkit = toolkit

    def work(self, jobs: Iterable[BuildJob]) -> Iterator[tuple[BuildJob, Result]]:
        for job in jobs:
            yield job, do(self._toolkit, job)

    def close(self) -> None:
        pass
