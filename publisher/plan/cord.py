"""Turn cord diameters and the writer's swatch into the size of a chart's knot and its yarn.

Diameters and lengths in mm. What the swatch does not give is computed from the knot's model.
"""

from __future__ import annotations

from collections.abc import Iterable

from publisher.knots.defaults import defaults
from publisher.knots.lengths import NO_SWATCH
from publisher.knots.load import package_knot
from publisher.knots.measures import Hitch
from publisher.model.pattern import Gauge
from publisher.model.plan import CellSize, RowHeights


def chart_hitch(knot: str = "") -> Hitch:
    """The formula of a chart's knot; of the one that charts usually have."""
    return package_knot(knot or defaults().chart).formula(Hitch)


def cell_size(
    gauge: Gauge, hitch: Hitch, strands: int, cord_mm: float, yarns_mm: Iterable[float]
) -> CellSize:
    """Column pitch and row height: from the swatch, else from the thickest working yarn."""
    thickest = max(yarns_mm)
    width = NO_SWATCH.size(hitch.width_mm(strands, cord_mm, thickest))
    height = NO_SWATCH.size(hitch.height * thickest)
    measured = 0
    if gauge.columns and gauge.width_mm:
        width, measured = gauge.width_mm / gauge.columns, measured + 1
    if gauge.rows and gauge.height_mm:
        height, measured = gauge.height_mm / gauge.rows, measured + 1
    return CellSize(width, height, measured == 2)


def row_heights(gauge: Gauge, hitch: Hitch, yarns_mm: Iterable[float]) -> RowHeights | None:
    """Return how high rows of the thickest working yarn may come out; None where the swatch tells.

    Hanging cords are cut for rows of hard cord, without the size factor: they can't be joined, so
    they must suffice in the stiffest yarn. In a softer one more is left to trim.
    """
    if gauge.rows and gauge.height_mm:
        return None
    thickest = max(yarns_mm)
    heights = hitch.least_height, hitch.height, hitch.most_height
    return RowHeights(*(times * thickest for times in heights))


def knot_yarn(gauge: Gauge, hitch: Hitch, strands: int, cord_mm: float, working_mm: float) -> float:
    """Yarn that one knot of the chart takes, the way to the next one included, in mm."""
    return gauge.yarn_mm_per_knot or NO_SWATCH.length(hitch.in_a_row(strands, cord_mm, working_mm))
