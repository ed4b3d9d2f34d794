"""Put files where they belong whole or not at all: a private folder, then a rename.

Nothing is locked against other builds: each works in a folder of its own, and a rename is all or
nothing. A build holds a lock on its own folder only, so that a later one can tell what is left of
a build that was killed: the lock of a dead process is free.
"""

from __future__ import annotations

import errno
import os
import shutil
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import field
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING

from publisher.errors import MORE_OPEN, TOO_MANY_OPEN, OutputError, Place, Problem
from publisher.frozen import frozen

if TYPE_CHECKING:
    from filelock import BaseFileLock


@frozen
class WorkFolder:
    """A private folder on the same disk as what is made."""

    path: Path
    numbers: Iterator[int] = field(default_factory=count)

    def put(self, target: Path, content: bytes) -> bool:
        """Replace `target` whole. False where it has this content already. OutputError if not."""
        return put_whole(target, content, self._new())

    def try_to_put(self, target: Path, content: bytes) -> None:
        """The same for what can be done without, and is looked at with care when it is read."""
        with suppress(OutputError):
            put_whole(target, content, self._new(), lasting=False)

    def _new(self) -> Path:
        return self.path / str(next(self.numbers))


def put_whole(target: Path, content: bytes, new: Path, *, lasting: bool = True) -> bool:
    """Write `new`, on the same disk, and make it `target` in one step.

    `lasting`: whole even if the power fails the next moment, which takes some milliseconds. False
    where the target has this content already. OutputError, and no trace left, if not.
    """
    try:
        if _has(target, content):
            return False
        target.parent.mkdir(parents=True, exist_ok=True)
        _replace(target, content, new, lasting)
    except OSError as error:
        raise OutputError(problem_of(target, error)) from None
    return True


def put_without_trace(target: Path, content: bytes) -> bool:
    """Make `target` whole, for good, so that nothing of it is anywhere else if we are killed.

    It is written to a file that has no name until it is whole. Where the system has none such
    (Linux has), a hidden one is left of a killed run, which names nobody; `clear_traces` removes
    it. False where the target has this content already. OutputError if it can't be written.
    """
    new = target.with_name(f"{_TRACE}{os.urandom(8).hex()}.new")
    try:
        if _has(target, content):
            return False
        target.parent.mkdir(parents=True, exist_ok=True)
        if not _put_nameless(target, content, new):
            _replace(target, content, new, lasting=True)
    except OSError as error:
        raise OutputError(problem_of(target, error)) from None
    return True


_TRACE = ".publisher-"
_ABANDONED_S = 600.0
"""Files are written in far less."""


def clear_traces(folder: Path) -> None:
    """Remove what killed runs have left in a folder."""
    now = time.time()
    with suppress(OSError):
        for path in folder.glob(f"{_TRACE}*.new"):
            with suppress(OSError):
                if now - path.stat().st_mtime > _ABANDONED_S:
                    path.unlink()


def _put_nameless(target: Path, content: bytes, new: Path) -> bool:
    """Write a file without a name, and name it as the target. False where that can't be had."""
    flag = getattr(os, "O_TMPFILE", 0)
    try:
        handle = os.open(target.parent, flag | os.O_WRONLY, 0o666) if flag else -1
    except OSError as error:
        if error.errno not in (errno.EOPNOTSUPP, errno.EISDIR, errno.EINVAL):
            raise
        handle = -1
    if handle < 0:
        return False
    with os.fdopen(handle, "wb") as file:
        file.write(content)
        file.flush()
        os.fsync(handle)
        return _name(handle, target, new)


def _name(handle: int, target: Path, new: Path) -> bool:
    """Give an open file a name, by way of `new` where the name is another file's."""
    itself = f"/proc/self/fd/{handle}"
    try:
        try:
            os.link(itself, target, src_dir_fd=handle, follow_symlinks=True)
        except FileExistsError:
            os.link(itself, new, src_dir_fd=handle, follow_symlinks=True)
            _move(new, target)
    except OSError:  # no /proc, or a disk without links; or the target is a folder
        with suppress(OSError):
            new.unlink()
        return False
    return True


def _replace(target: Path, content: bytes, new: Path, lasting: bool) -> None:
    try:
        with new.open("wb") as file:
            file.write(content)
            if lasting:
                file.flush()
                os.fsync(file.fileno())
        _move(new, target)
    except BaseException:
        with suppress(OSError):
            new.unlink()
        raise


