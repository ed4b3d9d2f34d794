"""Turn planned pieces into the list of lengths to cut, equal lengths together."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from publisher.plan.part_lists import part_lengths
from publisher.plan.part_values import StepsPlan
from publisher.plan.values import ChartPlan, CutLine, PiecePlan, Purpose
from publisher.source.pattern import YarnColour


def cutting_list(pieces: Iterable[PiecePlan], colours: Sequence[YarnColour]) -> tuple[CutLine, ...]:
    """Cords, then the loop, then working yarn by colour, the longest first; `make` counted in."""
    lines: list[CutLine] = []
    for piece in pieces:
        if isinstance(piece, StepsPlan):
            lines += _part_lines(piece)
            continue
        cords = Counter(cord.length_mm for cord in piece.hanging_cords)
        lines += _lines(piece, "cords", piece.cord_colour, cords)
        loop = Counter([piece.hanging_loop_mm])
        lines += _lines(piece, "hanging loop", piece.cord_colour, loop)
        for colour in colours:
            yarns = (yarn for yarn in piece.yarns if yarn.colour == colour.letter)
            cut = Counter(length for yarn in yarns for length in yarn.cut_lengths_mm)
            lines += _lines(piece, "working yarn", colour.letter, cut)
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
