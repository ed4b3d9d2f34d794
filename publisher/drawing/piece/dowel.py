"""Paint the dowel, the cord that it hangs by, and the peg."""

from __future__ import annotations

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.numbers import number, point
from publisher.drawing.base.shapes import circle, svg_path
from publisher.drawing.piece.cords import Stroke
from publisher.model.colour import Colour

_WOOD = tuple(
    Colour.from_hex(shade)
    for shade in ("#8d6b45", "#b18a5e", "#cba678", "#dcbd92", "#cda97b", "#b18a5e", "#8a6842")
)
_END, _FAR_END, _PEG = (Colour.from_hex(shade) for shade in ("#a5805a", "#7d5d3b", "#6d5234"))
_GRAIN = Colour.from_hex("#6d5234")
_BEND = 0.5523


def paint_dowel(
    canvas: FigureCanvas, left: float, right: float, y: float, thick: float, line: Colour | None
) -> None:
    """A round stick from end to end, about a middle height."""
    near, far = _end(left, y, thick), _end(right, y, thick)
    top, bottom = number(y - thick / 2), number(y + thick / 2)
    body = f"M{number(left)} {top}H{number(right)}V{bottom}H{number(left)}Z"
    if line:
        border = {"stroke": str(line), "stroke_width": "0.2"}
        canvas.fill(body + far, "#ffffff", **border)
        canvas.fill(near, "#ffffff", **border)
        canvas.stroke(_grain(left, right, y, thick), line, 0.1)
        return
    band = thick / len(_WOOD)
    for index, shade in enumerate(_WOOD):
        middle = y - thick / 2 + (index + 0.5) * band
        canvas.stroke(f"M{number(left)} {number(middle, 3)}H{number(right)}", shade, band + 0.03)
    canvas.stroke(_grain(left, right, y, thick), _GRAIN, 0.12, stroke_opacity="0.35")
    canvas.fill(far, _FAR_END)
    canvas.fill(near, _END)


def paint_loop(
    canvas: FigureCanvas,
    left: float,
    right: float,
    dowel_y: float,
    thick: float,
    peg_y: float,
    stroke: Stroke,
) -> None:
    """The cord from one end of the dowel over a peg to the other, and the peg."""
    middle, top = (left + right) / 2, dowel_y - thick / 2
    ends = f"{point(left, top)}L{point(middle, peg_y)}L{point(right, top)}"
    stroke.draw(canvas, f"M{ends}")
    radius = max(1.3 * stroke.width, 0.6)
    peg = svg_path([circle(radius)], 1.0, middle, peg_y)
    if stroke.line:
        canvas.fill(peg, "#ffffff", stroke=str(stroke.line), stroke_width="0.2")
    else:
        canvas.fill(peg, _PEG)
        shine = svg_path(
            [circle(0.66 * radius)], 1.0, middle - radius * 0.15, peg_y - radius * 0.15
        )
        canvas.fill(shine, _WOOD[0])


def paint_ties(
    canvas: FigureCanvas, left: float, right: float, dowel_y: float, thick: float, stroke: Stroke
) -> None:
    """The cord's two turns round the dowel at each side."""
    half = thick / 2 + 0.3 * stroke.width
    turns = (
        f"M{point(x + side * 0.55 * stroke.width, dowel_y - half)}v{number(2 * half)}"
        for x in (left, right)
        for side in (-1, 1)
    )
    stroke.draw(canvas, "".join(turns), "round")


def _end(x: float, y: float, thick: float) -> str:
    """The round end of a stick, seen a little from the side."""
    wide, high = 0.22 * thick, 0.5 * thick
    w, h = wide * _BEND, high * _BEND
    return (
        f"M{point(x + wide, y)}C{point(x + wide, y + h)} {point(x + w, y + high)} "
        f"{point(x, y + high)}C{point(x - w, y + high)} {point(x - wide, y + h)} "
        f"{point(x - wide, y)}C{point(x - wide, y - h)} {point(x - w, y - high)} "
        f"{point(x, y - high)}C{point(x + w, y - high)} {point(x + wide, y - h)} "
        f"{point(x + wide, y)}Z"
    )


def _grain(left: float, right: float, y: float, thick: float) -> str:
    """A few long lines of the wood."""
    long = right - left
    lines = ((0.02, 0.30, -0.24), (0.22, 0.74, 0.12), (0.55, 0.97, -0.08), (0.63, 0.88, 0.3))
    return "".join(
        f"M{point(left + start * long, y + at * thick)}H{number(left + end * long)}"
        for start, end, at in lines
    )
