"""The same work on a dask cluster: the same books, and a failing pattern fails alone."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from pathlib import Path

import pytest

from publisher.catalogue.build.cluster import Cluster
from publisher.errors import UsageError
from tests.support.stand_ins import (
    begin_with_stand_ins,
    everything,
    files_made,
    make_workshop,
    write_pattern,
)


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    """A scheduler and two workers on this machine."""
    distributed = pytest.importorskip("distributed")
    with distributed.LocalCluster(
        n_workers=2,
        threads_per_worker=2,
        dashboard_address=":0",
        silence_logs=logging.CRITICAL,
    ) as cluster:
        yield cluster.scheduler_address


def test_cluster_makes_the_same_books(address: str, tmp_path: Path) -> None:
    workshop = make_workshop(tmp_path, *"abcd")
    write_pattern(tmp_path, "e", plan="broken")
    write_pattern(tmp_path, "f", print="failing")
    run = begin_with_stand_ins(workshop, "booklet", "handout")
    told = {o.slug: o for o in run.outcomes(run.tasks(everything(workshop)), 1, address)}
    assert {slug for slug, outcome in told.items() if outcome.problems} == {"e", "f"}
    clustered = files_made(workshop)
    local = make_workshop(tmp_path / "local", *"abcd")
    run = begin_with_stand_ins(local, "booklet", "handout")
    list(run.outcomes(run.tasks(everything(local)), 1))
    made = files_made(local)
    assert {name: clustered[name] for name in made} == made


def test_dead_worker_of_a_cluster_fails_its_pattern_only(tmp_path: Path) -> None:
    """What all jobs share is lost with the worker, and has to be given to the next one."""
    dask = pytest.importorskip("dask")
    distributed = pytest.importorskip("distributed")
    workshop = make_workshop(tmp_path, "b", "c", "d")
    write_pattern(tmp_path, "a", plan="dead")
    run = begin_with_stand_ins(workshop)
    patience = {"distributed.scheduler.allowed-failures": 0}
    with (
        dask.config.set(patience),
        distributed.LocalCluster(
            n_workers=1, threads_per_worker=1, dashboard_address=":0", silence_logs=logging.CRITICAL
        ) as cluster,
    ):
        tasks = run.tasks(everything(workshop))
        told = list(run.outcomes(tasks, 1, cluster.scheduler_address))
    assert [outcome.slug for outcome in told if outcome.problems] == ["a"]


def test_no_cluster_at_that_address(monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("distributed")
    monkeypatch.setattr("publisher.catalogue.build.cluster._PATIENCE_S", 0.2)
    for address in ("tcp://127.0.0.1:1", "nonsense://x"):
        with pytest.raises(UsageError, match="no cluster answers at"):
            Cluster(None, address)  # type: ignore[arg-type]
