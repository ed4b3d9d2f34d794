"""Turn cord diameters into what a knot takes and how large it is, by the formula of its kind.

Diameters and lengths in mm. A knot's file names the kind and its constants under `[measures]`. Here
d is the diameter of the working cord, df that of one filler, n the number of fillers, D the
diameter of a bar and P the way once round the fillers.

The library's constants were computed for this project by shortening models of round, hard,
frictionless cord as far as they go; its tight forms are such models, and the tests hold the one
against the other. No real cord was knotted for them: every result is approximate until a knotted
swatch corrects it, through `lengths.Swatch` and nowhere else.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from publisher.frozen import frozen
from publisher.knots.lengths import bundle_diameter, way_round


@frozen
class Taken:
    """The cord that a knot takes of each cord, in the order given, and the knot's size."""

    cords_mm: tuple[float, ...]
    height_mm: float
    width_mm: float
    depth_mm: float


@frozen
class Scaled:
    """A knot that grows in step with the thickest of its cords; `bundled`, with the bundle of all.

    `cords`: what it takes of each cord from the left, or a single figure for every cord.
    """

    cords: tuple[float, ...]
    width: float
    height: float
    depth: float
    bundled: bool = False

    def taken(self, diameters: Sequence[float]) -> Taken:
        """Return what it takes of cords side by side, from the left, and its size."""
        thick = max(diameters)
        if self.bundled:
            thick *= bundle_diameter(len(diameters))
        each = self.cords if len(self.cords) > 1 else self.cords * len(diameters)
        cords = tuple(length * thick for length in each)
        return Taken(cords, self.height * thick, self.width * thick, self.depth * thick)

    def extra(self, cord_mm: float) -> float:
        """Return what it takes of a single cord, more than the straight way through it."""
        return (self.cords[0] - self.height) * cord_mm


@frozen
class Around:
    """The outer two cords are knotted round those between them, which go straight through.

    Each knotting cord: `rounds` P + `cord` d. Width n df + `width` d, height `height` d, depth
    `depth` d, d that of the thicker one.
    """

    rounds: float
    cord: float
    width: float
    height: float
    depth: float

    def knotting(self, fillers: int, filler_mm: float, working_mm: float) -> float:
        """Return what one of the two takes."""
        way = way_round(fillers, filler_mm, working_mm)
        return self.rounds * way + self.cord * working_mm

    def taken(self, diameters: Sequence[float]) -> Taken:
        """Return what it takes of cords side by side, from the left, and its size."""
        first, *fillers, last = diameters
        count, core, thick = len(fillers), max(fillers), max(first, last)
        one, other = (self.knotting(count, core, diameter) for diameter in (first, last))
        height = self.height * thick
        width = count * core + self.width * thick
        return Taken((one, *[height] * count, other), height, width, self.depth * thick)


@frozen
class Ball(Around):
    """A row of `knots` such knots, all but the last rolled up to a ball, which it locks.

    A filler goes along the row once more and round the ball, `filler` d. The ball is `ball` of the
    thickest cord high and deep, and `wider` of it wider than the row.
    """

    knots: float
    filler: float
    ball: float
    wider: float

    def taken(self, diameters: Sequence[float]) -> Taken:
        first, *fillers, last = diameters
        working, thick = max(first, last), max(diameters)
        one = Around.taken(self, [working, *fillers, working])
        knotting = self.knots * one.cords_mm[0]
        filler = self.knots * one.height_mm + self.filler * working
        cords = (knotting, *[filler] * len(fillers), knotting)
        ball = self.ball * thick
        return Taken(cords, ball + one.height_mm, one.width_mm + self.wider * thick, ball)


@frozen
class Hitch:
    """One cord that goes round another, or round a bundle, and on to the next one in a row.

    `rounds` P + (`cord` + `way_on`) d. Packed in rows: from column to column n df + `width` d, from
    row to row `height` d, from the least to the most by the yarn, depth `depth` d.
    """

    rounds: float
    cord: float
    way_on: float
    width: float
    height: float
    least_height: float
    most_height: float
    depth: float

    def in_a_row(self, fillers: int, filler_mm: float, working_mm: float) -> float:
        """Return what one takes, the way to the next one included."""
        way = way_round(fillers, filler_mm, working_mm)
        return self.rounds * way + (self.cord + self.way_on) * working_mm

    def width_mm(self, fillers: int, filler_mm: float, working_mm: float) -> float:
        """Return how wide it is across what it goes round."""
        return fillers * filler_mm + self.width * working_mm


@frozen
class Head:
    """A folded cord mounted on a bar: both legs from the bar's axis take, more than hanging
    straight, `bar` D + `cord` d. It is `width` d wide."""

    bar: float
    cord: float
    width: float

    def mounting(self, bar_mm: float, cord_mm: float) -> float:
        """Return what mounting takes of a cord."""
        return self.bar * bar_mm + self.cord * cord_mm


@frozen
class Coil:
    """Turns of a helix round a bundle, and the fold that lies along it, without the two tails:
    N (sqrt((pi (Db + d))² + d²) + `fold` d)."""

    fold: float

    def wrapping(self, turns: int, bundle_mm: float, cord_mm: float) -> float:
        """Return what so many turns take."""
        turn = math.hypot(math.pi * (bundle_mm + cord_mm), cord_mm)
        return turns * (turn + self.fold * cord_mm)


SideBySide = Scaled | Around
"""The kinds that are tied on cords side by side."""
Measures = SideBySide | Hitch | Head | Coil
KINDS: Mapping[str, type[Measures]] = {
    "scaled": Scaled,
    "around": Around,
    "ball": Ball,
    "hitch": Hitch,
    "head": Head,
    "coil": Coil,
}
