"""Paint finished parts where they are fastened on a piece, and number their places."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.numbers import number
from publisher.drawing.base.shapes import disc
from publisher.drawing.part.picture import Ends, PartPicture, lay_out_part
from publisher.drawing.piece.knotwork import Cloth
from publisher.fonts import proportions
from publisher.fonts.shaping import MM_PER_PT
from publisher.frozen import frozen
from publisher.knots import Knot
from publisher.model.look import Look
from publisher.model.part_plan import Placement
from publisher.model.parts import Hold
from publisher.model.pattern import YarnColour
from publisher.model.plan import ChartPlan, Plan
from publisher.model.reach import Box, middle_mm, turned

_RIM_MM = 0.3
_DISC = 0.72
"""A disc's radius, in the size of its number."""
_WIDER = 1.2
"""How much wider it is for a number of two figures."""


@frozen
class PlacedPart:
    """A part in its place."""

    picture: PartPicture
    place: Placement

    @property
    def anchor(self) -> complex:
        """The point where it is fastened, in the unit of its picture."""
        return self.picture.tails if self.place.hold == "tails" else self.picture.top

    def box_mm(self, plan: ChartPlan) -> Box:
        """Return what it covers, in mm from the corner of the chart's first knot."""
        x, y = middle_mm(self.place, plan)
        unit, anchor = self.picture.diameter_mm, self.anchor
        left, top, right, bottom = self.picture.box
        box = left - anchor.real, top - anchor.imag, right - anchor.real, bottom - anchor.imag
        left, top, right, bottom = turned(box, self.place.turn_degrees)
        return x + unit * left, y + unit * top, x + unit * right, y + unit * bottom


def place_parts(plan: Plan, piece: str, knots: Callable[[str], Knot]) -> tuple[PlacedPart, ...]:
    """The parts that are fastened to cells of a piece, in order, laid out as they look."""
    parts = {part.id: part for part in plan.parts}
    pictures: dict[tuple[str, Hold], PartPicture] = {}
    found = []
    for step in plan.assembly:
        place = step.placement
        if step.piece not in parts or place is None or place.cord is None or place.piece != piece:
            continue
        key = step.piece, place.hold
        if key not in pictures:
            ends: Ends = "behind" if place.hold == "tails" else "whole"
            pictures[key] = lay_out_part(parts[step.piece], knots, ends)
        found.append(PlacedPart(pictures[key], place))
    return tuple(found)


def paint_parts(
    canvas: FigureCanvas,
    cloth: Cloth,
    placed: Iterable[PlacedPart],
    colours: Sequence[YarnColour],
    look: Look,
    scale: float,
) -> None:
    """The parts at their size, `scale` mm of paper to a mm, each turned about its place."""
    for one in placed:
        x, y = cell_middle(cloth, one.place)
        diameter = one.picture.diameter_mm * scale
        turn = f"rotate({number(one.place.turn_degrees)} {number(x, 3)} {number(y, 3)})"
        group = canvas.group(transform=turn)
        origin = complex(x, y) - one.anchor * diameter
        one.picture.paint(group, colours, look, diameter, origin)


def disc_places(placed: Iterable[PlacedPart], plan: ChartPlan) -> tuple[tuple[float, float], ...]:
    """The cells beside which numbers stand, in mm from the corner of the chart's first knot."""
    return tuple(middle_mm(one.place, plan) for one in placed if one.place.mark is not None)


def disc_reach_mm(size_pt: float) -> float:
    """Return how far a number's disc reaches from the middle of its cell, on paper."""
    return _disc_mm(size_pt) * (1 + _WIDER) + _RIM_MM


def _disc_mm(size_pt: float) -> float:
    return _DISC * size_pt * MM_PER_PT


def number_parts(
    canvas: FigureCanvas, cloth: Cloth, placed: Iterable[PlacedPart], look: Look, size_pt: float
) -> None:
    """A numbered disc at every place, on the side that the part leans away from."""
    for one in placed:
        if one.place.mark is not None:
            x, y = cell_middle(cloth, one.place)
            turn = math.radians(one.place.turn_degrees)
            away = _disc_mm(size_pt) * (1 if one.place.hold == "tails" else -1)
            x, y = x - away * math.sin(turn), y + away * math.cos(turn)
            paint_mark(canvas, x, y, one.place.mark, look, size_pt)


def paint_mark(
    canvas: FigureCanvas, x: float, y: float, mark: int, look: Look, size_pt: float
) -> None:
    """A place's number on a disc of paper, about a point."""
    size = size_pt * MM_PER_PT
    radius = _disc_mm(size_pt) * (1.0 if mark < 10 else _WIDER)
    rim = {"stroke": str(look.accent), "stroke_width": number(_RIM_MM)}
    canvas.fill(disc(radius, x, y), look.colours["paper"], **rim)
    base = y + proportions("bold").cap_height_em * size / 2
    canvas.text(x, base, str(mark), "bold", size_pt, look.accent, "middle")


def cell_middle(cloth: Cloth, place: Placement) -> tuple[float, float]:
    """The middle of a place's cell, on paper."""
    x = cloth.left + ((place.cord or 1) - 0.5) * cloth.cell_width
    return x, cloth.top + ((place.row or 1) - 0.5) * cloth.cell_height
