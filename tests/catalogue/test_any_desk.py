"""What Windows and macOS do otherwise, as far as it can be had here: it makes the same books."""

from __future__ import annotations

import errno
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from publisher import build_catalogue
from publisher.catalogue.build.publish_files import put_whole
from publisher.catalogue.workshop import Workshop
from publisher.errors import OutputError
from publisher.file_names import way_to
from tests.support.drivers import ROOT
from tests.support.stand_ins import make_workshop

DEMO = ("tide-lines", "lock-keepers-key-cord")


def demo(folder: Path) -> Path:
    """Two patterns of the demo, their house, and all templates, as files of one's own."""
    folder.mkdir()
    shutil.copytree(ROOT / "templates", folder / "templates")
    (folder / "patterns").mkdir()
    for name in (*DEMO, "house"):
        shutil.copy(ROOT / f"patterns/{name}.toml", folder / "patterns")
    if (ROOT / "patterns/knots").exists():
        shutil.copytree(ROOT / "patterns/knots", folder / "patterns/knots")
    return folder


def books(folder: Path) -> dict[str, bytes]:
    found = sorted((folder / "build").glob("[!.]*/*.*"))
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in found}


def built(folder: Path) -> dict[str, bytes]:
    summary = build_catalogue(
        folder / "patterns",
        out=folder / "build",
        templates=folder / "templates",
        editions=("booklet", "plain-text"),
        jobs=1,
    )
    assert not summary.failed
    return books(folder)


@pytest.fixture(scope="module")
def usual(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """The books as they are made here."""
    made = built(demo(tmp_path_factory.mktemp("usual") / "desk"))
    assert len([name for name in made if name.endswith(".pdf")]) == len(DEMO)
    return made


def with_windows_line_ends(text: bytes) -> bytes:
    return text.replace(b"\n", b"\r\n")


def with_a_mark(text: bytes) -> bytes:
    return b"\xef\xbb\xbf" + text


@pytest.mark.parametrize("saved", [with_windows_line_ends, with_a_mark])
def test_files_saved_by_another_systems_editor_make_the_same_books(
    tmp_path: Path, usual: dict[str, bytes], saved: Callable[[bytes], bytes]
) -> None:
    folder = demo(tmp_path / "desk")
    texts = [path for path in folder.rglob("*.*") if path.is_file() and path.suffix != ".png"]
    assert len(texts) > 30
    for path in texts:
        path.write_bytes(saved(path.read_bytes()))
    assert built(folder) == usual


SPAWNED = """
import multiprocessing, sys
if __name__ == "__main__":
    from publisher import build_catalogue
    multiprocessing.set_start_method(sys.argv[1])
    summary = build_catalogue(editions=("booklet", "plain-text"), jobs=2)
    assert not summary.failed, summary.failed
"""


@pytest.mark.parametrize("method", ["spawn", "forkserver"])
def test_workers_that_begin_with_nothing_make_the_same_books(
    tmp_path: Path, usual: dict[str, bytes], method: str
) -> None:
    """As Windows and macOS start them, and Linux from Python 3.14 on."""
    folder = demo(tmp_path / "desk")
    (folder / "run.py").write_text(SPAWNED, "utf-8")
    done = subprocess.run(
        [sys.executable, "run.py", method],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        timeout=300,
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert books(folder) == usual


def test_no_text_is_read_or_written_in_the_systems_own_encoding(tmp_path: Path) -> None:
    """Which is no UTF-8 on most Windows desks."""
    folder = demo(tmp_path / "desk")
    strict = ["-X", "warn_default_encoding", "-W", "always::EncodingWarning"]
    for words in (["build", "--jobs", "1"], ["check"], ["new", "mill-pond"]):
        done = subprocess.run(
            [sys.executable, *strict, "-m", "publisher", *words],
            cwd=folder,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            capture_output=True,
            text=True,
            timeout=300,
        )
        assert done.returncode == 0
        ours = [line for line in done.stderr.splitlines() if f"publisher{os.sep}" in line]
        assert ours == []


def test_a_file_on_another_drive_is_known_by_its_whole_path(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Windows knows no way from one drive to another."""
    assert way_to(tmp_path / "patterns/tide.toml", tmp_path / "build") == "../patterns/tide.toml"

    def no_way(file: str, start: str) -> str:
        raise ValueError(f"path is on mount 'D:', start on mount 'C:' ({file}, {start})")

    workshop = make_workshop(tmp_path, "heron")
    monkeypatch.setattr(os.path, "relpath", no_way)
    assert way_to(tmp_path / "tide.toml", tmp_path) == (tmp_path / "tide.toml").as_posix()
    assert built_again(workshop) == ["made", "up to date"]


def built_again(workshop: Workshop) -> list[str]:
    from publisher.catalogue.build.build import conclude
    from tests.support.stand_ins import begin_with_stand_ins, everything

    told = []
    for _ in range(2):
        run = begin_with_stand_ins(workshop)
        (outcome,) = run.outcomes(run.tasks(everything(workshop)), 1)
        assert not outcome.problems
        told.append("up to date" if outcome.up_to_date else "made")
        after = conclude(run, run.tasks(everything(workshop)), whole=False)
        assert not after.leftovers, "its pattern is not gone"
    return told


def test_a_pattern_has_the_name_its_folder_gives_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Windows and macOS find heron.toml under HERON, too; its books are heron's."""
    workshop = make_workshop(tmp_path, "heron", "tide")
    (workshop.patterns / "HERON.toml").symlink_to("heron.toml")  # the same file by another name
    listed = Path.iterdir

    def without_twin(folder: Path) -> list[Path]:
        return [path for path in listed(folder) if path.name != "HERON.toml"]

    monkeypatch.setattr(Path, "iterdir", without_twin)
    assert workshop.find(["HERON"]) == (workshop.patterns / "heron.toml",)
    assert workshop.find(["HERON", "heron"]) == (workshop.patterns / "heron.toml",)


class HeldOpenError(PermissionError):
    """What Windows raises of a file that another program has open."""

    winerror = 32


@pytest.mark.parametrize("times", [1, 3])
def test_a_file_that_is_looked_through_for_a_moment_is_waited_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, times: int
) -> None:
    target, tried = tmp_path / "tide.pdf", []
    replace = Path.replace

    def held(path: Path, other: Path) -> Path:
        tried.append(other)
        if len(tried) <= times:
            raise HeldOpenError(errno.EACCES, "The process cannot access the file")
        return replace(path, other)

    monkeypatch.setattr(Path, "replace", held)
    monkeypatch.setattr(time, "sleep", lambda _: None)
    assert put_whole(target, b"new", tmp_path / ".new")
    assert target.read_bytes() == b"new" and len(tried) == times + 1


def test_a_book_that_is_open_in_a_reader_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "tide.pdf"
    target.write_bytes(b"old")
    waited: list[float] = []

    def held(path: Path, other: Path) -> Path:
        raise HeldOpenError(errno.EACCES, "The process cannot access the file")

    monkeypatch.setattr(Path, "replace", held)
    monkeypatch.setattr(time, "sleep", waited.append)
    with pytest.raises(OutputError, match=r"another program has this file open.*close it there"):
        put_whole(target, b"new", tmp_path / ".new")
    assert 0.5 < sum(waited) < 3
    assert target.read_bytes() == b"old"
    assert [path.name for path in tmp_path.iterdir()] == ["tide.pdf"]
