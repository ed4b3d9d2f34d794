"""How far a finished piece reaches: with its fringe or its ends, and the parts fastened on it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from publisher.model.part_plan import Placement, StepsPlan
from publisher.model.plan import ChartPlan, PiecePlan, Plan

Box = tuple[float, float, float, float]
"""Left, top, right and bottom."""


def finished_size(plan: Plan, piece: PiecePlan) -> tuple[float, float]:
    """Return the width and height of a finished piece in mm, its fringe or its ends included, and
    what of its parts stands out beyond it; without its dowel or bar."""
    if not isinstance(piece, ChartPlan):
        return piece.width_mm, piece.height_mm + piece.ends_mm
    whole = (0.0, 0.0, piece.width_mm, piece.height_mm + max(piece.fringe_mm))
    left, top, right, bottom = around([whole, *_parts_on(plan, piece)])
    return right - left, bottom - top


def _parts_on(plan: Plan, chart: ChartPlan) -> Iterator[Box]:
    """The box of each part on a chart, in mm from the corner where row 1 and cord 1 begin."""
    parts = {part.id: part for part in plan.parts}
    for step in plan.assembly:
        place, part = step.placement, parts.get(step.piece)
        if part and place and place.piece == chart.id and place.row and place.cord:
            x, y = middle_mm(place, chart)
            left, top, right, bottom = turned(_part_box(part, place), place.turn_degrees)
            yield x + left, y + top, x + right, y + bottom


def middle_mm(place: Placement, chart: ChartPlan) -> tuple[float, float]:
    """Return the middle of a place's cell in mm from the corner where row 1 and cord 1 begin."""
    cell = chart.cell
    return ((place.cord or 1) - 0.5) * cell.width_mm, ((place.row or 1) - 0.5) * cell.height_mm


def _part_box(part: StepsPlan, place: Placement) -> Box:
    """A part about the place that it is fastened at: it stands on its tails, which are behind the
    piece, or hangs by its top."""
    half = part.width_mm / 2
    if place.hold == "tails":
        return -half, -part.height_mm, half, 0.0
    return -half, 0.0, half, part.height_mm + part.ends_mm


def turned(box: Box, degrees: float) -> Box:
    """Return the box around a box that is turned clockwise about the origin (y runs down)."""
    left, top, right, bottom = box
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    corners = [(x * cos - y * sin, x * sin + y * cos) for x in (left, right) for y in (top, bottom)]
    return around((x, y, x, y) for x, y in corners)


def around(boxes: Iterable[Box]) -> Box:
    """Return the box around all of some boxes."""
    lefts, tops, rights, bottoms = zip(*boxes, strict=True)
    return min(lefts), min(tops), max(rights), max(bottoms)
