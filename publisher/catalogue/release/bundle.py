"""Bind a release's files: an archive for upload, and the folder put in place whole."""

from __future__ import annotations

import errno
import io
import os
import zipfile
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path

from publisher.catalogue.build.publish_files import WorkFolder, problem_of
from publisher.errors import OutputError, Place, Problem

_PLAIN_FILE = 0o100644 << 16
_UNIX = 3
_FIRST, _LAST = datetime(1980, 1, 1), datetime(2107, 12, 31, 23, 59, 58)
"""All that the format has room for (APPNOTE.TXT 4.4.6: seven bits of years, seconds by twos)."""


def archive(folder: str, files: Mapping[str, bytes], date: datetime) -> bytes:
    """A ZIP of files in one folder, the same to the byte wherever it is made: in order, dated
    alike, and stored as they are (PDFs are packed already)."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_STORED) as bundle:
        for name, content in sorted(files.items()):
            moment = min(max(date.replace(tzinfo=None), _FIRST), _LAST)
            entry = zipfile.ZipInfo(f"{folder}/{name}", moment.timetuple()[:6])
            entry.external_attr, entry.create_system = _PLAIN_FILE, _UNIX
            bundle.writestr(entry, content)
    return packed.getvalue()


def put_folder(work: WorkFolder, target: Path, files: Mapping[str, bytes]) -> None:
    """Make a folder with these files, whole or not at all. OutputError, and no trace, if not."""
    private = work.path / "release"
    try:
        for name, content in files.items():
            _write(private / name, content)
        for path in [private, *(path for path in private.rglob("*") if path.is_dir())]:
            _settle(path)
        target.parent.mkdir(parents=True, exist_ok=True)
        if target.exists():
            raise OutputError(_taken(target))
        private.rename(target)
        _settle(target.parent)
    except OSError as error:
        taken = error.errno in (errno.EEXIST, errno.ENOTEMPTY) and target.is_dir()
        raise OutputError(_taken(target) if taken else _told(target, error)) from None


def _write(path: Path, content: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _settle(folder: Path) -> None:
    """Have a folder's names on the disk, where the system knows how."""
    try:
        handle = os.open(folder, os.O_RDONLY)
    except OSError:
        return
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _taken(target: Path) -> Problem:
    message = "another release was put here meanwhile, and nothing there was changed"
    return Problem(Place(str(target)), message, "release again to see what it is")


def _told(target: Path, error: OSError) -> Problem:
    problem = problem_of(target, error)
    hint = problem.hint.replace("build again", "release again")
    return Problem(problem.place, problem.message, hint)
