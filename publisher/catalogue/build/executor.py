"""Do errands: those who can, and this process itself, the quickest for few."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Protocol

from publisher.catalogue.build.job import Toolkit, do
from publisher.catalogue.build.values import Job, Result


class Executor(Protocol):
    """Those who do errands."""

    def work(self, errands: Iterable[Job]) -> Iterator[tuple[Job, Result]]:
        """Do all errands, each result as soon as it is there."""
        ...

    def close(self) -> None:
        """Let go of the workers. What has not begun is dropped."""
        ...


class InProcessExecutor:
    """This process, one errand after the other."""

    def __init__(self, toolkit: Toolkit) -> None:
        self._bench = toolkit

    def work(self, errands: Iterable[Job]) -> Iterator[tuple[Job, Result]]:
        for job in errands:
            yield job, do(self._bench, job)

    def close(self) -> None:
        pass
