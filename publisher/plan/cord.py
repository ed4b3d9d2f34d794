"""Turn cord diameters and the writer's swatch into a knot's size and the cord that it takes.

Diameters and lengths in mm. The formulae are those of a relaxed model of round, hard cord; they
are approximate until a knotted swatch corrects them.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from publisher.plan.values import CellSize
from publisher.source.pattern import Gauge

SIZE_FACTOR = 0.9
"""Measured / model: soft cord is squeezed. A guess, until there is a swatch."""
TAKE_UP = 1.03
"""Length of a filler / length of the cloth that it hangs in."""
ROUND_FILLERS = (0.0, 0.0, 2.0, 3.0, 4.0, 5.0, 5.7, 6.0)
"""What 0 to 7 fillers add to the way round them, in filler diameters."""


def way_round(fillers: int, filler_mm: float, working_mm: float) -> float:
    """The way once round 1 to 7 fillers, in mm, along the working cord's axis."""
    return math.pi * (filler_mm + working_mm) + ROUND_FILLERS[fillers] * filler_mm


def hitch_yarn(fillers: int, filler_mm: float, working_mm: float) -> float:
    """Cord that one double half hitch takes, the way on to the next cord included, in mm."""
    return 2 * way_round(fillers, filler_mm, working_mm) + 6.65 * working_mm


def mount_cord(dowel_mm: float, cord_mm: float) -> float:
    """Cord that a lark's head takes, both legs together, from the dowel's axis, in mm."""
    return 5.25 * dowel_mm + 10 * cord_mm


def overhand_cord(cord_mm: float) -> float:
    """Cord that an overhand knot takes, in mm."""
    return 10.1 * cord_mm


def cell_size(gauge: Gauge, strands: int, cord_mm: float, yarns_mm: Iterable[float]) -> CellSize:
    """Column pitch and row height: from the swatch, else from the thickest working yarn."""
    thickest = max(yarns_mm)
    width = SIZE_FACTOR * (strands * cord_mm + 2.2 * thickest)
    height = SIZE_FACTOR * 3.0 * thickest
    measured = 0
    if gauge.columns and gauge.width_mm:
        width, measured = gauge.width_mm / gauge.columns, measured + 1
    if gauge.rows and gauge.height_mm:
        height, measured = gauge.height_mm / gauge.rows, measured + 1
    return CellSize(width, height, measured == 2)


def knot_yarn(gauge: Gauge, strands: int, cord_mm: float, working_mm: float) -> float:
    """Yarn that one knot of the chart takes: from the swatch, else computed, in mm."""
    return gauge.yarn_mm_per_knot or hitch_yarn(strands, cord_mm, working_mm)
