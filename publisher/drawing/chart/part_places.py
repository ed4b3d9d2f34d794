"""Mark on a chart the cells where parts are fastened, each with its number."""

from __future__ import annotations

from collections.abc import Iterable

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.chart.view import View
from publisher.drawing.piece.placed import paint_mark
from publisher.fonts.shaping import MM_PER_PT
from publisher.model.part_plan import Placement

_SHARE = 0.62
"""A number's size, in the shorter side of a cell."""


def paint_places(canvas: FigureCanvas, view: View, places: Iterable[Placement]) -> None:
    """A numbered disc on every marked cell of a tile."""
    for place in places:
        if place.mark is None or place.row is None or place.cord is None:
            continue
        if place.row in view.row_numbers and place.cord in view.cords:
            x, y = view.x(place.cord + 0.5), view.y(place.row + 0.5)
            paint_mark(canvas, x, y, place.mark, view.look, place_size(view.unit))


def place_size(unit_mm: float) -> float:
    """The type size of a place's number, for cells of some size."""
    return _SHARE * unit_mm / MM_PER_PT
