"""A worker that dies, or fails in a way nobody foresaw, fails its pattern only; however workers are
started."""

from __future__ import annotations

import multiprocessing
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import Any

import pytest

from publisher.catalogue.build.values import Outcome
from publisher.catalogue.workshop import Workshop
from tests.support.stand_ins import (
    begin_with_stand_ins,
    everything,
    make_workshop,
    write,
    write_pattern,
)


@pytest.fixture(params=["fork", "spawn", "forkserver"])
def start_method(request: pytest.FixtureRequest) -> Iterator[str]:
    """How a system starts a worker: Linux forks up to Python 3.13, and has a server that forks from
    3.14; Windows and macOS start each anew."""
    if request.param not in multiprocessing.get_all_start_methods():
        pytest.skip("this system starts no workers in this way")
    before = multiprocessing.get_start_method()
    multiprocessing.set_start_method(request.param, force=True)
    yield request.param
    multiprocessing.set_start_method(before, force=True)


def outcomes(workshop: Workshop, jobs: int, *editions: str) -> dict[str, Outcome]:
    run = begin_with_stand_ins(workshop, *editions)
    return {done.slug: done for done in run.outcomes(run.tasks(everything(workshop)), jobs)}


@pytest.mark.usefixtures("start_method")
def test_dead_worker_fails_its_pattern_only(tmp_path: Path) -> None:
    workshop = make_workshop(tmp_path, "a", "b", "d", "e", "f", "g")
    write_pattern(tmp_path, "c", plan="dead")
    told = outcomes(workshop, jobs=2)
    assert [slug for slug, outcome in told.items() if outcome.problems] == ["c"]
    assert all(outcome.made for slug, outcome in told.items() if slug != "c")
    (problem,) = told["c"].problems
    assert problem.place.file.endswith("c.toml")
    assert "the worker process that made this was lost" in problem.message


def test_a_pool_that_breaks_while_it_starts_a_process_is_replaced(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Then the handles that the new process should get are closed already."""
    submit, failures = ProcessPoolExecutor.submit, [OSError("handle is closed")]

    def breaking(self: ProcessPoolExecutor, *job: Any) -> Any:
        if failures:
            raise failures.pop()
        return submit(self, *job)

    monkeypatch.setattr(ProcessPoolExecutor, "submit", breaking)
    told = outcomes(make_workshop(tmp_path, *"abc"), jobs=2)
    assert not failures
    assert all(outcome.made and not outcome.problems for outcome in told.values())


def test_several_dead_workers(tmp_path: Path) -> None:
    workshop = make_workshop(tmp_path, *"abcdef")
    for slug in "xyz":
        write_pattern(tmp_path, slug, print="dead")
    told = outcomes(workshop, jobs=3)
    assert {slug for slug, outcome in told.items() if outcome.problems} == set("xyz")
    assert len(told) == 9


@pytest.mark.parametrize("jobs", [1, 2])
@pytest.mark.parametrize("verb", ["read", "plan", "print"])
@pytest.mark.parametrize("trouble", ["broken", "failing"])
@pytest.mark.usefixtures("start_method")
def test_failing_pattern_stops_no_other(tmp_path: Path, jobs: int, verb: str, trouble: str) -> None:
    workshop = make_workshop(tmp_path, "a", "b")
    write_pattern(tmp_path, "c", **{verb: trouble})
    told = outcomes(workshop, jobs)
    assert told["a"].made
    assert told["b"].made
    (problem,) = told["c"].problems
    if trouble == "broken":
        assert str(problem).endswith("c.toml:3: the chart is torn; mend it")
        assert not told["c"].trace
    else:
        assert "RuntimeError: the ink ran out" in str(problem)
        assert "Traceback" not in str(problem)
        assert "Traceback" in told["c"].trace


def test_pattern_that_broke_keeps_its_earlier_books(tmp_path: Path) -> None:
    workshop = make_workshop(tmp_path, "a")
    (made,) = (path for path in outcomes(workshop, 1)["a"].made if path.suffix == ".pdf")
    before = made.read_bytes()
    write_pattern(tmp_path, "a", plan="broken")
    assert outcomes(workshop, 1)["a"].problems
    assert made.read_bytes() == before
    assert outcomes(workshop, 1)["a"].problems, "it is still out of date"


def test_one_broken_edition_leaves_the_other(tmp_path: Path) -> None:
    workshop = make_workshop(tmp_path, "a")
    page = write(tmp_path / "templates/pages/note.svg", "<note>{{ wrong }}\n")
    told = outcomes(workshop, 1, "booklet", "handout")
    assert [str(problem.place) for problem in told["a"].problems] == [f"{page}:1"]
    assert "a-1.0-booklet-a4.pdf" in {path.name for path in told["a"].made}
