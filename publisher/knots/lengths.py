"""Turn cord diameters and counts into the cord that a knot takes and the size that it has.

Diameters and lengths in mm. The constants were computed for this project by shortening models of
round, hard, frictionless cord as far as they go; the tight forms of the library are such models,
and the tests hold the one against the other. No real cord was knotted for them: every result is
approximate until a knotted swatch corrects it, through `Swatch` and nowhere else.

In these formulae d is the diameter of the working cord, df that of one filler, D of the dowel.
"""

from __future__ import annotations

import math

from publisher.frozen import frozen

TAKE_UP = 1.03
"""Length of a filler or leader, over that of the cloth it runs through (1 to 8 %)."""
_ROUND_FILLERS = (0.0, 0.0, 2.0, 3.0, 4.0, 5.0, 5.7, 6.0)
"""Hull of 0 to 7 equal circles as they lie, less that of one: in filler diameters."""
ROW_HEIGHTS = (2.6, 3.0, 3.4)
"""Height of a packed row of double half hitches, over the diameter of its yarn: the least, that of
the hard cord of the models, and the most."""
_BUNDLES = {8: 3.3, 9: 3.61, 10: 3.81, 12: 4.03, 19: 4.86}
"""Smallest circle round so many equal circles, in their diameters (packings of equal circles in
a circle; 7: 3.0, 19: 4.86)."""


@frozen
class Size:
    """The size of a knot, in mm."""

    width_mm: float
    height_mm: float
    depth_mm: float


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


def row_hitch(fillers: int, filler_mm: float, working_mm: float) -> float:
    """Cord of one double half hitch in packed rows, the way to the next cord included, in mm:
    2 P + 6.65 d. Vertical, horizontal and diagonal alike.
    """
    return 2 * way_round(fillers, filler_mm, working_mm) + 6.65 * working_mm


def single_hitch(fillers: int, filler_mm: float, working_mm: float) -> float:
    """Cord of one double half hitch that stands alone, without the straight way, in mm:
    2 P + 4 d.
    """
    return 2 * way_round(fillers, filler_mm, working_mm) + 4 * working_mm


def square_knot(fillers: int, filler_mm: float, working_mm: float) -> float:
    """Each knotting cord of a square knot, in mm: P + 8.75 d."""
    return way_round(fillers, filler_mm, working_mm) + 8.75 * working_mm


def larks_head(dowel_mm: float, cord_mm: float) -> float:
    """Both legs of a folded cord from the dowel's axis, more than hanging straight takes, in mm:
    5.25 D + 10 d.
    """
    return 5.25 * dowel_mm + 10 * cord_mm


def overhand(cord_mm: float) -> float:
    """More than the straight way through it takes, in mm: 10.1 d, as published for the tight open
    knot (Pieranski, Przybyl and Stasiak, "Tight open knots", 2001; the figure from memory).
    """
    return 10.1 * cord_mm


def overhand_extra_turn(cord_mm: float) -> float:
    """More than the straight way through it takes, in mm: 17.4 d."""
    return 17.4 * cord_mm


def pair_tied_end(cord_mm: float) -> float:
    """Each end of a pair-tied double knot, from its middle to where the end comes out, in mm:
    8.7 d.
    """
    return 8.7 * cord_mm


def wrapping_knot(turns: int, bundle_mm: float, cord_mm: float) -> float:
    """A wrapping knot without its two tails, in mm: N turns of a helix round the bundle and the
    fold that lies along it, N sqrt((pi (Db + d))^2 + d^2) + 2 N d.
    """
    turn = math.hypot(math.pi * (bundle_mm + cord_mm), cord_mm)
    return turns * (turn + 2 * cord_mm)


def berry_knot(filler_mm: float, working_mm: float) -> tuple[float, float]:
    """Each knotting cord and each filler of a berry knot, in mm: four square knots round two
    fillers; three times their height and about 6 d (an estimate).
    """
    knotting = 4 * square_knot(2, filler_mm, working_mm)
    return knotting, 3 * square_knot_size(2, filler_mm, working_mm).height_mm + 6 * working_mm


def straight(length_mm: float) -> float:
    """A filler or leader through so much cloth, in mm."""
    return TAKE_UP * length_mm


def hitch_size(fillers: int, filler_mm: float, working_mm: float) -> Size:
    """A double half hitch in packed rows: column pitch n df + 2.2 d, row pitch 3.0 d, depth 4 d."""
    width = fillers * filler_mm + 2.2 * working_mm
    return Size(width, ROW_HEIGHTS[1] * working_mm, 4 * working_mm)


def square_knot_size(fillers: int, filler_mm: float, working_mm: float) -> Size:
    """Width n df + 3.8 d, height 4.0 d, depth 3 d."""
    width = fillers * filler_mm + 3.8 * working_mm
    return Size(width, 4.0 * working_mm, 3 * working_mm)


def larks_head_width(cord_mm: float) -> float:
    """In mm: 4.0 d."""
    return 4.0 * cord_mm


def overhand_size(cord_mm: float) -> Size:
    """3.4 x 2.9 x 3.2 d."""
    return Size(3.4 * cord_mm, 2.9 * cord_mm, 3.2 * cord_mm)
