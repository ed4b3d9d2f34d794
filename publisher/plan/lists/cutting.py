"""Turn planned pieces into the list of lengths to cut, also as a table for spreadsheets."""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from publisher.frozen import frozen
from publisher.model import units
from publisher.model.part_plan import StepsPlan
from publisher.model.pattern import YarnColour
from publisher.model.plan import ChartPlan, CutLine, PiecePlan, Plan, Purpose
from publisher.plan.parts.lists import part_lengths


@frozen
class CutRow:
    """A row of the printed cutting list: all that is cut of one colour for one purpose of a
    piece."""

    piece: str
    purpose: Purpose
    colour: str
    lines: tuple[CutLine, ...]

    @property
    def length_mm(self) -> float:
        """The sum of the lengths."""
        return sum(line.count * line.length_mm for line in self.lines)

    @property
    def metres(self) -> float:
        """The sum as it is printed, rounded up to a hundredth."""
        return units.round_to(self.length_mm / 1000, 0.01, "up")

    @property
    def yards(self) -> float:
        """The sum of the lengths as they are cut with an inch rule, rounded up to a hundredth."""
        inches = sum(line.count * units.quarter_inches(line.length_mm) for line in self.lines)
        return units.round_to(inches / 36, 0.01, "up")


def cut_rows(lines: Iterable[CutLine]) -> Iterator[CutRow]:
    """Yield the rows of a cutting list, in its order."""
    for (piece, purpose, colour), same in groupby(
        lines, key=lambda line: (line.piece, line.purpose, line.colour)
    ):
        yield CutRow(piece, purpose, colour, tuple(same))


def cutting_list(plans: Iterable[PiecePlan], colours: Sequence[YarnColour]) -> tuple[CutLine, ...]:
    """Cords, then the loop, then working yarn by colour, the longest first; `make` counted in."""
    lines: list[CutLine] = []
    for plan in plans:
        if isinstance(plan, StepsPlan):
            lines += _part_lines(plan)
            continue
        cords = Counter(cord.length_mm for cord in plan.hanging_cords)
        lines += _lines(plan, "cords", plan.piece.cords.colour, cords)
        loop = Counter([plan.hanging_loop_mm])
        lines += _lines(plan, "hanging loop", plan.piece.cords.colour, loop)
        for colour in colours:
            yarns = (yarn for yarn in plan.yarns if yarn.colour == colour.letter)
            cut = Counter(length for yarn in yarns for length in yarn.cut_lengths_mm)
            lines += _lines(plan, "working yarn", colour.letter, cut)
    return tuple(lines)


def _lines(
    piece: ChartPlan, purpose: Purpose, colour: str, lengths: Counter[float]
) -> list[CutLine]:
    return [
        CutLine(piece.id, purpose, colour, count * piece.make, length)
        for length, count in sorted(lengths.items(), reverse=True)
    ]


def _part_lines(part: StepsPlan) -> list[CutLine]:
    return [
        CutLine(part.id, "part cords", colour, count * part.make, length)
        for colour, length, count in part_lengths(part)
    ]


HEAD = ("piece", "for", "colour", "name", "yarn", "count", "length_mm", "total_mm")
_FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r")


def cutting_list_csv(plan: Plan) -> str:
    """The list as CSV (RFC 4180: a head row, CRLF), a byte order mark first; whole mm.

    Text that a spreadsheet would take for a formula gets an apostrophe before it.
    """
    text = io.StringIO(newline="")
    table = csv.writer(text)
    table.writerow(HEAD)
    for line in plan.cutting_list:
        colour = plan.colour(line.colour)
        words = (line.piece, line.purpose, line.colour, colour.name, colour.yarn.name)
        length_mm = round(line.length_mm)
        numbers = (line.count, length_mm, line.count * length_mm)
        table.writerow((*map(_plain, words), *numbers))
    return "\ufeff" + text.getvalue()


def _plain(text: str) -> str:
    return f"'{text}" if text.startswith(_FORMULA_SIGNS) else text
