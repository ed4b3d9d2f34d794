"""Tasks are carried out one by one: what fails is told, and what is done is let go of."""

from __future__ import annotations

import datetime
import weakref
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

from publisher.catalogue.build.dispatch import carry_out
from publisher.catalogue.build.values import BuildJob, PatternTask, Result
from tests.support.shop import demo


class Kept(dict[str, bytes]):
    """What a result holds, and can be asked whether it is still there."""


class Quick:
    """An executor that does every job at once."""

    def __init__(self) -> None:
        self.made: list[weakref.ref[Kept]] = []

    def work(self, jobs: Iterable[BuildJob]) -> Iterator[tuple[BuildJob, Result]]:
        for job in jobs:
            kept = Kept(book=b"pages")
            self.made.append(weakref.ref(kept))
            yield job, Result(job.pattern.slug, packs=kept)
            del kept

    def close(self) -> None:
        pass


def job(slug: str) -> BuildJob:
    date = datetime.datetime(2026, 9, 1)
    return BuildJob(replace(demo("tide-lines"), slug=slug), (), date, {}, {})


def test_results_are_let_go_of_when_they_are_told() -> None:
    """Each may hold whole books: a run over thousands of patterns must not hold them all."""
    hands = Quick()
    tasks = [PatternTask(Path(f"pattern-{number}.toml"), {}) for number in range(8)]
    for _ in carry_out(hands, tasks, lambda task: job(task.slug), lambda task, result: task.slug):
        alive = sum(ref() is not None for ref in hands.made)
        assert alive <= 2, "the one that is told, and the next"
    assert len(hands.made) == 8
