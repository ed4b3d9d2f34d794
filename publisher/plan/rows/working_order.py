"""Read a chart's cells in working order: rows of runs, and runs that go on round the edge."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from publisher.model.pattern import Order, Side
from publisher.model.plan import Run, Stretch

_SAME = re.compile(r"(.)\1*", re.DOTALL)


class WorkingRow(NamedTuple):
    """One row as it is worked."""

    row: int
    start: Side
    runs: tuple[Run, ...]


class Passage(NamedTuple):
    """A longest stretch of one colour in working order; it may go on round the edge."""

    colour: str
    stretches: tuple[Stretch, ...]

    @property
    def knots(self) -> int:
        return sum(stretch.knots for stretch in self.stretches)


def read_rows(cells: Sequence[str], first_from: Side, order: Order) -> tuple[WorkingRow, ...]:
    """Every row from the top, its runs in the order they are worked."""
    other: Side = "left" if first_from == "right" else "right"
    return tuple(
        _read_row(row, line, other if order == "zigzag" and row % 2 == 0 else first_from)
        for row, line in enumerate(cells, start=1)
    )


def _read_row(row: int, line: str, start: Side) -> WorkingRow:
    width = len(line)
    runs = []
    for match in _SAME.finditer(line if start == "left" else line[::-1]):
        begin, end = match.span()
        first, last = (begin + 1, end) if start == "left" else (width - begin, width - end + 1)
        runs.append(Run(match[1], end - begin, first, last))
    return WorkingRow(row, start, tuple(runs))


def read_passages(rows: Sequence[WorkingRow], order: Order) -> list[Passage]:
    """Return all runs in working order; in zigzag order one may go on round the edge."""
    passages: list[Passage] = []
    for row in rows:
        for number, run in enumerate(row.runs):
            stretch = Stretch(row.row, run.first_cord, run.last_cord, run.knots)
            goes_on = number == 0 and order == "zigzag" and passages
            if goes_on and passages[-1].colour == run.colour:
                passages[-1] = Passage(run.colour, (*passages[-1].stretches, stretch))
            else:
                passages.append(Passage(run.colour, (stretch,)))
    return passages
