"""Write numbers and runs of letters the way every drawing does, so that output is the same to the
byte."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache

_REMEMBERED = 8192
"""A book writes each of its numbers seven times or so: grids, tiles and lines stand at the same
places from page to page."""


@lru_cache(maxsize=_REMEMBERED)
def number(value: float, places: int = 2) -> str:
    """A coordinate as short as its rounding allows: `1.50` is `1.5`, `-0.00` is `0`."""
    text = f"{value:.{places}f}"
    if text[-1] == "0" and "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def point(x: float, y: float, places: int = 2) -> str:
    """Two coordinates with a blank between them."""
    return f"{number(x, places)} {number(y, places)}"


def face_of(count: int, plain: str) -> str:
    """Numbers get heavier at five and ten."""
    if count % 10 == 0:
        return "bold"
    return "semibold" if count % 5 == 0 else plain


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
