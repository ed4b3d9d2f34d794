"""Disks of a size that a test chooses, where the machine lets us have one."""

from __future__ import annotations

import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest


@contextmanager
def disk_at(folder: Path, size: str) -> Iterator[Path]:
    """`folder`, made, with a disk of its own; `size` as mount takes it. Skips the test where no
    disk can be mounted."""
    folder.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", f"size={size}", "tmpfs", str(folder)]
    try:
        subprocess.run(mount, check=True, capture_output=True)
    except (OSError, subprocess.CalledProcessError):
        pytest.skip("no disk can be mounted here")
    try:
        yield folder
    finally:
        subprocess.run(["umount", "-l", str(folder)], check=True)


def remount(disk: Path, option: str) -> None:
    """Change a disk as it stands: `ro`, or another `size=`."""
    subprocess.run(["mount", "-o", f"remount,{option}", str(disk)], check=True)
