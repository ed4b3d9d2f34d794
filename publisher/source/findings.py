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
    _reported: set[tuple[str, KeyPath]] = field(default_factory=set)

    def add(self, file: str, path: KeyPath, message: str, hint: str) -> None:
        if not self.knows(file, path):
            self._reported.add((file, path))
            self.found.append(Finding(file, path, message, hint))

    def add_in_text(self, finding: Finding) -> None:
        """A mistake inside a value: others may stand beside it."""
        self.found.append(finding)

    def knows(self, file: str, path: KeyPath) -> bool:
        """Whether a mistake was found at this value already."""
        return (file, path) in self._reported
