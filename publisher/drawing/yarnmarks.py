"""Mark on a chart where yarns start, join, are picked up and are left: small corners of a cell.

A yarn enters a row's cell on the side that the row comes from, and leaves it on the other. Told by
shape and place, not by colour:

    start      a full corner, above, where the yarn enters
    pick up    the same corner, open
    join       both corners full, above and below, where the yarn enters: one ends, one begins
    leave      a full corner, below, where the yarn goes out
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from publisher.colour import Colour
from publisher.drawing.canvas import Canvas
from publisher.drawing.numbers import number
from publisher.drawing.view import View
from publisher.plan.values import Note, NoteKind, Row

MARKS: tuple[NoteKind, ...] = ("start", "pick-up", "join", "leave")

_SIZE = 0.27
_LARGEST_MM = 1.7
_HALO_MM = 0.3
_OPEN_LINE = 0.24


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of a cell, at x and y, and which way it points into the cell."""

    x: float
    y: float
    right: int
    down: int
    open: bool = False


def paint_marks(canvas: Canvas, view: View) -> None:
    """The marks of all yarns on a tile, in its accent."""
    corners = [corner for row in view.rows for corner in _row_corners(row, view)]
    size = min(_SIZE * view.unit, _LARGEST_MM)
    paint_corners(canvas, corners, size, view.accent, view.look.colours["paper"])


def note_corners(
    kind: NoteKind, left: float, top: float, right: float, bottom: float, rightward: bool
) -> Iterator[Corner]:
    """The corners that say a note, in a cell that is worked rightward or leftward."""
    enter, leave = (left, right) if rightward else (right, left)
    inward = 1 if rightward else -1
    if kind == "leave":
        yield Corner(leave, bottom, -inward, -1)
        return
    yield Corner(enter, top, inward, 1, open=kind == "pick-up")
    if kind == "join":
        yield Corner(enter, bottom, inward, -1)


def paint_corners(
    canvas: Canvas, corners: Iterable[Corner], size: float, paint: Colour, paper: Colour
) -> None:
    """Fill the corners, each on a rim of paper that parts it from any colour."""
    found = list(corners)
    canvas.fill("".join(_triangle(corner, size + _HALO_MM) for corner in found), paper)
    canvas.fill("".join(_triangle(corner, size) for corner in found), paint)
    inner = [_opening(corner, size) for corner in found if corner.open]
    canvas.fill("".join(inner), paper)


def _row_corners(row: Row, view: View) -> Iterator[Corner]:
    for note in row.notes:
        if note.cord in view.cords and _worth_marking(note):
            left, right = view.x(note.cord), view.x(note.cord + 1)
            top, bottom = view.y(row.row), view.y(row.row + 1)
            yield from note_corners(note.kind, left, top, right, bottom, row.start == "left")


def _worth_marking(note: Note) -> bool:
    """A yarn that comes from the very next cell needs no mark."""
    return note.kind != "pick-up" or note.behind is not None or note.rows_down > 1


def _triangle(corner: Corner, size: float) -> str:
    x, y = number(corner.x), number(corner.y)
    across = number(corner.right * size)
    return f"M{x} {y}h{across}L{x} {number(corner.y + corner.down * size)}Z"


def _opening(corner: Corner, size: float) -> str:
    """The paper inside an open corner."""
    rim = _OPEN_LINE * size
    x, y = corner.x + corner.right * rim, corner.y + corner.down * rim
    return _triangle(Corner(x, y, corner.right, corner.down), size - rim * (2 + 2**0.5))
