"""Carry tasks out: read each pattern, hand it to whoever works, and tell what became of it."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator
from dataclasses import field
from typing import TypeVar

from publisher.catalogue.hands import Hands, OwnHands
from publisher.catalogue.portions import portions_of, together
from publisher.catalogue.values import Errand, Result, Task
from publisher.catalogue.working import Bench, with_error
from publisher.frozen import frozen

_Told = TypeVar("_Told")


def carry_out(
    hands: Hands,
    tasks: Iterable[Task],
    prepare: Callable[[Task], Errand],
    finish: Callable[[Task, Result], _Told],
    portions: int = 1,
) -> Iterator[_Told]:
    """Prepare, do and finish each task, in the order in which they get done.

    A task of many targets is done in at most so many portions. Whatever fails in one task is told
    by its own result, and the others go on.
    """
    unread: deque[tuple[Task, Result]] = deque()
    by_slug: dict[str, _Begun] = {}

    def errands() -> Iterator[Errand]:
        for task in tasks:
            try:
                errand = prepare(task)
            except Exception as error:
                unread.append((task, with_error(Result(task.slug), str(task.path), error)))
            else:
                parted = portions_of(errand, portions)
                by_slug[task.slug] = _Begun(task, len(parted))
                yield from parted

    for errand, result in hands.work(errands()):
        while unread:
            yield _finish(finish, *unread.popleft())
        begun = by_slug[errand.pattern.slug]
        begun.results.append(result)
        if len(begun.results) == begun.portions:
            del by_slug[begun.task.slug]  # and with it whole books, of which there may be thousands
            yield _finish(finish, begun.task, together(begun.results, begun.task.stale))
    while unread:
        yield _finish(finish, *unread.popleft())


@frozen
class _Begun:
    """A task in work: in how many portions, and what came of those that are done."""

    task: Task
    portions: int
    results: list[Result] = field(default_factory=list)


def _finish(finish: Callable[[Task, Result], _Told], task: Task, result: Result) -> _Told:
    try:
        return finish(task, result)
    except Exception as error:
        return finish(task, with_error(Result(task.slug), str(task.path), error))


def choose_hands(bench: Bench, errands: int, jobs: int, cluster: str | None) -> Hands:
    """A cluster if one is named; this process for a single errand; else as many as can be busy."""
    if cluster:
        from publisher.catalogue.cluster import Cluster

        return Cluster(bench, cluster)
    busy = min(errands, jobs)
    if busy > 1:
        from publisher.catalogue.workers import Workers

        return Workers(bench, busy)
    return OwnHands(bench)
