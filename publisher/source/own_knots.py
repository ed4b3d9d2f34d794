"""Find the writer's own knots that steps tie, in `knots/` beside the pattern.

Only what counting cords needs is read here: how a knot's cords come in and go out. The drawing is
for the room of knots.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from publisher.errors import SourceError
from publisher.frozen import frozen
from publisher.source.follow import KnotRule
from publisher.tables.syntax import parse
from publisher.tables.text_files import read_text

FOLDER = "knots"


@frozen
class Found:
    """A knot's file: its text, and its rule; or why no step can tie it, and what to do."""

    text: str
    rule: KnotRule | None
    fault: tuple[str, str] = ("", "")


@dataclass(slots=True)
class OwnKnots:
    """The knot files of a folder; each is read when it is first asked for."""

    folder: Path
    found: dict[str, Found | None] = field(default_factory=dict)

    def find(self, name: str) -> Found | None:
        """The knot of a name; None if there is no such file."""
        if name not in self.found:
            path = self.folder / f"{name}.toml"
            there = path.name == f"{name}.toml" and path.is_file()
            self.found[name] = _read(path) if there else None
        return self.found[name]

    def names(self) -> list[str]:
        """Of all files that are there."""
        return sorted(path.stem for path in self.folder.glob("*.toml"))


def _read(path: Path) -> Found:
    file = f"{FOLDER}/{path.name}"
    told = f"`publisher knots` tells what is wrong in {file}"
    try:
        text = read_text(path)
        data = parse(text, file)
    except SourceError:
        return Found("", None, (f"the file of {path.stem} can't be read", told))
    if "cords_in" not in data:
        message = f"the file of {path.stem} does not say how its cords come in"
        return Found(text, None, (message, f'add a line such as cords_in = ["A", "B"] to {file}'))
    rule = _rule(path.stem, data)
    return Found(text, rule, ("", "") if rule else (f"{path.stem} has no cords to tie", told))


def _rule(name: str, data: Mapping[str, Any]) -> KnotRule | None:
    """On how many cords the knot is tied, and in which order they go out."""
    first = _names(data["cords_in"])
    last = _names(data.get("cords_out", first))
    if not first or len({*first}) < len(first) or sorted(first) != sorted(last):
        return None
    titles = _names(data.get("titles"))
    out = tuple(first.index(cord) + 1 for cord in last)
    title = f"the knot {titles[0] if titles else name}"
    return KnotRule(title, len(first), len(first), faces=True, out=() if last == first else out)


def _names(value: object) -> list[str]:
    return [one for one in value if isinstance(one, str)] if isinstance(value, list) else []
