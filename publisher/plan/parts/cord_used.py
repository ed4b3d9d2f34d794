"""How much cord the knots of small parts take, cord by cord, and how large they are.

Diameters and lengths in mm, from the formulae of `publisher.knots.lengths`; where it says
estimate, no model was computed.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from publisher.frozen import frozen
from publisher.knots import lengths

if TYPE_CHECKING:
    from publisher.knots.tied import Tied

HITCH_STEP = 3.0
"""Along the leader from one hitch to the next, in cord diameters."""
SLOPE = math.radians(45)
"""How steeply a leader is led down in diagonal and gathering hitches."""


@frozen
class Taken:
    """The cord that a knot takes of each cord, in the order given, and the knot's size."""

    cords_mm: tuple[float, ...]
    height_mm: float
    width_mm: float
    depth_mm: float


_Knot = Callable[[Sequence[float]], Taken]


def tied(knot: str, diameters: Sequence[float]) -> Taken:
    """A knot of ours on cords side by side, from the left."""
    return _KNOTS[knot](diameters)


def tied_own(knot: Tied, diameters: Sequence[float]) -> Taken:
    """A knot of the writer's own, as measured in its drawing, in cords as thick as the thickest."""
    thick = max(diameters)
    cords = tuple(length * thick for length in knot.taken)
    return Taken(cords, knot.height * thick, knot.width * thick, knot.depth * thick)


def hitch_height(core: int, core_mm: float, working_mm: float) -> float:
    """Return how thick a row of hitches is, across its leader."""
    return lengths.hitch_size(1, lengths.bundle_diameter(core) * core_mm, working_mm).width_mm


def _square(diameters: Sequence[float]) -> Taken:
    first, *fillers, last = diameters
    count, core = len(fillers), max(fillers)
    size = lengths.square_knot_size(count, core, max(first, last))
    knotting = [lengths.square_knot(count, core, diameter) for diameter in (first, last)]
    return Taken(
        (knotting[0], *(size.height_mm for _ in fillers), knotting[1]),
        size.height_mm,
        size.width_mm,
        size.depth_mm,
    )


def _half(diameters: Sequence[float]) -> Taken:
    whole = _square(diameters)
    cords = tuple(length / 2 for length in whole.cords_mm)
    return Taken(cords, whole.height_mm / 2, whole.width_mm, whole.depth_mm)


def _overhand(length: Callable[[float], float], tall: float) -> _Knot:
    def knot(diameters: Sequence[float]) -> Taken:
        thick = lengths.bundle_diameter(len(diameters)) * max(diameters)
        size = lengths.overhand_size(thick)
        height_mm = tall * size.height_mm
        cords = tuple(length(thick) + height_mm for _ in diameters)
        return Taken(cords, height_mm, size.width_mm, size.depth_mm)

    return knot


def _reef(diameters: Sequence[float]) -> Taken:
    """Both ends from where they come in to where they go out; the size is an estimate."""
    thick = max(diameters)
    each = lengths.pair_tied_end(thick)
    return Taken((each, each), 4.0 * thick, 4.0 * thick, 3.0 * thick)


def _berry(diameters: Sequence[float]) -> Taken:
    """Three square knots rolled up to a ball and locked by a fourth; the size is an estimate."""
    square = _square(diameters)
    thick = max(diameters)
    knotting, filler = lengths.berry_knot(max(diameters[1:-1]), max(diameters[0], diameters[-1]))
    filler += square.height_mm
    return Taken(
        (knotting, filler, filler, knotting),
        6.0 * thick + square.height_mm,
        square.width_mm + 1.2 * thick,
        6.0 * thick,
    )


_KNOTS: dict[str, _Knot] = {
    "overhand": _overhand(lengths.overhand, 1.0),
    "overhand-extra-turn": _overhand(lengths.overhand_extra_turn, 1.9),
    "pair-tied-double-knot": _reef,
    "half-knot": _half,
    "square-knot": _square,
    "berry-knot": _berry,
}
