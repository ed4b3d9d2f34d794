"""List a folder's pattern files."""

from __future__ import annotations

from pathlib import Path


def list_patterns(folder: str | Path) -> list[Path]:
    """Every `*.toml` right in a folder but house.toml, by name; hidden files are none."""
    return sorted(
        path
        for path in Path(folder).glob("*.toml")
        if path.name != "house.toml" and not path.name.startswith(".")
    )
