"""Where a machine lets no more files be open, that is what is told: not a mistake of the program's,
nor damage to files that are whole."""

from __future__ import annotations

import re
import resource
import subprocess
import sys
from pathlib import Path

import pytest

from publisher.catalogue.build.job import unforeseen
from publisher.catalogue.build.records import BuildRecord, record_path
from publisher.catalogue.build.values import COMPANIONS
from publisher.source import starter_pattern
from tests.support.drivers import ROOT
from tests.support.stand_ins import begin_with_stand_ins, everything, files_made, make_workshop

# Takes all files but a few that the system gives, then does what it is told.
FEW = """
import os, resource, sys
from publisher.catalogue import buyers, check_catalogue, sheets
from publisher.catalogue.build import build
from publisher.catalogue.charting import chart, job
from publisher.catalogue.release import release
from publisher.cli.commands import commands
import publisher.cli.copying, publisher.cli.following, publisher.cli.releasing
free = int(sys.argv[1])
resource.setrlimit(resource.RLIMIT_NOFILE, (64, 64))
taken = []
try:
    while True:
        taken.append(os.open(os.devnull, os.O_RDONLY))
except OSError:
    for handle in taken[:free]:
        os.close(handle)
commands(sys.argv[2:])
"""
LIMIT = "no more files can be open at once on this machine"
SAYS_WHY = re.compile(rf"{LIMIT}|too many open files", re.IGNORECASE)
WHAT_TO_DO = "raise its limit, such as by `ulimit -n 4096`, or do less at a time"


def run_with(free: int, folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", FEW, str(free), *words],
        cwd=folder,
        env={"PYTHONPATH": str(ROOT), "PATH": "/usr/bin:/bin"},
        capture_output=True,
        text=True,
        timeout=120,
    )


@pytest.fixture
def desk(tmp_path: Path) -> Path:
    """A folder with a pattern, a built booklet and a list of buyers."""
    (tmp_path / "patterns").mkdir()
    for slug in ("heron", "otter"):
        (tmp_path / f"patterns/{slug}.toml").write_text(starter_pattern(slug), encoding="utf-8")
    (tmp_path / "buyers.csv").write_text("buyer\nAsa\nMaren\n")
    done = run_with(50, tmp_path, "build", "--jobs", "1")
    assert done.returncode == 0, done.stderr
    return tmp_path


COMMANDS = {
    "build": ("build", "--out", "elsewhere", "--jobs", "2"),
    "build again": ("build", "--jobs", "1", "--prune"),
    "check": ("check", "--jobs", "1"),
    "plan": ("plan", "heron"),
    "release": ("release", "heron", "--edition", "booklet", "--paper", "a4", "--dry-run"),
    "stamp": ("stamp", "build/heron/heron-0.1-booklet-a4.pdf", "--buyers", "buyers.csv"),
    "impose": ("impose", "build/heron/heron-0.1-booklet-a4.pdf", "--scheme", "booklet"),
    "new": ("new", "swan"),
}


@pytest.mark.parametrize("words", COMMANDS.values(), ids=COMMANDS)
def test_it_is_told_as_the_machines_limit(desk: Path, words: tuple[str, ...]) -> None:
    before = {path: path.read_bytes() for path in (desk / "build").rglob("*.pdf")}
    told = []
    for free in (0, 1, 2, 4, 7):
        done = run_with(free, desk, *words)
        said = done.stderr
        (desk / "patterns/swan.toml").unlink(missing_ok=True)
        assert "Traceback" not in said
        assert "mistake of its own" not in said, said
        assert "damaged" not in done.stdout + said
        if done.returncode:
            told.append(free)
            assert SAYS_WHY.search(said), said
            assert WHAT_TO_DO in said, said
    assert told, "with none free nothing can be read"
    for path, content in before.items():
        assert path.read_bytes() == content


def test_records_and_books_are_not_taken_for_damaged(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    workshop = make_workshop(tmp_path, "tide")
    run = begin_with_stand_ins(workshop)
    assert not any(one.problems for one in run.outcomes(run.tasks(everything(workshop)), jobs=1))
    before = files_made(workshop)
    path = record_path(workshop.out, "tide", COMPANIONS)
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    try:
        resource.setrlimit(resource.RLIMIT_NOFILE, (0, hard))
        with pytest.raises(OSError, match="Too many open files") as caught:
            BuildRecord.read(path)
    finally:
        resource.setrlimit(resource.RLIMIT_NOFILE, (soft, hard))
    assert str(unforeseen("tide", caught.value)[0]) == f"tide: {LIMIT}; {WHAT_TO_DO}"
    assert files_made(workshop) == before
