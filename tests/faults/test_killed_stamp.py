"""A stamp that is killed at any moment leaves whole copies, and nothing else that names a buyer."""

from __future__ import annotations

import errno
import os
import random
import time
from pathlib import Path

import pikepdf
import pytest

from publisher.catalogue.build.publish_files import clear_traces, put_without_trace
from publisher.errors import OutputError
from publisher.press import print_book
from tests.support.drivers import start
from tests.support.svg_books import RICH, book

BUYERS = [f"Wilhelmina Quayside {number}" for number in range(300)]

STAMP = """
import sys
from publisher.cli.commands import commands
print("begun", flush=True)
commands(sys.argv[1:])
"""


def kill_a_stamp(folder: Path, moments: random.Random) -> None:
    words = ("stamp", "reeds.pdf", "--buyers", "buyers.csv", "--into", "copies")
    process = start(STAMP, folder, *words)
    assert process.stdout is not None
    assert process.stdout.readline() == "begun\n"
    give_up = time.monotonic() + 20.0
    while not (folder / "copies").exists() and time.monotonic() < give_up:
        time.sleep(0.005)
    time.sleep(moments.uniform(0.0, 0.1))
    process.kill()
    process.communicate()


@pytest.fixture
def desk(tmp_path: Path) -> Path:
    """A folder with a booklet and a list of many buyers."""
    (tmp_path / "reeds.pdf").write_bytes(print_book(RICH))
    (tmp_path / "buyers.csv").write_text("\n".join(["buyer", *BUYERS]))
    return tmp_path


@pytest.mark.skipif(not hasattr(os, "O_TMPFILE"), reason="only Linux has files without a name")
def test_twelve_kills_leave_whole_copies_and_no_hidden_file(desk: Path) -> None:
    moments = random.Random(12)
    counts = set()
    for _ in range(12):
        kill_a_stamp(desk, moments)
        found = [path for path in desk.rglob("*") if path.is_file()]
        assert not [path for path in found if path.name.startswith(".")]
        copies = [path for path in found if path.parent.name == "copies"]
        assert {path.suffix for path in copies} <= {".pdf"}
        for path in copies[:: max(1, len(copies) // 5)]:
            with pikepdf.open(path) as pdf:
                assert pdf.check_pdf_syntax() == []
        counts.add(len(copies))
        for path in copies:
            path.unlink()
        if (desk / "copies").exists():
            (desk / "copies").rmdir()
    assert len(counts) > 1, "it was killed at different moments"
    assert max(counts) > 0


def test_copies_put_in_the_place_of_others_are_whole_and_their_traces_name_nobody(
    desk: Path,
) -> None:
    """A file that is there can only be replaced by way of another name, for a moment."""
    moments = random.Random(5)
    for turn in range(6):
        (desk / "reeds.pdf").write_bytes(print_book(book(f"<text y='9'>{turn}</text>")))
        kill_a_stamp(desk, moments)
        for path in (desk / "copies").iterdir():
            if path.name.startswith("."):
                assert path.name.startswith(".publisher-")
                assert "Quayside" not in path.name
            else:
                with pikepdf.open(path) as pdf:
                    assert pdf.check_pdf_syntax() == []


def refuse(*_: object, **__: object) -> None:
    raise OSError(errno.EOPNOTSUPP, os.strerror(errno.EOPNOTSUPP))


@pytest.mark.parametrize("lacking", ["files without a name", "links", "both"])
def test_where_the_system_has_no_such_files_they_are_put_whole_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, lacking: str
) -> None:
    if lacking != "links":
        monkeypatch.delattr(os, "O_TMPFILE", raising=False)
    if lacking != "files without a name":
        monkeypatch.setattr(os, "link", refuse)
    target = tmp_path / "copies/reeds-Asa.pdf"
    assert put_without_trace(target, b"one")
    assert not put_without_trace(target, b"one")
    assert put_without_trace(target, b"two")
    assert target.read_bytes() == b"two"
    assert [path.name for path in target.parent.iterdir()] == ["reeds-Asa.pdf"]
    monkeypatch.setattr(Path, "replace", refuse)
    with pytest.raises(OutputError):
        put_without_trace(target, b"three")
    assert target.read_bytes() == b"two"
    assert [path.name for path in target.parent.iterdir()] == ["reeds-Asa.pdf"]


def test_what_a_killed_run_left_is_removed_by_the_next_but_not_what_another_is_writing(
    tmp_path: Path,
) -> None:
    old, new, own = (tmp_path / name for name in (".publisher-1.new", ".publisher-2.new", ".x.new"))
    for path in (old, new, own):
        path.write_bytes(b"%PDF Copy for Wilhelmina Quayside")
    for path in (old, own):
        os.utime(path, (0, 0))
    clear_traces(tmp_path)
    assert not old.exists()
    assert new.exists()
    assert own.exists(), "somebody else's"
    clear_traces(tmp_path / "nowhere")
