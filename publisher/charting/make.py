"""Turn a picture into a chart: sample it, choose colours, match each cell, tidy."""

from __future__ import annotations

from publisher.charting.matching import cell_costs
from publisher.charting.oklab import lab_of
from publisher.charting.palette import choose_colours
from publisher.charting.sampling import take_samples
from publisher.charting.tidy import nearest, single_knots, tidy, without_singles
from publisher.charting.values import (
    MOST_COUNTED,
    Choice,
    Drawing,
    DrawnChart,
    Labels,
    Pixels,
)

_FINE = ((40_000, 6), (160_000, 3))
"""Samples along each side of a cell, in charts of up to so many cells; in larger ones, one."""
_OPAQUE = 1 - 1e-6


def draw_chart(picture: Pixels, columns: int, rows: int, choice: Choice) -> DrawnChart | None:
    """A chart of the picture; None if all of it is see-through."""
    fine = next((fine for cells, fine in _FINE if columns * rows <= cells), 1)
    samples = take_samples(picture, columns * fine, rows * fine)
    if not samples.opacity:
        return None
    colours = choose_colours(samples, choice)
    costs = cell_costs(samples.light, fine, lab_of(colours))
    untidied = nearest(costs)
    ever_tidier = [untidied, tidy(untidied, costs)]
    if columns * rows <= MOST_COUNTED:  # tidied a little, too: which one is taken, yarns decide
        ever_tidier.insert(1, without_singles(untidied, costs))
    drawings = tuple(_drawing(cells) for cells in ever_tidier)
    return DrawnChart(colours, drawings, samples.opacity < _OPAQUE)


def _drawing(cells: Labels) -> Drawing:
    return Drawing(tuple(map(tuple, cells.tolist())), single_knots(cells))
