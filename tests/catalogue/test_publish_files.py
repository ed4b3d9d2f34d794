"""A file is the old one, whole, or the new one, whole; and nothing else is left behind."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from publisher.catalogue.build.publish_files import put_whole, work_folder
from publisher.errors import OutputError


def test_puts_new_content_and_tells_whether_it_is_new(tmp_path: Path) -> None:
    target = tmp_path / "tide/tide.pdf"
    with work_folder(tmp_path) as work:
        assert work.put(target, b"one")
        assert not work.put(target, b"one")
        assert work.put(target, b"two")
    assert target.read_bytes() == b"two"
    assert list((tmp_path / ".cache/work").iterdir()) == []


@pytest.mark.parametrize("failing", ["write", "fsync", "replace"])
def test_failure_leaves_the_old_file_and_no_trace(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, failing: str
) -> None:
    target = tmp_path / "tide.pdf"
    target.write_bytes(b"old")
    full = OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    def fail(*_: object, **__: object) -> None:
        raise full

    with work_folder(tmp_path) as work:
        if failing == "fsync":
            monkeypatch.setattr(os, "fsync", fail)
        elif failing == "replace":
            monkeypatch.setattr(Path, "replace", fail)
        else:
            monkeypatch.setattr(Path, "open", fail)
        with pytest.raises(OutputError, match="the disk is full"):
            work.put(target, b"newer")
        monkeypatch.undo()
        assert list(work.path.iterdir()) == []
    assert target.read_bytes() == b"old"


@pytest.mark.parametrize(
    ("code", "words"),
    [
        (errno.EROFS, "this disk can't be written to"),
        (errno.EACCES, "you may not write here"),
        (errno.EDQUOT, "your share of the disk is full"),
        (errno.EIO, "Input/output error"),
    ],
)
def test_message_names_the_file_the_reason_and_the_way_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, code: int, words: str
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise OSError(code, os.strerror(code), str(tmp_path / "hidden-work-file"))

    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(OutputError) as caught:
        put_whole(tmp_path / "tide.pdf", b"new", tmp_path / "hidden-work-file")
    told = str(caught.value)
    assert told.startswith(f"{tmp_path}/tide.pdf: ")
    assert words in told
    assert "hidden" not in told
    assert ";" in told


def test_file_where_a_folder_is_needed(tmp_path: Path) -> None:
    (tmp_path / "tide").write_text("in the way")
    with work_folder(tmp_path) as work, pytest.raises(OutputError) as caught:
        work.put(tmp_path / "tide/tide.pdf", b"new")
    assert "a file stands where a folder is needed" in str(caught.value)
    assert (tmp_path / "tide").read_text() == "in the way"


def test_two_work_folders_at_once_leave_each_other_alone(tmp_path: Path) -> None:
    with work_folder(tmp_path) as one:
        (one.path / "mine").write_text("")
        with work_folder(tmp_path) as other:
            assert other.path != one.path
            assert (one.path / "mine").exists()
        assert (one.path / "mine").exists()


def test_what_a_dead_build_left_is_cleared_away(tmp_path: Path) -> None:
    left = tmp_path / ".cache/work/1-00c0ffee"
    left.mkdir(parents=True)
    (left / "0").write_text("half")
    left.with_suffix(".lock").touch()
    with work_folder(tmp_path):
        assert not left.exists()
        assert not left.with_suffix(".lock").exists()
