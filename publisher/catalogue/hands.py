"""Do errands: those who can, and this process itself, the quickest for few."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Protocol

from publisher.catalogue.values import Errand, Result
from publisher.catalogue.working import Bench, do


class Hands(Protocol):
    """Those who do errands."""

    def work(self, errands: Iterable[Errand]) -> Iterator[tuple[Errand, Result]]:
        """Do all errands, each result as soon as it is there."""
        ...

    def close(self) -> None:
        """Let go of the workers. What has not begun is dropped."""
        ...


class OwnHands:
    """This process, one errand after the other."""

    def __init__(self, bench: Bench) -> None:
        self._bench = bench

    def work(self, errands: Iterable[Errand]) -> Iterator[tuple[Errand, Result]]:
        for errand in errands:
            yield errand, do(self._bench, errand)

    def close(self) -> None:
        pass
