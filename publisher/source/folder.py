"""Say what a pattern can be called, and list a folder's pattern files."""

from __future__ import annotations

import re
from pathlib import Path

_SLUG = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_LONGEST = 100


def is_slug(name: str) -> bool:
    """Return whether a name has small letters, figures and single hyphens only, and is no
    sentence."""
    return len(name) <= _LONGEST and _SLUG.fullmatch(name) is not None


def list_patterns(folder: str | Path) -> list[Path]:
    """Every `*.toml` right in a folder but house.toml, by name; hidden files are none."""
    return sorted(
        path
        for path in Path(folder).glob("*.toml")
        if path.name != "house.toml" and not path.name.startswith(".")
    )
