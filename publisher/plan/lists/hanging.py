"""Turn a piece's width and fringe into the cords to mount, the dowel and the loop it hangs by."""

from __future__ import annotations

import math

from publisher.knots.defaults import defaults
from publisher.knots.lengths import straight
from publisher.knots.load import package_knot
from publisher.knots.measures import Head, Scaled
from publisher.model.pattern import ChartPiece, Fringe, Mount
from publisher.model.plan import CellSize, HangingCord
from publisher.plan.routing.yarns import round_up

TRIM_MM = 20.0
"""At the end of each tail, to cut the fringe level."""
CORD_STEP_MM = 5.0
DOWEL_SPARE_MM = 30.0
"""Of the dowel, at each side of the cords."""
LOOP_SLACK = 1.2
"""Loop / dowel length: a flat triangle."""
LOOP_TAIL_MM = 50.0


def fringe_lengths(fringe: Fringe, columns: int, pitch_mm: float) -> tuple[float, ...]:
    """Return what hangs below each column, from the left, in mm.

    Straight: the longest. Point: longest in the middle, shortest at both edges, linear. Arch:
    the reverse, along a circle's arc through the three (an ellipse's, where the drop is more
    than half the width, as a circle cannot be).
    """
    half = (columns - 1) / 2
    drop = fringe.longest_mm - fringe.shortest_mm
    lengths = []
    for column in range(columns):
        out = abs(column - half) / half if half else 0.0
        if fringe.shape == "straight":
            lengths.append(fringe.longest_mm)
        elif fringe.shape == "point":
            lengths.append(fringe.longest_mm - drop * out)
        else:
            lengths.append(fringe.shortest_mm + _arc(out, half * pitch_mm, drop))
    return tuple(lengths)


def _arc(out: float, half_mm: float, drop_mm: float) -> float:
    """Return how far an arc has dropped, `out` (0 to 1) of the way from its middle to its edge."""
    if half_mm == 0 or drop_mm == 0:
        return 0.0
    if drop_mm >= half_mm:
        return drop_mm * (1 - math.sqrt(1 - out * out))
    # radius - sqrt(radius² - distance²), written so that a small drop, and with it a vast radius,
    # loses no digits. `chords` is 2 x drop x radius.
    chords = half_mm * half_mm + drop_mm * drop_mm
    distance_mm = out * half_mm
    below = max(0.0, chords * chords - (2 * drop_mm * distance_mm) ** 2)
    return 2 * drop_mm * distance_mm * distance_mm / (chords + math.sqrt(below))


def hanging_cords(
    piece: ChartPiece, row_mm: float, fringe_mm: tuple[float, ...], cord_mm: float
) -> tuple[HangingCord, ...]:
    """The mounted cords from the left, as they are cut: folded, allowance in, rounded up. `row_mm`:
    the height of the rows that they are cut for.

    With one strand a column, a folded cord serves two columns and is cut for the longer; an odd
    last column has a cord to itself, with a leg to spare.
    """
    mount = _mounting(piece.mount, cord_mm)
    cloth = straight(piece.rows * row_mm)
    step = 1 if piece.cords.strands == 2 else 2
    cords = []
    for left in range(0, piece.columns, step):
        served = fringe_mm[left : left + step]
        length = mount + 2 * (cloth + max(served) + TRIM_MM)
        cut = round_up(length * (1 + piece.allowance_percent / 100), CORD_STEP_MM)
        columns = tuple(range(left + 1, left + 1 + len(served)))
        cords.append(HangingCord(columns, cut, max(served)))
    return tuple(cords)


def hanging_in_piece(
    piece: ChartPiece, cell: CellSize, fringe_mm: tuple[float, ...], cord_mm: float
) -> float:
    """Mounted cord left in the finished piece, its fringe cut level, in mm."""
    cloth = straight(piece.rows * cell.height_mm)
    mounts = math.ceil(piece.columns * piece.cords.strands / 2)
    legs = sum(cloth + fringe for fringe in fringe_mm) * piece.cords.strands
    return mounts * _mounting(piece.mount, cord_mm) + legs


def _mounting(mount: Mount, cord_mm: float) -> float:
    """Return what mounting takes of a folded cord, more than hanging straight."""
    return package_knot(mount.knot).formula(Head).mounting(mount.diameter_mm, cord_mm)


def dowel_length(width_mm: float) -> float:
    """A dowel that stands out at both sides, in whole centimetres."""
    return round_up(width_mm + 2 * DOWEL_SPARE_MM, 10.0)


def hanging_loop(dowel_mm: float, diameter_mm: float, cord_mm: float) -> float:
    """The cord that the dowel hangs by: a flat triangle, tied round each end."""
    knot = package_knot(defaults().cord_ends).formula(Scaled)
    tie = math.pi * (diameter_mm + cord_mm) + knot.extra(cord_mm) + LOOP_TAIL_MM
    return round_up(LOOP_SLACK * dowel_mm + 2 * tie, 50.0)
