"""Lengths that the formulae of all knots share: bundles, the way round fillers, straight ways, and
what a swatch makes of a model's figures.

Diameters and lengths in mm; d is the diameter of the working cord, df that of one filler.
"""

from __future__ import annotations

import math

from publisher.frozen import frozen

TAKE_UP = 1.03
"""Length of a filler or leader, over that of the cloth it runs through (1 to 8 %)."""
_ROUND_FILLERS = (0.0, 0.0, 2.0, 3.0, 4.0, 5.0, 5.7, 6.0)
"""Hull of 0 to 7 equal circles as they lie, less that of one: in filler diameters."""
_BUNDLES = {8: 3.3, 9: 3.61, 10: 3.81, 12: 4.03, 19: 4.86}
"""Smallest circle round so many equal circles, in their diameters (packings of equal circles in
a circle; 7: 3.0, 19: 4.86)."""


@frozen
class Swatch:
    """A swatch: what the writer's soft cord takes, against the hard cord of the models.

    `length_factor` is cord used over cord computed: 1.0 without a swatch, that of hard cord, which
    is more than thick soft cord takes, and less than thin cord may. `size_factor` is size measured
    over size computed: 0.9 without a swatch, a guess.
    """

    length_factor: float = 1.0
    size_factor: float = 0.9

    def length(self, model_mm: float) -> float:
        """Cord that is used, in mm."""
        return model_mm * self.length_factor

    def size(self, model_mm: float) -> float:
        """A width, height or depth in knotted cord, in mm."""
        return model_mm * self.size_factor


NO_SWATCH = Swatch()


def bundle_diameter(strands: int) -> float:
    """The circle round a bundle of 1 to 19 equal cords, in their diameters; between the known
    packings, that of the next larger one.
    """
    if strands <= 3:
        return (1.0, 2.0, 1 + 2 / math.sqrt(3))[strands - 1]
    if strands <= 7:
        return (1 + math.sqrt(2), 1 + math.sqrt(2 * (1 + 1 / math.sqrt(5))), 3.0, 3.0)[strands - 4]
    return next(size for count, size in _BUNDLES.items() if count >= strands)


def way_round(fillers: int, filler_mm: float, working_mm: float) -> float:
    """P, the way once round 1 to 19 fillers along the working cord's axis, in mm.

    P = pi (df + d) + H, H = 0, 2, 3, 4, 5, 5.7, 6 df for 1 to 7 fillers; above that
    P = pi (d + Db), Db the diameter of the bundle.
    """
    if fillers < len(_ROUND_FILLERS):
        return math.pi * (filler_mm + working_mm) + _ROUND_FILLERS[fillers] * filler_mm
    return math.pi * (working_mm + bundle_diameter(fillers) * filler_mm)


def straight(length_mm: float) -> float:
    """A filler or leader through so much cloth, in mm."""
    return TAKE_UP * length_mm
