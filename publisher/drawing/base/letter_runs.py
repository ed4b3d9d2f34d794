"""Turn lines of letters into strokes: one path a colour, one stroke for every run of it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

_RUN = re.compile(r"(.)\1*", re.DOTALL)


def letter_runs(letters: str) -> Iterator[tuple[str, int, int]]:
    """(letter, first, end) of each longest stretch of one letter; counted from 0, end excluded."""
    for match in _RUN.finditer(letters):
        yield match[1], match.start(), match.end()


def run_paths(lines: Iterable[tuple[int, int, str]]) -> dict[str, str]:
    """Paths by letter, in units of cells, for strokes one cell wide.

    Each line is (row, first column, letters), counted from 0.
    """
    paths: dict[str, list[str]] = {}
    for row, column, letters in lines:
        for letter, first, end in letter_runs(letters):
            stroke = f"M{column + first} {row}.5H{column + end}"
            paths.setdefault(letter, []).append(stroke)
    return {letter: "".join(paths[letter]) for letter in sorted(paths)}
