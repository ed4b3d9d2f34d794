"""Say what each colour would cost in each cell of a chart: how far it is off the picture there."""

from __future__ import annotations

import numpy as np

from publisher.charting.oklab import oklab
from publisher.charting.palette import distances
from publisher.charting.values import Floats

_DETAIL = 0.85
"""How much a cell listens to its samples one by one, against their mean."""
_STANDS_OUT = 6.0
"""Samples this much off their surroundings count twice as much as those that are not at all."""
_ROOT = 0.8
_USUAL = 20.0
"""A distance that the root leaves as it is."""
_ROWS = 64


def cell_costs(light: Floats, fine: int, colours: Floats) -> Floats:
    """Rows by columns by colours: distances in OKLab, a metric for each cell.

    `light`: linear light of `fine` by `fine` samples a cell. A part is the distance from the
    cell's mean; the rest, the mean of its samples' distances, in which those that stand out from
    their surroundings weigh more: a line thinner than a cell is not washed out (in the manner of
    Weber, Waechter, Amend, Guthe and Goesele 2016).
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
    weights = 1 + _off(samples, samples.mean(2)) / _STANDS_OUT
    weights /= weights.sum(2, keepdims=True)
    # The root makes one of two colours that meet in a cell cheaper than one between them.
    apart = distances(samples, colours) ** _ROOT * _USUAL ** (1 - _ROOT)
    of_samples = (apart * weights[..., None]).sum(2)
    both: Floats = (1 - _DETAIL) * of_mean + _DETAIL * of_samples
    return both


def _off(samples: Floats, means: Floats) -> Floats:
    """Return how far each sample is off the nearest of the means of its cell and the eight around.

    So a corner of a large area does not stand out, as a cell beside it has its colour; what is
    thinner than a cell does.
    """
    rows, columns = means.shape[:2]
    edged = np.pad(means, ((1, 1), (1, 1), (0, 0)), mode="edge")
    squares = np.full(samples.shape[:3], np.inf, samples.dtype)
    for down in range(3):
        for along in range(3):
            mean = edged[down : down + rows, along : along + columns, None]
            np.minimum(squares, ((samples - mean) ** 2).sum(-1), out=squares)
    return np.sqrt(squares)
