"""Say what each colour would cost in each cell of a chart: how far it is off the picture there."""

from __future__ import annotations

import numpy as np

from publisher.charting.oklab import oklab
from publisher.charting.palette import distances
from publisher.charting.values import Floats

_DETAIL = 0.85
"""How much a cell listens to its samples one by one, against their mean."""
_STANDS_OUT = 5.0
"""Samples this much off their surroundings count twice as much as those that are not at all."""
_ROWS = 64


def cell_costs(light: Floats, fine: int, colours: Floats) -> Floats:
    """Rows by columns by colours: distances in OKLab, a metric for each cell.

    `light`: linear light of `fine` by `fine` samples a cell. A part is the distance from the
    cell's mean; the rest, the mean of its samples' distances, in which those that stand out from
    their surroundings weigh more: a line thinner than a cell is not washed out (after the weights
    of Weber, Waechter, Amend, Guthe and Goesele 2016).
    """
    down, across = light.shape[0] // fine, light.shape[1] // fine
    costs = np.empty((down, across, len(colours)), np.float32)
    own = colours.astype(np.float32)
    for top in range(0, down, _ROWS):
        # One row of cells more on either side, for what surrounds those at the edge.
        above, below = max(0, top - 1), min(down, top + _ROWS + 1)
        rows = light[above * fine : below * fine]
        blocks = rows.reshape(-1, fine, across, fine, 3).swapaxes(1, 2)
        found = _costs(blocks.reshape(-1, across, fine * fine, 3), own)
        costs[top : top + _ROWS] = found[top - above :][:_ROWS]
    return costs


def _costs(blocks: Floats, colours: Floats) -> Floats:
    """Of samples (rows, columns, samples a cell, channels)."""
    of_mean = distances(oklab(blocks.mean(2)), colours)
    if blocks.shape[2] == 1:
        return of_mean
    samples = oklab(blocks)
    surroundings = _around(samples.mean(2))[:, :, None]
    off = np.sqrt(((samples - surroundings) ** 2).sum(-1))
    weights = 1 + off / _STANDS_OUT
    weights /= weights.sum(2, keepdims=True)
    of_samples = (distances(samples, colours) * weights[..., None]).sum(2)
    both: Floats = (1 - _DETAIL) * of_mean + _DETAIL * of_samples
    return both


def _around(cells: Floats) -> Floats:
    """Each cell's mean with the eight around it; at an edge, with those that are there."""
    rows, columns = cells.shape[:2]
    edged = np.pad(cells, ((1, 1), (1, 1), (0, 0)), mode="edge")
    parts = [edged[d : d + rows, a : a + columns] for d in range(3) for a in range(3)]
    total: Floats = sum(parts[1:], start=parts[0]) / len(parts)
    return total