def _move(new: Path, target: Path) -> None:
    """Rename a file; on Windows again and again for a second while another program has it open, as
    those have that look through all new files."""
    for pause_s in (0.05, 0.1, 0.2, 0.4, 0.4):
        try:
            new.replace(target)
        except PermissionError as error:
            if getattr(error, "winerror", None) not in _HELD_OPEN:
                raise
            time.sleep(pause_s)
        else:
            return
    new.replace(target)


@contextmanager
def work_folder(out: Path) -> Iterator[WorkFolder]:
    """A work folder inside `out`, cleared away at the end; also what killed builds left."""
    root = out / ".cache" / "work"
    try:
        root.mkdir(parents=True, exist_ok=True)
        lock, path = _claim(root)
    except OSError as error:
        raise OutputError(problem_of(out, error)) from None
    try:
        _clear_abandoned(root, own=path)
        yield WorkFolder(path)
    finally:
        _clear(lock, path)


def _claim(root: Path) -> tuple[BaseFileLock, Path]:
    """A folder of our own, and the lock on it that lasts as long as we live."""
    while True:
        path = root / f"{os.getpid()}-{os.urandom(4).hex()}"
        lock = _locked(path)
        if lock and _lock_of(path).exists():  # not cleared away meanwhile
            path.mkdir()
            return lock, path


def _clear_abandoned(root: Path, own: Path) -> None:
    for lock_path in root.glob("*.lock"):
        path = lock_path.with_suffix("")
        with suppress(OSError):
            lock = _locked(path) if path != own else None
            if lock:
                _clear(lock, path)


def _clear(lock: BaseFileLock, path: Path) -> None:
    """Remove a folder and its lock, which not every system lets us remove while it is held."""
    shutil.rmtree(path, ignore_errors=True)
    lock.release()
    with suppress(OSError):
        _lock_of(path).unlink()


def _locked(path: Path) -> BaseFileLock | None:
    """The lock on a folder, taken; None where another process has it. OSError if it can't be."""
    from filelock import FileLock, Timeout  # takes a twentieth of a second

    lock = FileLock(_lock_of(path))
    try:
        lock.acquire(timeout=0)
    except Timeout:
        return None
    return lock


def _lock_of(path: Path) -> Path:
    return path.with_suffix(".lock")


def _has(target: Path, content: bytes) -> bool:
    with suppress(OSError):
        return target.stat().st_size == len(content) and target.read_bytes() == content
    return False


_WHY = {
    errno.ENOSPC: ("the disk is full", "make room and build again"),
    errno.EDQUOT: ("your share of the disk is full", "make room and build again"),
    errno.EROFS: ("this disk can't be written to", "choose another folder with --out"),
    errno.EACCES: ("you may not write here", "see to the permissions, or choose --out"),
    errno.EPERM: ("you may not write here", "see to the permissions, or choose --out"),
    errno.ENOTDIR: ("a file stands where a folder is needed", "move it away, or choose --out"),
    errno.EEXIST: ("a file stands where a folder is needed", "move it away, or choose --out"),
    errno.EISDIR: ("a folder stands where a file is needed", "move it away, or choose --out"),
    errno.EMFILE: (TOO_MANY_OPEN, MORE_OPEN),
    errno.ENFILE: (TOO_MANY_OPEN, MORE_OPEN),
    errno.EFBIG: ("the file is larger than is allowed here", "see to your limits and build again"),
}


_HELD_OPEN = (5, 32, 33)
"""What Windows says of a file that another program has open: that access is denied, or shared with
nobody, or locked."""


def problem_of(target: Path, error: OSError) -> Problem:
    """Return what a person is told of a file that could not be put in its place, or taken away."""
    message, hint = _WHY.get(
        error.errno or 0,
        (f"this can't be written ({error.strerror})", "see to it and build again"),
    )
    if getattr(error, "winerror", None) in _HELD_OPEN:
        message = "another program has this file open, or you may not write here"
        hint = "close it there, or see to the permissions, and build again"
    named = Path(os.fsdecode(error.filename)) if error.filename else target
    place = named if named in target.parents else target
    return Problem(Place(str(place)), f"{message}, and nothing there was changed", hint)
