"""Draw the finished piece as it will hang: loop, dowel, mounted cords, knots, fringe."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.numbers import number
from publisher.drawing.piece.cords import Stroke, paint_fringe, paint_mount
from publisher.drawing.piece.dowel import paint_dowel, paint_loop, paint_ties
from publisher.drawing.piece.engraving import engrave_cloth
from publisher.drawing.piece.knotwork import Cloth, paint_cloth
from publisher.drawing.piece.placed import (
    PlacedPart,
    disc_places,
    disc_reach_mm,
    number_parts,
    paint_parts,
)
from publisher.frozen import frozen
from publisher.model.figure import Figure
from publisher.model.look import Look
from publisher.model.pattern import YarnColour
from publisher.model.plan import ChartPlan
from publisher.model.reach import Box, around
from publisher.store import NO_STORE, Store

_LARGEST_SCALE = 1.0
_RISE, _MOST_RISE_MM = 0.16, 170.0
_INSET_MM = 14.0

Point = tuple[float, float]


def draw_hanging(
    plan: ChartPlan,
    colours: Sequence[YarnColour],
    look: Look,
    width_mm: float,
    height_mm: float,
    placed: Sequence[PlacedPart] = (),
    mark_pt: float = 0.0,
    store: Store = NO_STORE,
) -> Figure:
    """The piece as large as a box allows, never over its true size, with the parts on it.

    `mark_pt`: the size of the numbers at the parts' places; 0: no numbers.
    """
    parts = tuple((one.picture.told, one.place) for one in placed)
    told = plan.digest, colours, look.key, width_mm, height_mm, parts, mark_pt

    def draw() -> Figure:
        return _draw(plan, colours, look, width_mm, height_mm, placed, mark_pt)

    return store.get(("hanging", *told), draw, Figure.weight)


def _draw(
    plan: ChartPlan,
    colours: Sequence[YarnColour],
    look: Look,
    width_mm: float,
    height_mm: float,
    placed: Sequence[PlacedPart],
    mark_pt: float,
) -> Figure:
    cord = next(colour for colour in colours if colour.letter == plan.piece.cords.colour)
    thick, dowel = cord.yarn.diameter_mm, plan.piece.mount.diameter_mm
    dowel_long = max(plan.dowel_length_mm, plan.width_mm)
    rise = min(_RISE * dowel_long, _MOST_RISE_MM)
    peg = max(1.3 * thick, 2.0)
    mount = dowel / 2 + 0.9 * thick
    wide = dowel_long + 0.5 * dowel
    beside, over = (wide - plan.width_mm) / 2, peg + rise + mount
    below = plan.height_mm + max(plan.fringe_mm, default=0.0) + 1.5
    alone = (-beside, -over, plan.width_mm + beside, below)
    box = around([alone, *(one.box_mm(plan) for one in placed)])
    discs = disc_places(placed, plan) if mark_pt else ()
    fit = _Fit.of(box, (width_mm, height_mm), discs, disc_reach_mm(mark_pt))
    scale = fit.scale

    # Everything is drawn for the piece alone, and moved by what stands out above and at the left.
    moved_x, moved_y = fit.at(-beside, -over)
    dowel_y = (peg + rise) * scale
    cloth = Cloth(
        plan,
        beside * scale,
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

    whole = FigureCanvas()
    canvas = whole
    if moved_x or moved_y:
        canvas = whole.group(transform=f"translate({number(moved_x)} {number(moved_y)})")
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
    return whole.figure(fit.width, fit.height)


@frozen
class _Fit:
    """The size of a drawn box (in mm about the first knot's corner), and the room that numbered
    discs take beyond its sides, on paper."""

    box: Box
    scale: float
    pads: Box = (0.0, 0.0, 0.0, 0.0)

    @classmethod
    def of(
        cls, box: Box, room: tuple[float, float], discs: Sequence[Point], reach_mm: float
    ) -> _Fit:
        """Return the largest fit for a room: a side that a disc stands out of gives room for all of
        one."""
        fit = cls(box, 0.0)
        while True:
            pads = fit.pads
            across = (room[0] - pads[0] - pads[2]) / (box[2] - box[0])
            down = (room[1] - pads[1] - pads[3]) / (box[3] - box[1])
            fit = cls(box, min(across, down, _LARGEST_SCALE), pads)
            if (pads := fit._needed(discs, reach_mm)) == fit.pads:
                return fit
            fit = cls(box, fit.scale, pads)

    def _needed(self, discs: Sequence[Point], reach_mm: float) -> Box:
        left, top, right, bottom = self.box
        apart = [(x - left, y - top, right - x, bottom - y) for x, y in discs]
        needed = [
            reach_mm if pad or any(one[side] * self.scale < reach_mm for one in apart) else 0.0
            for side, pad in enumerate(self.pads)
        ]
        return needed[0], needed[1], needed[2], needed[3]

    def at(self, x: float, y: float) -> Point:
        """A place on paper."""
        return (x - self.box[0]) * self.scale + self.pads[0], (y - self.box[1]) * self.scale + (
            self.pads[1]
        )

    @property
    def width(self) -> float:
        return (self.box[2] - self.box[0]) * self.scale + self.pads[0] + self.pads[2]

    @property
    def height(self) -> float:
        return (self.box[3] - self.box[1]) * self.scale + self.pads[1] + self.pads[3]
