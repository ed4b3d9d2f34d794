"""A release appears whole or not at all: on a full disk, one that can't be written to, killed at
any moment, or made twice at once."""

from __future__ import annotations

import random
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from publisher.catalogue.build.publish_files import work_folder
from publisher.catalogue.release.bundle import put_folder
from publisher.catalogue.workshop import Workshop
from publisher.errors import OutputError, PublisherError
from tests.support.disks import disk_at, remount
from tests.support.drivers import start
from tests.support.releases import SLUG, files_in, release_it, workshop_in, write_pattern

FOLDER = f"{SLUG}/releases"


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 2 MB."""
    with disk_at(tmp_path / "build", "2m") as disk:
        yield disk


def test_full_disk_leaves_no_half_release(small_disk: Path, tmp_path: Path) -> None:
    """Whether the disk is full before the books are built, or only when they are put together."""
    workshop = workshop_in(tmp_path)
    filler = small_disk / "filler"
    had_books = set()
    for free_kb in range(100, 2000, 150):
        filler.write_bytes(b"x" * 1024 * (2048 - free_kb))
        try:
            done = release_it(workshop)
        except PublisherError as error:
            assert "the disk is full, and nothing there was changed; make room" in str(error)
            assert not files_in(small_disk / FOLDER)
            assert not list((small_disk / ".cache/work").iterdir())
            had_books.add((small_disk / SLUG / f"{SLUG}-1.0-booklet-a4.pdf").exists())
            filler.unlink()
        else:
            assert done.state == "made"
            break
    assert had_books == {False, True}
    assert len(files_in(small_disk / FOLDER / "1.0")) == 9
    assert release_it(workshop).notes == ()


def test_read_only_disk(small_disk: Path, tmp_path: Path) -> None:
    remount(small_disk, "size=64m")
    workshop = workshop_in(tmp_path)
    release_it(workshop)
    before = files_in(small_disk)
    remount(small_disk, "ro")
    assert release_it(workshop).state == "there", "to look needs no writing"
    write_pattern(workshop, version="1.1", NWWWWN="NWNNWN")
    assert release_it(workshop, dry=True).changes, "nor does a rehearsal"
    with pytest.raises(OutputError, match=r"this disk can't be written to.*--out"):
        release_it(workshop)
    assert files_in(small_disk) == before


def test_file_in_the_place_of_the_releases(tmp_path: Path) -> None:
    workshop = workshop_in(tmp_path)
    (workshop.out / SLUG).mkdir(parents=True)
    (workshop.out / FOLDER).write_text("a letter")
    with pytest.raises(OutputError, match="a file stands where a folder is needed"):
        release_it(workshop)
    assert (workshop.out / FOLDER).read_text() == "a letter"


RELEASE = """
from pathlib import Path
from tests.support.releases import *
print("begun", flush=True)
release_it(Workshop(Path("patterns"), Path("templates"), Path("build")))
print("done", flush=True)
"""


def test_killed_at_any_moment(tmp_path: Path) -> None:
    workshop = workshop_in(tmp_path)
    release_it(workshop)
    whole = files_in(workshop.out / FOLDER / "1.0")
    moments, made = random.Random(13), 0
    for turn in range(12):
        version = f"1.{turn + 1}"
        write_pattern(workshop, version=version, NWWWWN="NWNNWN" if turn % 2 else "NWWNWN")
        process = start(RELEASE, tmp_path)
        assert process.stdout is not None
        assert process.stdout.readline() == "begun\n"
        time.sleep(moments.uniform(0.0, 2.0))
        process.kill()
        process.communicate()
        folder = workshop.out / FOLDER / version
        if folder.exists():
            made += 1
            assert release_it(workshop).state == "there", "it is whole"
            assert {"MANIFEST", "release.json", f"{SLUG}-{version}.zip"} < set(files_in(folder))
        assert files_in(workshop.out / FOLDER / "1.0") == whole
    write_pattern(workshop, version="2.0", NWWWWN="NNWWNN")
    assert release_it(workshop).state == "made"
    assert not list((workshop.out / ".cache/work").iterdir()), "what was left is cleared away"
    names = {path.name for path in (workshop.out / FOLDER).iterdir()}
    assert len(names) == made + 2


def test_two_at_once_make_one(tmp_path: Path) -> None:
    workshop = workshop_in(tmp_path)
    processes = [start(RELEASE, tmp_path) for _ in range(2)]
    told = [process.communicate(timeout=120) for process in processes]
    assert release_it(workshop).state == "there"
    assert any("done" in out for out, _ in told)
    for _, trouble in told:
        assert not trouble or "another release was put here meanwhile" in trouble


def test_folder_that_is_there_meanwhile_is_never_replaced(tmp_path: Path) -> None:
    target = tmp_path / "releases/1.0"
    target.mkdir(parents=True)
    (target / "release.json").write_text("another's")
    with (
        work_folder(tmp_path) as work,
        pytest.raises(OutputError, match="another release was put here meanwhile"),
    ):
        put_folder(work, target, {"release.json": b"mine", "listing/1.png": b"x"})
    assert files_in(target) == {"release.json": b"another's"}


def test_pattern_that_is_saved_meanwhile_is_not_mixed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The record tells of the very content that is in the books."""
    from publisher.catalogue.release import release as module

    workshop = workshop_in(tmp_path)
    built = module.build_editions

    def save_then_build(*given: object) -> object:
        write_pattern(workshop, NWWWWN="NWNNWN")
        return built(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(module, "build_editions", save_then_build)
    with pytest.raises(OutputError, match="this was changed while it was being released"):
        release_it(workshop)
    assert not (workshop.out / FOLDER / "1.0").exists()
    monkeypatch.undo()
    assert release_it(workshop).state == "made"


def test_workshop_that_was_moved_keeps_its_releases(tmp_path: Path) -> None:
    workshop = workshop_in(tmp_path / "here")
    release_it(workshop)
    (tmp_path / "here").rename(tmp_path / "there")
    there = tmp_path / "there"
    moved = Workshop(there / "patterns", there / "templates", there / "build")
    assert release_it(moved).state == "there"
