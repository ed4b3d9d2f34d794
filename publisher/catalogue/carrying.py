"""Carry tasks out: read each pattern, hand it to whoever works, and tell what became of it."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator
from typing import TypeVar

from publisher.catalogue.hands import Hands, OwnHands
from publisher.catalogue.values import Errand, Result, Task
from publisher.catalogue.working import Bench, with_error

_Told = TypeVar("_Told")


def carry_out(
    hands: Hands,
    tasks: Iterable[Task],
    prepare: Callable[[Task], Errand],
    finish: Callable[[Task, Result], _Told],
) -> Iterator[_Told]:
    """Prepare, do and finish each task, in the order in which they get done.

    Whatever fails in one task is told by its own result, and the others go on.
    """
    unread: deque[tuple[Task, Result]] = deque()
    by_slug: dict[str, Task] = {}

    def errands() -> Iterator[Errand]:
        for task in tasks:
            by_slug[task.slug] = task
            try:
                errand = prepare(task)
            except Exception as error:
                unread.append((task, with_error(Result(task.slug), str(task.path), error)))
            else:
                yield errand

    for errand, result in hands.work(errands()):
        while unread:
            yield _finish(finish, *unread.popleft())
        yield _finish(finish, by_slug[errand.pattern.slug], result)
    while unread:
        yield _finish(finish, *unread.popleft())


def _finish(finish: Callable[[Task, Result], _Told], task: Task, result: Result) -> _Told:
    try:
        return finish(task, result)
    except Exception as error:
        return finish(task, with_error(Result(task.slug), str(task.path), error))


def choose_hands(bench: Bench, tasks: int, jobs: int, cluster: str | None) -> Hands:
    """A cluster if one is named; this process for a single task; else as many as can be busy."""
    if cluster:
        from publisher.catalogue.cluster import Cluster

        return Cluster(bench, cluster)
    busy = min(tasks, jobs)
    if busy > 1:
        from publisher.catalogue.workers import Workers

        return Workers(bench, busy)
    return OwnHands(bench)
