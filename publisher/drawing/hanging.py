"""Draw the finished piece as it will hang: loop, dowel, mounted cords, knots, fringe."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.drawing.canvas import Canvas
from publisher.drawing.cords import Stroke, paint_fringe, paint_mount
from publisher.drawing.dowel import paint_dowel, paint_loop, paint_ties
from publisher.drawing.engraving import engrave_cloth
from publisher.drawing.figure import Figure
from publisher.drawing.knotwork import Cloth, paint_cloth
from publisher.drawing.look import Look
from publisher.drawing.placed import PlacedPart, number_parts, paint_parts
from publisher.plan.values import ChartPlan
from publisher.source.pattern import YarnColour

_LARGEST_SCALE = 1.0
_RISE, _MOST_RISE_MM = 0.16, 170.0
_INSET_MM = 14.0


def draw_hanging(
    plan: ChartPlan,
    colours: Sequence[YarnColour],
    look: Look,
    width_mm: float,
    height_mm: float,
    placed: Sequence[PlacedPart] = (),
    mark_pt: float = 0.0,
) -> Figure:
    """The piece as large as a box allows, never over its true size, with the parts on it.

    `mark_pt`: the size of the numbers at the parts' places; 0: no numbers.
    """
    cord = next(colour for colour in colours if colour.letter == plan.cord_colour)
    thick, dowel = cord.yarn.diameter_mm, plan.mount.diameter_mm
    dowel_long = max(plan.dowel_length_mm, plan.width_mm)
    rise = min(_RISE * dowel_long, _MOST_RISE_MM)
    peg = max(1.3 * thick, 2.0)
    mount = dowel / 2 + 0.9 * thick
    tall = peg + rise + mount + plan.height_mm + max(plan.fringe_mm, default=0.0) + 1.5
    wide = dowel_long + 0.5 * dowel
    scale = min(width_mm / wide, height_mm / tall, _LARGEST_SCALE)

    width, height = wide * scale, tall * scale
    dowel_y = (peg + rise) * scale
    cloth = Cloth(
        plan,
        (wide - plan.width_mm) / 2 * scale,
        dowel_y + mount * scale,
        plan.cell.width_mm * scale,
        plan.cell.height_mm * scale,
    )
    line = look.colours["ink"] if look.mono else None
    paint = look.colours["paper"] if look.mono else cord.srgb
    stroke = Stroke(paint, thick * scale, line)
    left, right = 0.25 * dowel * scale, (wide - 0.25 * dowel) * scale
    inset = min(_INSET_MM, (dowel_long - plan.width_mm) / 4) * scale
    loop = left + inset, right - inset

    canvas = Canvas()
    paint_loop(canvas, *loop, dowel_y, dowel * scale, peg * scale, stroke)
    paint_fringe(canvas, cloth, stroke, scale)
    paint_dowel(canvas, left, right, dowel_y, dowel * scale, line)
    paint_ties(canvas, *loop, dowel_y, dowel * scale, stroke)
    paint_mount(canvas, cloth, stroke, dowel_y, dowel * scale)
    paints = {colour.letter: colour.srgb for colour in colours}
    if look.mono:
        engrave_cloth(canvas, cloth, paints, look.colours["ink"], look.colours["paper"])
    else:
        paint_cloth(canvas, cloth, paints)
    paint_parts(canvas, cloth, placed, colours, look, scale)
    if mark_pt:
        number_parts(canvas, cloth, placed, look, mark_pt)
    return canvas.figure(width, height)
