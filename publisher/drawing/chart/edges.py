"""Rule a tile, and number its rows and cords, with an arrow where a row starts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from publisher.drawing.base.canvas import Align, FigureCanvas, type_attributes
from publisher.drawing.base.numbers import face_of, number
from publisher.drawing.chart.view import View
from publisher.fonts import text_width_mm
from publisher.fonts.shaping import MM_PER_PT

_BASE = 0.33
"""A row number's base line under the middle of its row, in type sizes."""


def arrow_path(tip_x: float, y: float, rightward: bool, size: float) -> str:
    """A row arrow, its tip at x: a head 1.6 long and a stem 1.9 long, times the size."""
    way = 1 if rightward else -1
    head, stem = 1.6 * size * way, 1.9 * size * way
    half, wing = 0.22 * size, 0.95 * size
    return (
        f"M{number(tip_x)} {number(y)}l{number(-head)} {number(-wing)}V{number(y - half)}"
        f"h{number(-stem)}v{number(2 * half)}h{number(stem)}V{number(y + wing)}Z"
    )


def tick_path(x: float, y: float, size: float) -> str:
    """A box to tick, about its middle."""
    side = number(size)
    return f"M{number(x - size / 2)} {number(y - size / 2)}h{side}v{side}h-{side}Z"


def paint_rows(canvas: FigureCanvas, view: View, words: Mapping[str, str]) -> None:
    """Number and arrow where each row starts, tick box where it ends, on every tile."""
    look = view.look.chart
    arrows, ticks = [], []
    labels = _Labels(canvas, view, look.row_number)
    for row in view.rows:
        from_left = row.start == "left"
        start, end = (view.left, view.right) if from_left else (view.right, view.left)
        out = -1 if from_left else 1
        y = view.y(row.row + 0.5)
        if _is_start(view, row.row, from_left):
            _start_tag(canvas, view, words, start, out)
        else:
            arrows.append(arrow_path(start + out * look.arrow_gap_mm, y, from_left, look.arrow))
            base = y + _BASE * labels.size_mm
            labels.add(row.row, start + out * look.number_gap_mm, base, out)
        box = end - out * (look.tick_gap_mm + look.tick_mm / 2)
        ticks.append(tick_path(box, y, look.tick_mm))
    ink = view.look.colours["ink"]
    canvas.fill("".join(arrows), ink)
    line = {"stroke": str(ink), "stroke_width": number(view.look.lines["tick"], 3)}
    canvas.fill("".join(ticks), view.look.colours["paper"], **line)
    labels.paint()


def paint_cords(canvas: FigureCanvas, view: View) -> None:
    """Every cord's number, above and below."""
    labels = _Labels(canvas, view, view.look.chart.cord_number)
    for cord in view.cords:
        text = _cord_text(view, cord, labels)
        middle = view.x(cord + 0.5)
        for y in (view.top - view.room.cord_above, view.bottom + view.room.cord_below):
            labels.add(cord, middle, y, 0, text)
    labels.paint()


class _Labels:
    """Numbers collected by face, so that each face is said once."""

    def __init__(self, canvas: FigureCanvas, view: View, role: str) -> None:
        self._canvas, self._style = canvas, view.look.type[role]
        self._ink = view.look.colours[self._style.colour]
        self._found: dict[str, list[tuple[float, float, str]]] = {}
        self.size_mm = self._style.size_pt * MM_PER_PT

    def width(self, count: int, text: str) -> float:
        return text_width_mm(text, face_of(count, self._style.face), self._style.size_pt)

    def add(self, count: int, x: float, y: float, out: int, text: str = "") -> None:
        """A number that ends at x (out -1), is centred on it (0), or begins at it (1)."""
        text = text or str(count)
        x += (out - 1) / 2 * self.width(count, text)
        self._found.setdefault(face_of(count, self._style.face), []).append((x, y, text))

    def paint(self) -> None:
        for face in sorted(self._found):
            attributes = type_attributes(face, self._style.size_pt)
            group = self._canvas.group(**attributes, fill=str(self._ink))
            for x, y, text in self._found[face]:
                group.label(x, y, text)


def _cord_text(view: View, cord: int, labels: _Labels) -> str:
    """A cord's number; only its last two figures between the fives, where all would touch."""
    whole = str(cord)
    if labels.width(5, str(view.tile.last_cord)) + 0.5 <= view.cell_width or cord < 100:
        return whole
    return whole if cord % 5 == 0 or cord == view.tile.first_cord else whole[-2:]


def _is_start(view: View, row: int, from_left: bool) -> bool:
    """Does the whole work start at this row's start on this tile?"""
    first = view.tile.left is None if from_left else view.tile.right is None
    return row == 1 and first


def _start_tag(
    canvas: FigureCanvas, view: View, words: Mapping[str, str], edge: float, out: int
) -> None:
    """Row 1's number in a tag that points to the first cell, and the word above it."""
    look, style = view.look.chart, view.look.type[view.look.chart.row_number]
    size, middle = style.size_pt * MM_PER_PT, view.y(1.5)
    half = min(view.cell_height * 0.42, 2.6 * look.arrow)
    tip = edge + out * look.arrow_gap_mm
    shoulder = tip + out * half
    back = edge + out * (look.number_gap_mm + size * 0.95)
    path = (
        f"M{number(back)} {number(middle - half)}H{number(shoulder)}"
        f"L{number(tip)} {number(middle)}L{number(shoulder)} {number(middle + half)}"
        f"H{number(back)}Z"
    )
    canvas.fill(path, view.accent)
    base = middle + _BASE * size
    within: Align = "right" if out < 0 else "left"
    inner = shoulder + out * 0.6 * look.arrow
    canvas.text(inner, base, "1", "bold", style.size_pt, view.look.colours["paper"], within)
    outer: Align = "left" if out < 0 else "right"
    word_y = view.top - view.room.cord_above
    canvas.text(back, word_y, words["start"], "semibold", style.size_pt, view.accent, outer)


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
