"""Weigh an untidy chart against its picture, and give small patches a neighbour's colour."""

from __future__ import annotations

import numpy as np

from publisher.charting.values import Floats, Labels
from publisher.frozen import frozen

MOST_CELLS = 8
"""Larger patches are worth a yarn."""
_AROUND = np.ones((3, 3), np.int8)


def recolour_patches(
    cells: Labels, costs: Floats, neatness: Neatness, most_cells: int = MOST_CELLS
) -> int:
    """Change `cells` patch by patch, the smallest first; how many patches were changed."""
    changed = 0
    for patch in _small_patches(cells, most_cells):
        changed += _recolour(cells, costs, neatness, patch)
    return changed


def _small_patches(cells: Labels, most_cells: int) -> list[Labels]:
    """Cells (row, column) of each small patch: of one colour, together by side or corner."""
    from scipy import ndimage

    patches: list[Labels] = []
    for colour in np.unique(cells):
        numbers, count = ndimage.label(cells == colour, structure=_AROUND)
        sizes = np.bincount(numbers.ravel(), minlength=count + 1)
        small = (sizes <= most_cells)[numbers] & (numbers > 0)
        places = np.argwhere(small)
        of = numbers[small]
        order = np.argsort(of, kind="stable")
        ends = np.flatnonzero(np.diff(of[order])) + 1
        patches += np.split(places[order], ends) if len(order) else []
    return sorted(patches, key=lambda patch: (len(patch), *map(int, patch[0])))


def _recolour(cells: Labels, costs: Floats, neatness: Neatness, patch: Labels) -> int:
    """1 if it was better in another colour, and has it now."""
    rows, columns = patch[:, 0], patch[:, 1]
    own = cells[rows[0], columns[0]]
    border = _border(cells, patch, neatness)
    if (cells[rows, columns] != own).any() or own in border:
        return 0  # changed, or grown together with another, since it was found
    all_round = sum(border.values())
    mine = costs[rows, columns].sum(0)
    gains = {
        colour: mine[own] + all_round + neatness.patch - (mine[colour] + all_round - shared)
        for colour, shared in sorted(border.items())
    }
    best = max(gains, key=gains.__getitem__, default=own)
    if best == own or gains[best] <= 0:
        return 0
    cells[rows, columns] = best
    return 1


def _border(cells: Labels, patch: Labels, neatness: Neatness) -> dict[int, float]:
    """Return what the patch's neighbourhood with each colour round it costs."""
    inside = {(int(row), int(column)) for row, column in patch}
    height, width = cells.shape
    border: dict[int, float] = {}
    for row, column in sorted(inside):
        for down, along in NEIGHBOURS:
            place = row + down, column + along
            if place not in inside and 0 <= place[0] < height and 0 <= place[1] < width:
                colour = int(cells[place])
                border[colour] = border.get(colour, 0.0) + neatness.of((down, along))
    return border


NEIGHBOURS = ((-1, -1), (-1, 0), (-1, 1), (0, -1), (0, 1), (1, -1), (1, 0), (1, 1))
"""Steps to the cells around one: down, along."""


@frozen
class Neatness:
    """The price of untidiness, in OKLab distance (black to white is 100)."""

    beside: float
    """Neighbours in a row of two colours: the yarn is changed there."""
    above: float
    across: float
    """Neighbours by a corner."""
    patch: float
    """Cells of one colour that hang together: a yarn of their own, with two ends."""

    def of(self, step: tuple[int, int]) -> float:
        """Of two colours so many rows and columns apart."""
        down, along = step
        return self.beside if not down else self.across if along else self.above


USUAL = Neatness(beside=1.2, above=0.9, across=0.5, patch=16.0)
