"""Where a part of a piece's back stands on paper, mirrored, with its cords and rows numbered."""

from __future__ import annotations

import math

from publisher.drawing.back.parts import Part
from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.numbers import face_of, number
from publisher.fonts import proportions, text_width_mm
from publisher.fonts.shaping import MM_PER_PT
from publisher.frozen import frozen
from publisher.model.colour import Colour
from publisher.model.look import Look
from publisher.model.plan import ChartPlan

_NUMBER_GAP_MM = 1.3
_TENS_MM = 0.15
_TENS = Colour.from_hex("#98a1a2")
_BOOKLET_PT = 8.0


@frozen
class BackView:
    """One part on paper, mirrored: the highest cord is on the left."""

    plan: ChartPlan
    part: Part
    scale: float
    left: float
    top: float
    look: Look

    @property
    def cell(self) -> tuple[float, float]:
        return self.plan.cell.width_mm * self.scale, self.plan.cell.height_mm * self.scale

    @property
    def dot(self) -> float:
        """The radius of an end's dot: small enough to tell two in one cell apart."""
        largest = self.look.chart.mark_mm / 2
        return min(largest, 0.25 * self.cell[0], 0.34 * self.cell[1])

    @property
    def right(self) -> float:
        return self.left + self.part.columns * self.cell[0]

    @property
    def bottom(self) -> float:
        return self.top + self.part.rows * self.cell[1]

    def x(self, cord: float) -> float:
        """The edge of a cord's column that lies to the left on paper."""
        return self.left + (self.part.last_cord - cord) * self.cell[0]

    def y(self, row: float) -> float:
        return self.top + (row - self.part.first_row) * self.cell[1]


def paint_frame(canvas: FigureCanvas, view: BackView) -> None:
    """The frame, a line after every tenth cord and row, and their numbers."""
    part = view.part
    top, bottom = number(view.top), number(view.bottom)
    left, right = number(view.left), number(view.right)
    upright = (
        f"M{number(view.x(cord))} {top}V{bottom}"
        for cord in range(part.first_cord, part.last_cord)
        if cord % 10 == 0
    )
    level = (
        f"M{left} {number(view.y(row + 1))}H{right}"
        for row in range(part.first_row, part.last_row)
        if row % 10 == 0
    )
    canvas.stroke("".join((*upright, *level)), _TENS, _TENS_MM)
    frame = f"M{left} {top}H{right}V{bottom}H{left}Z"
    canvas.stroke(frame, view.look.colours["ink"], view.look.lines["frame"])
    _paint_cord_numbers(canvas, view)
    _paint_row_numbers(canvas, view)


def _paint_cord_numbers(canvas: FigureCanvas, view: BackView) -> None:
    style, ink = view.look.type["map-number"], view.look.colours["ink"]
    part = view.part
    widest = text_width_mm(str(part.last_cord), "bold", style.size_pt)
    for cord in _fives(part.first_cord, part.last_cord, view.cell[0], widest + 1.0):
        middle, base = view.x(cord - 0.5), view.top - _NUMBER_GAP_MM
        canvas.text(middle, base, str(cord), face_of(cord, "sans"), style.size_pt, ink, "middle")


def _paint_row_numbers(canvas: FigureCanvas, view: BackView) -> None:
    style, ink = view.look.type["map-number"], view.look.colours["ink"]
    part, cap = view.part, cap_mm(view.look)
    for row in _fives(part.first_row, part.last_row, view.cell[1], cap + 1.2):
        right, base = view.left - _NUMBER_GAP_MM, view.y(row + 0.5) + cap / 2
        base = max(min(base, view.bottom), view.top + cap)
        canvas.text(right, base, str(row), face_of(row, "sans"), style.size_pt, ink, "right")


def _fives(first: int, last: int, cell_mm: float, least_mm: float) -> list[int]:
    """Multiples of five (or ten, …) with room between them, and the ends where they have room."""
    steps = (step for step in (5, 10, 50, 100, 500, 1000) if step * cell_mm >= least_mm)
    step = next(steps, last + 1)  # in cells far narrower than high, or far lower than wide, none
    shown = [count for count in range(first, last + 1) if count % step == 0]
    for end in (first, last):
        if all(abs(end - count) * cell_mm >= least_mm for count in shown):
            shown.append(end)
    return sorted(shown)


def boldness(look: Look) -> float:
    """Signs grow with the type, but less."""
    return math.sqrt(look.type["map-number"].size_pt / _BOOKLET_PT)


def cap_mm(look: Look) -> float:
    style = look.type["map-number"]
    return proportions(style.face).cap_height_em * style.size_pt * MM_PER_PT


def side_mm(plan: ChartPlan, look: Look) -> float:
    style = look.type["map-number"]
    return text_width_mm(str(plan.rows), "bold", style.size_pt) + _NUMBER_GAP_MM


def above_mm(look: Look) -> float:
    return cap_mm(look) + _NUMBER_GAP_MM + 0.2
