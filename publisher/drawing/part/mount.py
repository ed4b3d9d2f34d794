"""Lay out how a part begins: cords laid across, lark's heads on them or on a bar, single cords."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from publisher.drawing.part.body import lark_legs, moved
from publisher.drawing.part.lay import SNUG, THINNEST, Lay
from publisher.knots import Knot
from publisher.knots.curve import Point
from publisher.model.part_plan import Leg, PartCordPlan, StepsPlan

HEAD = 3.7
"""From one lark's head to the next."""
THICKEST_BAR = 3.0
_ABOVE = 2.5

Knots = Callable[[str], Knot]


def lay_mount(part: StepsPlan, lay: Lay, knots: Knots) -> None:
    """Mount the cords that are there before the first step, their middle at x = 0."""
    lay.order = list(part.order)
    first = [cord for cord in part.cords if cord.step == 0]
    blocks = [cord for cord in first if cord.on is None]
    widths = [_width(block, first) for block in blocks]
    x = -sum(widths) / 2
    bars = []
    radius = _bar_radius(part, lay)
    for block, width in zip(blocks, widths, strict=True):
        if block.lay == "single":
            middle = x + width / 2
            lay.begin(Leg(block.number, "only"), [Point(middle, -_ABOVE, 0, 90)])
            lay.drop_to(Leg(block.number, "only"), middle, 0)
        elif block.lay == "folded":
            _head(block, lay, knots, x + width / 2, radius)
            bars.append(x + width / 2)
        else:
            _across(block, first, lay, knots, x, width)
        x += width
    if bars:
        lay.bar = (Point(min(bars) - 3.4, 0, 0), Point(max(bars) + 3.4, 0, 0))
        lay.bar_thick = 2 * radius


def _bar_radius(part: StepsPlan, lay: Lay) -> float:
    """The bar's radius in the drawing's unit, the cord's diameter, which `lay.thick` is in too."""
    if part.piece.bar is None:
        return 0.5
    return min(THICKEST_BAR, max(THINNEST, part.piece.bar.diameter_mm / lay.unit_mm)) / 2


def _width(block: PartCordPlan, cords: Sequence[PartCordPlan]) -> float:
    if block.lay == "single":
        return 2 * SNUG
    heads = [cord for cord in cords if cord.on == block.number]
    return HEAD if block.lay == "folded" else HEAD * max(1, len(heads)) + 2.4


def _head(cord: PartCordPlan, lay: Lay, knots: Knots, x: float, radius: float) -> None:
    left, right = lark_legs(knots(cord.knot), radius)
    for leg, way in ((Leg(cord.number, "left"), left), (Leg(cord.number, "right"), right)):
        lay.begin(leg, moved(way, x, 0))
        lay.drop_to(leg, lay.at(leg).x, lay.at(leg).y + 0.8)


def _across(
    cord: PartCordPlan,
    cords: Sequence[PartCordPlan],
    lay: Lay,
    knots: Knots,
    x: float,
    width: float,
) -> None:
    """A cord across, what hangs on it, and its two halves bent down beside that."""
    middle = x + width / 2
    for side, way in (("left", -1), ("right", 1)):
        leg = Leg(cord.number, "left" if side == "left" else "right")
        reach = width / 2 - 0.2
        lay.begin(
            leg,
            [
                Point(middle, 0, 0, 90 - 90 * way),
                Point(middle + way * (reach - 1.6), 0, 0, 90 - 90 * way),
                Point(middle + way * reach, 1.6, 0, 90),
            ],
        )
    heads = [other for other in cords if other.on == cord.number]
    for index, other in enumerate(heads):
        _head(other, lay, knots, middle + (index - (len(heads) - 1) / 2) * HEAD, 0.5)
