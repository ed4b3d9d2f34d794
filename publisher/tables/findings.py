"""Collect mistakes while a file is read, each at the key it was found at."""

from __future__ import annotations

from dataclasses import dataclass, field

from publisher.frozen import frozen

KeyPath = tuple[str | int, ...]
"""The way to a value: `("pieces", 0, "mount", "knot")`."""


@frozen
class Finding:
    """A mistake whose line is not looked up yet.

    `row` and `column` count, from 0, the lines of a text value and the characters of its line.
    """

    file: str
    path: KeyPath
    message: str
    hint: str
    row: int | None = None
    column: int | None = None


@dataclass(slots=True)
class Findings:
    """The mistakes found so far. Of one value only the first is kept: the rest follows from it."""

    found: list[Finding] = field(default_factory=list)
    moved: dict[tuple[str, KeyPath], KeyPath] = field(default_factory=dict)
    """Where a value stands that was read as another's: a misspelt key's, say."""
    _passed: set[tuple[str, KeyPath]] = field(default_factory=set)

    def add(self, file: str, path: KeyPath, message: str, hint: str) -> None:
        """A mistake at a value, if none was found there, or at what it stands in."""
        if not self.passes_over(file, path):
            self.pass_over(file, path)
            self.found.append(Finding(file, path, message, hint))

    def add_inside(self, finding: Finding) -> None:
        """A mistake inside a text or a picture: others may stand beside it."""
        self.found.append(finding)

    def pass_over(self, file: str, path: KeyPath) -> None:
        """Look for no more mistakes at a value."""
        self._passed.add((file, path))

    def passes_over(self, file: str, path: KeyPath) -> bool:
        """Return whether a value, or what it stands in, was found to be wrong."""
        ways = (path[:length] for length in range(1, len(path) + 1))
        return bool(self._passed) and any((file, way) in self._passed for way in ways)

    def way(self, finding: Finding) -> KeyPath:
        """The way to the value as the file has it: through misspelt keys, if need be."""
        for length in range(len(finding.path), 0, -1):
            moved = self.moved.get((finding.file, finding.path[:length]))
            if moved:
                return moved + finding.path[length:]
        return finding.path

    def knows(self, file: str, *path: str | int) -> bool:
        """Return whether a mistake was found at a value or inside it."""
        length = len(path)
        return any(name == file and way[:length] == path for name, way in self._passed)

    def doubts_names(self, file: str, group: str) -> bool:
        """Return whether the names in a group of tables are in doubt: not all of them could be
        read."""
        return any(n == file and way[0] == group and len(way) < 3 for n, way in self._passed)
