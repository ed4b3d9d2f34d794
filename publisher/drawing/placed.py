"""Paint finished parts where they are fastened on a piece, and number their places."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence

from publisher.drawing.canvas import Canvas
from publisher.drawing.figure import Figure
from publisher.drawing.kept import drawn_once
from publisher.drawing.knotwork import Cloth
from publisher.drawing.look import Look
from publisher.drawing.numbers import number
from publisher.drawing.part_picture import PartPicture, lay_out_part, paint_told
from publisher.drawing.shapes import disc
from publisher.fonts import proportions
from publisher.fonts.shaping import MM_PER_PT
from publisher.frozen import frozen
from publisher.knots import Knot
from publisher.plan.part_values import Placement
from publisher.plan.values import Plan
from publisher.source.pattern import YarnColour

_RIM_MM = 0.3
_DISC = 0.72
"""A disc's radius, in the size of its number."""


@frozen
class PlacedPart:
    """A part in its place."""

    picture: PartPicture
    place: Placement


def place_parts(plan: Plan, piece: str, knots: Callable[[str], Knot]) -> tuple[PlacedPart, ...]:
    """The parts that are fastened to cells of a piece, in order, laid out as they look."""
    parts = {part.id: part for part in plan.parts}
    pictures: dict[str, PartPicture] = {}
    found = []
    for step in plan.assembly:
        place = step.placement
        if step.piece not in parts or place is None or place.cord is None or place.piece != piece:
            continue
        if step.piece not in pictures:
            pictures[step.piece] = lay_out_part(parts[step.piece], knots, fastened=True)
        found.append(PlacedPart(pictures[step.piece], place))
    return tuple(found)


def paint_parts(
    canvas: Canvas,
    cloth: Cloth,
    placed: Iterable[PlacedPart],
    colours: Sequence[YarnColour],
    look: Look,
    scale: float,
) -> None:
    """The parts at their size, `scale` mm of paper to a mm, each turned about its place."""
    for one in placed:
        x, y = cell_middle(cloth, one.place)
        canvas.add(_painted(one, x, y, colours, look, scale))


def _painted(
    placed: PlacedPart,
    x: float,
    y: float,
    colours: Sequence[YarnColour],
    look: Look,
    scale: float,
) -> Figure:
    """A part fastened at a point of the paper."""
    picture, place = placed.picture, placed.place

    def draw() -> tuple[Figure]:
        anchor = picture.tails if place.hold == "tails" else picture.top
        diameter = picture.diameter_mm * scale
        turn = f"rotate({number(place.turn_degrees)} {number(x, 3)} {number(y, 3)})"
        canvas = Canvas(transform=turn)
        picture.paint(canvas, colours, look, diameter, complex(x, y) - anchor * diameter)
        return (canvas.figure(picture.part.width_mm * scale, picture.part.height_mm * scale),)

    told = picture.told, paint_told(picture.part, colours, look), place.hold, place.turn_degrees
    return drawn_once(("placed", *told, x, y, scale), draw)[0]


def number_parts(
    canvas: Canvas, cloth: Cloth, placed: Iterable[PlacedPart], look: Look, size_pt: float
) -> None:
    """A numbered disc at every place, on the side that the part leans away from."""
    for one in placed:
        if one.place.mark is not None:
            x, y = cell_middle(cloth, one.place)
            turn = math.radians(one.place.turn_degrees)
            away = _DISC * size_pt * MM_PER_PT * (1 if one.place.hold == "tails" else -1)
            x, y = x - away * math.sin(turn), y + away * math.cos(turn)
            paint_mark(canvas, x, y, one.place.mark, look, size_pt)


def paint_mark(canvas: Canvas, x: float, y: float, mark: int, look: Look, size_pt: float) -> None:
    """A place's number on a disc of paper, about a point."""
    size = size_pt * MM_PER_PT
    radius = _DISC * size * (1.0 if mark < 10 else 1.2)
    rim = {"stroke": str(look.accent), "stroke_width": number(_RIM_MM)}
    canvas.fill(disc(radius, x, y), look.colours["paper"], **rim)
    base = y + proportions("bold").cap_height_em * size / 2
    canvas.text(x, base, str(mark), "bold", size_pt, look.accent, "middle")


def cell_middle(cloth: Cloth, place: Placement) -> tuple[float, float]:
    """The middle of a place's cell, on paper."""
    x = cloth.left + ((place.cord or 1) - 0.5) * cloth.cell_width
    return x, cloth.top + ((place.row or 1) - 0.5) * cloth.cell_height
