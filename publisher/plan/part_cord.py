"""How much cord the knots of small parts take, and how large they are.

Diameters and lengths in mm. The formulae are those of a relaxed model of round, hard cord, in
cord diameters; where it says estimate, no model was computed.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from publisher.plan.cord import hitch_yarn, way_round

BUNDLE = (0.0, 1.0, 2.0, 2.155, 2.414, 2.701, 3.0, 3.0, 3.304, 3.613, 3.813, 3.924, 4.03)
"""The circle round 0 to 12 equal circles, in their diameters (circles packed in a circle)."""
HITCH_STEP = 3.0
"""Along the leader from one hitch to the next, in cord diameters."""
SLOPE = math.radians(45)
"""How steeply a leader is led down in diagonal and gathering hitches."""


@dataclass(frozen=True, slots=True)
class Taken:
    """What a knot takes of each cord, in the order given, and its size."""

    cords_mm: tuple[float, ...]
    height_mm: float
    width_mm: float
    depth_mm: float


_Knot = Callable[[Sequence[float]], Taken]


def bundle(cords: int) -> float:
    """The diameter of so many cords held together, in cord diameters."""
    if cords < len(BUNDLE):
        return BUNDLE[cords]
    return BUNDLE[-1] * math.sqrt(cords / (len(BUNDLE) - 1))


def way_round_bundle(cords: int, core_mm: float, working_mm: float) -> float:
    """The way once round any number of cords."""
    if cords <= 7:
        return way_round(cords, core_mm, working_mm)
    return math.pi * (working_mm + bundle(cords) * core_mm)


def tied(knot: str, diameters: Sequence[float]) -> Taken:
    """A knot on cords side by side, from the left."""
    return _KNOTS[knot](diameters)


def hitched(core: int, core_mm: float, working_mm: float) -> float:
    """Cord that a double half hitch round so many cords takes."""
    if core <= 7:
        return hitch_yarn(core, core_mm, working_mm)
    return 2 * way_round_bundle(core, core_mm, working_mm) + 6.65 * working_mm


def hitch_height(core: int, core_mm: float, working_mm: float) -> float:
    """How thick a row of hitches is, across its leader."""
    return bundle(core) * core_mm + 2.2 * working_mm


def wrapped(cords: int, core_mm: float, working_mm: float, turns: int) -> float:
    """Cord that a wrapping knot takes, without its tails."""
    around = math.pi * (bundle(cords) * core_mm + working_mm)
    return turns * math.hypot(around, working_mm) + 2 * turns * working_mm


def _square(diameters: Sequence[float]) -> Taken:
    first, *fillers, last = diameters
    core = max(fillers)
    thick = max(first, last)
    height = 4.0 * thick

    def knotting(diameter: float) -> float:
        return way_round(len(fillers), core, diameter) + 8.75 * diameter

    return Taken(
        (knotting(first), *(height for _ in fillers), knotting(last)),
        height,
        len(fillers) * core + 3.8 * thick,
        3.0 * thick,
    )


def _half(diameters: Sequence[float]) -> Taken:
    whole = _square(diameters)
    cords = tuple(length / 2 for length in whole.cords_mm)
    return Taken(cords, whole.height_mm / 2, whole.width_mm, whole.depth_mm)


def _overhand(turns: float, tall: float) -> _Knot:
    def knot(diameters: Sequence[float]) -> Taken:
        thick = bundle(len(diameters)) * max(diameters)
        cords = tuple(turns * thick for _ in diameters)
        return Taken(cords, tall * thick, 2.9 * thick, 3.2 * thick)

    return knot


def _reef(diameters: Sequence[float]) -> Taken:
    thick = max(diameters)
    return Taken(tuple(8.7 * thick for _ in diameters), 4.0 * thick, 4.0 * thick, 3.0 * thick)


def _berry(diameters: Sequence[float]) -> Taken:
    """Three square knots rolled up to a ball and locked by a fourth; the size is an estimate."""
    square = _square(diameters)
    thick = max(diameters)
    first, *fillers, last = square.cords_mm
    rolled = 3 * 3 * square.height_mm + 6 * thick
    return Taken(
        (4 * first, *(rolled + filler for filler in fillers), 4 * last),
        6.0 * thick + square.height_mm,
        square.width_mm + 1.2 * thick,
        6.0 * thick,
    )


_KNOTS: dict[str, _Knot] = {
    "overhand": _overhand(10.1, 3.4),
    "overhand-extra-turn": _overhand(17.4, 4.6),  # its height: an estimate
    "pair-tied-double-knot": _reef,
    "half-knot": _half,
    "square-knot": _square,
    "berry-knot": _berry,
}
