"""Tidy a chart of stray knots, where that costs least against the picture.

A Potts model (Potts 1952): a cell costs what its colour is off the picture, neighbours of two
colours cost something each, and a patch of cells that hang together costs a start and an end of
yarn. It is brought down by iterated conditional modes (Besag 1986), cell by cell, and by giving
small patches a neighbour's colour. Costs are distances, so that a tidied chart, taken for a
picture, stays as it is: no change has become cheaper.
"""

from __future__ import annotations

from itertools import product
from typing import Any

import numpy as np
from numpy.typing import NDArray

from publisher.charting.patches import NEIGHBOURS, USUAL, Neatness, recolour_patches
from publisher.charting.values import Floats, Labels

_ROUNDS = 8
_SWEEPS = 12
"""Bounds: each change lowers the cost, so it ends by itself; seldom after more than three."""
_REACH = 2
"""A cell's best colour hangs on its neighbours, and whether those are single on theirs."""
_CLEAR = 1e-4
"""By less than this nothing is better."""
_OUTSIDE = -1
"""Stands for the colour of what is round the chart."""


def _groups() -> NDArray[np.float32]:
    """For each pattern of like neighbours, a bit each: how many patches may fall apart here."""
    from scipy import ndimage

    found = np.zeros(256, np.float32)
    for pattern in range(1, 256):
        ring = np.zeros((3, 3), np.int8)
        for bit, (down, along) in enumerate(NEIGHBOURS):
            ring[1 + down, 1 + along] = pattern >> bit & 1
        found[pattern] = ndimage.label(ring, structure=np.ones((3, 3)))[1] - 1
    return found


_BITS = 1 << np.arange(8)
_GROUPS = _groups()


def nearest(costs: Floats) -> Labels:
    """Each cell's cheapest colour."""
    cells: Labels = np.argmin(costs, axis=2)
    return cells


def single_knots(cells: Labels) -> int:
    """Return how many cells are unlike all the eight around them."""
    return int((_like(cells) == 0).sum())


def without_singles(cells: Labels, costs: Floats, neatness: Neatness = USUAL) -> Labels:
    """The chart with single knots in a neighbour's colour, where that is cheaper, and no more."""
    cells = cells.copy()
    recolour_patches(cells, costs, neatness, most_cells=1)
    return cells


def tidy(cells: Labels, costs: Floats, neatness: Neatness = USUAL) -> Labels:
    """The chart with fewer stray knots, smaller patches and smoother edges; never more singles."""
    cells = cells.copy()
    for _ in range(_ROUNDS):
        changed = _settle(cells, costs, neatness)
        changed += recolour_patches(cells, costs, neatness)
        if not changed:
            break
    return cells


def _like(cells: Labels) -> NDArray[np.int8]:
    """Return how many of a cell's eight neighbours are like it."""
    edged = np.pad(cells, 1, constant_values=_OUTSIDE)
    rows, columns = cells.shape
    like = np.zeros(cells.shape, np.int8)
    for down, along in NEIGHBOURS:
        like += edged[1 + down : 1 + down + rows, 1 + along : 1 + along + columns] == cells
    return like


def _settle(cells: Labels, costs: Floats, neatness: Neatness) -> int:
    """Give each cell its best colour in view of its neighbours, till all have it."""
    total = 0
    doubtful = np.ones(cells.shape, np.bool_)
    for _ in range(_SWEEPS):
        changed = sum(
            _settle_some(cells, costs, neatness, doubtful, (down, along))
            for down in range(3)
            for along in range(3)
        )
        total += changed
        if not changed:
            break
    return total


def _settle_some(
    cells: Labels,
    costs: Floats,
    neatness: Neatness,
    doubtful: NDArray[np.bool_],
    first: tuple[int, int],
) -> int:
    """Every third cell of every third row, all at once: none is in another's reach.

    `doubtful`: what has to be looked at, as something in its reach has changed.
    """
    edged = np.pad(cells, 1, constant_values=_OUTSIDE)
    places = 3 * np.argwhere(doubtful[first[0] :: 3, first[1] :: 3]).T + np.array(first)[:, None]
    doubtful[tuple(places)] = False
    own, around = cells[tuple(places)], _ring(edged, places)
    mixed = ((around != own[:, None]) & (around != _OUTSIDE)).any(1)
    places, own, around = places[:, mixed], own[mixed], around[mixed]
    every = np.arange(costs.shape[2])
    inside, mine = (around != _OUTSIDE)[:, :, None], around == own[:, None]
    same = around[:, :, None] == every
    weights = np.array([neatness.of(step) for step in NEIGHBOURS], np.float32)
    energy = costs[tuple(places)] + (weights[:, None] * (inside & ~same)).sum(1)
    # Single knots with each colour: neighbours that nothing else is like, and the cell itself.
    like = _ring(np.pad(_like(cells), 1, constant_values=len(NEIGHBOURS)), places)
    left_single = ((like - mine)[:, :, None] + same == 0) & inside
    singles = left_single.sum(1) + (same.sum(1) == 0)
    energy += neatness.patch * singles
    at = np.arange(len(own))
    now = energy[at, own] - neatness.patch * _GROUPS[mine @ _BITS]
    energy[singles > singles[at, own][:, None]] = np.inf
    best = np.argmin(energy, axis=1)
    better = energy[at, best] < now - _CLEAR
    rows, columns = places[:, better]
    cells[rows, columns] = best[better]
    for down, along in product(range(-_REACH, _REACH + 1), repeat=2):
        doubtful[
            np.clip(rows + down, 0, len(cells) - 1), np.clip(columns + along, 0, cells.shape[1] - 1)
        ] = True
    return int(better.sum())


def _ring(edged: NDArray[Any], places: Labels) -> NDArray[Any]:
    """Return what stands round each place, in the order of the neighbours."""
    rows, columns = places + 1
    return np.stack([edged[rows + down, columns + along] for down, along in NEIGHBOURS], axis=1)
