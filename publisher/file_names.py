"""Name files so that every system understands it."""

from __future__ import annotations

import os
import re
from pathlib import Path

_RESERVED = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)(\..*)?", re.IGNORECASE)


def is_reserved(name: str) -> bool:
    """Return whether Windows takes a file of this name, whatever its ending is, for a device.

    Source: Microsoft, “Naming Files, Paths, and Namespaces”.
    """
    return _RESERVED.fullmatch(name) is not None


def way_to(file: str | Path, folder: Path) -> str:
    """The path to a file from a folder, with forward slashes; its whole path where none leads
    there, as from one drive of Windows to another."""
    try:
        return Path(os.path.relpath(file, folder)).as_posix()
    except ValueError:
        return Path(file).absolute().as_posix()
