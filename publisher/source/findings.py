"""Collect mistakes while a file is read, each at the key it was found at."""

from __future__ import annotations

from dataclasses import dataclass, field

KeyPath = tuple[str | int, ...]
"""The way to a value: `("pieces", 0, "mount", "knot")`."""


@dataclass(frozen=True, slots=True)
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
    """All mistakes so far. Of one value only the first is kept: the rest follows from it."""

    found: list[Finding] = field(default_factory=list)
    _passed: set[tuple[str, KeyPath]] = field(default_factory=set)

    def add(self, file: str, path: KeyPath, message: str, hint: str) -> None:
        """A mistake at a value, if none was found there before."""
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
        """Whether this very value was found to be wrong."""
        return (file, path) in self._passed

    def knows(self, file: str, *path: str | int) -> bool:
        """Whether a mistake was found at this value or inside it, so that it can't be judged."""
        length = len(path)
        return any(name == file and way[:length] == path for name, way in self._passed)
