"""Mark on a chart where yarns start, join, are picked up and are left: small signs between cells.

A mark stands on the line that the yarn crosses: the upper half of it where a yarn comes into a
cell, the lower half where it goes out. Each has its own shape, so that colour is not needed:

    start      a full arrow head, pointing the way the row goes
    pick up    the same, open
    join       a square
    leave      a disc

A row's marks are lines of text in the sign font, on lines of rims in the colour of the paper, which
part them from any colour.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.numbers import number
from publisher.drawing.base.symbols import BLANK
from publisher.drawing.base.yarn_signs import YARN_CHARACTERS
from publisher.drawing.chart.view import View
from publisher.fonts import svg_font
from publisher.frozen import frozen
from publisher.model.colour import Colour
from publisher.model.look import Look
from publisher.model.plan import Note, NoteKind, Row

_IN, _OUT = 0.27, 0.73
_MOST = 0.42
"""Of the smallest cell: two marks, one over the other, that keep apart and inside their row."""


@frozen
class MarkLine:
    """Marks at one height, by the cell edge that they stand on: 0 is the tile's left edge."""

    y: float
    marks: Mapping[int, NoteKind]
    rightward: bool


def paint_marks(canvas: FigureCanvas, view: View) -> None:
    """The marks of all yarns on a tile, in its accent."""
    lines = [line for row in view.rows for line in _row_lines(row, view)]
    size, advance = mark_size(view.look), view.cell_width
    paper = view.look.colours["paper"]
    draw_marks(canvas, lines, view.left, advance, size, view.accent, paper)


def mark_size(look: Look) -> float:
    """Return how large the marks are, in mm: the same on every tile and in the legend."""
    return min(look.chart.mark_mm, _MOST * look.chart.cell_min_mm)


def marked_edges(row: Row, view: View) -> frozenset[int]:
    """The edges in a row of a tile that have a mark, each by the cord to its right."""
    if not view.look.chart.yarn_marks:
        return frozenset()
    first = view.tile.first_cord
    return frozenset(edge + first for line in _row_lines(row, view) for edge in line.marks)


def marked_notes(row: Row) -> tuple[Note, ...]:
    """Return what is marked in a row: all that is told.

    Where a yarn is picked up and joined at once, there is room for the join alone.
    """
    joins = {note.cord for note in row.notes if note.kind == "join"}
    return tuple(
        note for note in row.told_notes if note.kind != "pick-up" or note.cord not in joins
    )


def draw_marks(
    canvas: FigureCanvas,
    lines: Iterable[MarkLine],
    left: float,
    advance: float,
    size: float,
    paint: Colour,
    paper: Colour,
) -> None:
    """Draw lines of marks, `advance` apart from `left` on: all rims first, then all marks."""
    found, wide = list(lines), number(advance, 4)
    for rims, ink in ((True, paper), (False, paint)):
        type_ = {**svg_font("signs"), "font-size": number(size, 3)}
        group = canvas.group(**type_, fill=str(ink))
        for line in found:
            first, last = min(line.marks), max(line.marks)
            text = [BLANK] * (last - first + 1)
            for edge, kind in line.marks.items():
                text[edge - first] = _character(kind, line.rightward, rims)
            x, y = left + first * advance - size / 2, line.y + size / 2
            group.label(x, y, "".join(text), wide)


def _row_lines(row: Row, view: View) -> Iterator[MarkLine]:
    cords = view.cords
    seen = [note for note in marked_notes(row) if note.cord in cords]
    if not seen:
        return
    rightward = row.start == "left"
    for comes_in, height in ((True, _IN), (False, _OUT)):
        right_of = 0 if comes_in == rightward else 1
        marks = {
            note.cord - view.tile.first_cord + right_of: note.kind
            for note in seen
            if (note.kind != "leave") == comes_in
        }
        if marks:
            yield MarkLine(view.y(row.row + height), marks, rightward)


def _character(kind: NoteKind, rightward: bool, rim: bool) -> str:
    if kind in ("start", "pick-up"):
        way = "right" if rightward else "left"
        return YARN_CHARACTERS[f"head rim {way}" if rim else f"{kind} {way}"]
    return YARN_CHARACTERS[f"{kind} rim" if rim else kind]
