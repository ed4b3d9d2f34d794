"""A full disk, a disk that can't be written to: a clear word, and nothing earlier is damaged."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from publisher.catalogue.workshop import Workshop
from publisher.errors import OutputError
from tests.support.disks import disk_at, remount
from tests.support.drivers import start
from tests.support.stand_ins import (
    begin_with_stand_ins,
    everything,
    files_made,
    make_workshop,
    write,
)

SLUGS = ("heron", "tide")


def problems(workshop: Workshop, jobs: int = 1) -> list[str]:
    run = begin_with_stand_ins(workshop)
    done = run.outcomes(run.tasks(everything(workshop)), jobs)
    return [str(problem) for outcome in done for problem in outcome.problems]


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 256 kB."""
    with disk_at(tmp_path / "build", "256k") as disk:
        yield disk


def test_full_disk_leaves_earlier_books_whole(small_disk: Path, tmp_path: Path) -> None:
    workshop = make_workshop(tmp_path, *SLUGS)
    assert problems(workshop) == []
    before = files_made(workshop)
    write(tmp_path / "templates/pages/chart.svg", "<chart>\n" * 1000)
    told = problems(workshop)
    assert len(told) == 2
    assert all(
        "the disk is full, and nothing there was changed; make room and build again" in line
        for line in told
    )
    assert files_made(workshop) == before
    write(tmp_path / "templates/pages/chart.svg", "<chart>\n")
    assert problems(workshop) == []
    assert files_made(workshop) == before


def test_read_only_disk(small_disk: Path, tmp_path: Path) -> None:
    workshop = make_workshop(tmp_path, *SLUGS)
    assert problems(workshop) == []
    before = files_made(workshop)
    remount(small_disk, "ro")
    assert problems(workshop) == [], "nothing to do needs no writing"
    write(tmp_path / "templates/pages/chart.svg", "<other>\n")
    with pytest.raises(OutputError, match=r"build.*: this disk can't be written to.*--out"):
        problems(workshop)
    assert files_made(workshop) == before


LIMITED = """
import resource
from pathlib import Path
from tests.support.stand_ins import *
resource.setrlimit(resource.RLIMIT_FSIZE, (20000, 20000))
workshop = Workshop(Path("patterns"), Path("templates"), Path("build"))
run = begin_with_stand_ins(workshop)
for outcome in run.outcomes(run.tasks(workshop.find(["heron", "tide"])), jobs=1):
    print(*outcome.problems, sep="\\n")
"""


def test_file_that_can_only_be_written_in_part(tmp_path: Path) -> None:
    workshop = make_workshop(tmp_path, *SLUGS)
    assert problems(workshop) == []
    before = files_made(workshop)
    write(tmp_path / "templates/pages/chart.svg", "<chart>\n" * 1000)
    told, trouble = start(LIMITED, tmp_path).communicate(timeout=30)
    assert trouble == ""
    assert told.count("the file is larger than is allowed here") == 2
    assert files_made(workshop) == before


def test_file_in_the_place_of_the_output_folder(tmp_path: Path) -> None:
    workshop = make_workshop(tmp_path, *SLUGS)
    workshop.out.write_text("a letter")
    with pytest.raises(OutputError, match="a file stands where a folder is needed"):
        problems(workshop)
    assert workshop.out.read_text() == "a letter"


def test_file_in_the_place_of_one_patterns_folder(tmp_path: Path) -> None:
    workshop = make_workshop(tmp_path, *SLUGS)
    workshop.out.mkdir()
    (workshop.out / "heron").write_text("a letter")
    told = problems(workshop)
    assert told
    assert all(line.startswith(str(workshop.out / "heron")) for line in told)
    assert (workshop.out / "heron").read_text() == "a letter"
    assert (workshop.out / "tide/tide-1.0-booklet-a4.pdf").exists()
