"""Mark on a chart where yarns start, join, are picked up and are left: small signs between cells.

A mark stands on the line that the yarn crosses: the upper half of it where a yarn comes into a
cell, the lower half where it goes out. Each has its own shape, so that colour is not needed:

    start      a full arrow head, pointing the way the row goes
    pick up    the same, open
    join       a square
    leave      a disc
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache

from publisher.colour import Colour
from publisher.drawing.canvas import Canvas
from publisher.drawing.look import Look
from publisher.drawing.numbers import number, point
from publisher.drawing.shapes import disc_path
from publisher.drawing.view import View
from publisher.plan.values import Note, NoteKind

_SIZE = 0.3
_SMALLEST_MM, _LARGEST_MM = 1.1, 2.6
_RIM_MM = 0.28
_IN, _OUT = 0.27, 0.73


@dataclass(frozen=True, slots=True)
class Mark:
    """A mark about a point; `rightward`: which way the row goes."""

    kind: NoteKind
    x: float
    y: float
    rightward: bool


def paint_marks(canvas: Canvas, view: View) -> None:
    """The marks of all yarns on a tile, in its accent."""
    size = mark_size(view.look)
    draw_marks(canvas, _tile_marks(view), size, view.accent, view.look.colours["paper"])


def mark_size(look: Look) -> float:
    """How large the marks are, in mm: the same on every tile and in the legend."""
    return min(max(_SIZE * look.chart.cell_min_mm, _SMALLEST_MM), _LARGEST_MM)


def draw_marks(
    canvas: Canvas, marks: Iterable[Mark], size: float, paint: Colour, paper: Colour
) -> None:
    """Draw marks of a size, each with a rim of paper that parts it from any colour."""
    path = "".join(_outline(mark, size + _RIM_MM) for mark in marks)
    rim = {"stroke": str(paper), "stroke_width": number(_RIM_MM), "stroke_linejoin": "round"}
    canvas.fill(path, paint, fill_rule="evenodd", **rim)


def _tile_marks(view: View) -> Iterator[Mark]:
    for row in view.rows:
        rightward = row.start == "left"
        joins = {note.cord for note in row.notes if note.kind == "join"}
        for note in row.notes:
            if note.cord in view.cords and _worth_marking(note, joins):
                comes_in = note.kind != "leave"
                edge = note.cord + (0 if comes_in == rightward else 1)
                height = _IN if comes_in else _OUT
                yield Mark(note.kind, view.x(edge), view.y(row.row + height), rightward)


def _worth_marking(note: Note, joins: set[int]) -> bool:
    """A yarn from the very next cell needs no mark; where it also joins, the square says all."""
    if note.kind != "pick-up":
        return True
    carried = note.behind is not None or note.rows_down > 1
    return carried and note.cord not in joins


def _outline(mark: Mark, size: float) -> str:
    dx, dy, rest = _shape(mark.kind, size, mark.rightward)
    return f"M{point(mark.x + dx, mark.y + dy)}{rest}"


@cache
def _shape(kind: NoteKind, size: float, rightward: bool) -> tuple[float, float, str]:
    """Where an outline begins, from the mark's middle, and how it goes on from there."""
    half = size / 2
    if kind == "join":
        side = number(1.6 * half)
        return -0.8 * half, -0.8 * half, f"h{side}v{side}h-{side}Z"
    if kind == "leave":
        return 0.9 * half, 0.0, disc_path(0.9 * half)
    way = 1 if rightward else -1
    head = _head(2 * half * way, half)
    if kind == "pick-up":
        head += f"m{point(0.56 * half * way, 0.86 * half)}{_head(-way * -0.22 * half, 0.14 * half)}"
    return -half * way, -half, head


def _head(length: float, half_width: float) -> str:
    """An arrow head from its upper back corner, by way of its tip."""
    return f"l{point(length, half_width)}l{point(-length, half_width)}Z"
