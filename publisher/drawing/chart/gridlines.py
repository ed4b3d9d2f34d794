"""Rule a tile: fine lines between cells, heavier after every five and ten, counted from 1."""

from __future__ import annotations

from collections.abc import Iterable

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.numbers import number
from publisher.drawing.chart.view import View


def paint_grid(canvas: FigureCanvas, view: View) -> None:
    """Fine lines, fives, tens, and the frame."""
    look, colours = view.look.chart, view.look.colours
    cords, rows = view.cords[:-1], view.row_numbers[:-1]
    canvas.stroke(_lines(view, cords, rows), colours["grid"], look.grid_line_mm)
    for weight, step in ((look.five_line_mm, 5), (look.ten_line_mm, 10)):
        path = _lines(view, _beats(cords, step), _beats(rows, step))
        canvas.stroke(path, colours["ink"], weight)
    left, top = number(view.left), number(view.top)
    frame = f"M{left} {top}H{number(view.right)}V{number(view.bottom)}H{left}Z"
    canvas.stroke(frame, colours["ink"], view.look.lines["frame"])


def _beats(counts: Iterable[int], step: int) -> list[int]:
    """Multiples of ten, or those of five that are not."""
    return [count for count in counts if count % step == 0 and (step == 10 or count % 10)]


def _lines(view: View, cords: Iterable[int], rows: Iterable[int]) -> str:
    """Lines after cords and after rows."""
    top, bottom = number(view.top), number(view.bottom)
    left, right = number(view.left), number(view.right)
    upright = [f"M{number(view.x(cord + 1))} {top}V{bottom}" for cord in cords]
    level = [f"M{left} {number(view.y(row + 1))}H{right}" for row in rows]
    return "".join(upright + level)
