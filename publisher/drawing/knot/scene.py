"""Turn a stage of a knot into the cords that its picture shows."""

from __future__ import annotations

import cmath
import math
from bisect import bisect_right
from functools import cached_property

from publisher.frozen import frozen
from publisher.knots.curve import SAMPLES, Curve, Point, smooth_curve
from publisher.knots.model import End, KnotForm, Role, Stage, Strand, VisibleStretch


@frozen(slots=False)
class PicturedCord:
    """One cord as a picture shows it. Lengths in working cord diameters.

    `fresh` is the stretch (in the curve's parameter) that moves in this stage, None if the cord
    has no earlier part to set it off from. `origin` is where the strand itself begins, so that
    the lay of the cord stays put from stage to stage.
    """

    name: str
    role: Role
    curve: Curve
    diameter: float
    quiet: tuple[tuple[float, float], ...] = ()
    arrows: tuple[End, ...] = ()
    origin: float = 0.0

    @cached_property
    def walk(self) -> tuple[list[complex], list[float], list[float]]:
        """Samples of the curve: plane points, heights, and the way gone in the plane."""
        return (*self.curve.sampled, self.curve.way)

    @cached_property
    def fits(self) -> dict[tuple[float, float, float], tuple[complex, ...]]:
        """For a pen: stretches that it fitted, by start, end and tolerance."""
        return {}

    @cached_property
    def marked(self) -> dict[tuple[float, float, float], list[tuple[complex, complex]]]:
        """For a pen: the marks that it has asked for, by step, start and end."""
        return {}

    def at_way(self, target: float) -> float:
        """The parameter where the way gone in the plane is `target`, held within the ends."""
        way = self.walk[2]
        k = min(max(bisect_right(way, target) - 1, 0), len(way) - 2)
        step = way[k + 1] - way[k]
        share = min(max((target - way[k]) / step, 0.0), 1.0) if step else 0.0
        return (k + share) / SAMPLES

    def way_at(self, u: float) -> float:
        """The way gone in the plane at a parameter."""
        way = self.walk[2]
        k = min(int(u * SAMPLES), len(way) - 2)
        return way[k] + (u * SAMPLES - k) * (way[k + 1] - way[k])

    def marks(self, step: float, start: float, end: float) -> list[tuple[complex, complex]]:
        """Places every `step` along the cord inside a stretch, each with the way it runs there.

        None stands near the cord's ends, or where it turns about in less than its own width.
        """
        begin, whole = self.way_at(self.origin), self.walk[2][-1]
        margin = 0.3 * self.diameter
        first = max(self.way_at(start), margin) - begin
        last = min(self.way_at(end), whole - margin) - begin
        count = math.ceil(first / step - 0.5)
        found = []
        while (count + 0.5) * step < last:
            mark = self._mark(begin + (count + 0.5) * step, margin)
            if mark is not None:
                found.append(mark)
            count += 1
        return found

    def _mark(self, way: float, reach: float) -> tuple[complex, complex] | None:
        """The place at a way gone and the way the cord runs there; None where it bends by more
        than 60 degrees within `reach` before and after.
        """
        plane, _, ways = self.walk
        k = min(bisect_right(ways, way), len(ways) - 1) - 1
        first = max(bisect_right(ways, way - reach, 0, k + 1) - 1, 0)
        last = min(bisect_right(ways, way + reach, k), len(plane) - 1)
        before, after = plane[k] - plane[first], plane[last] - plane[k]
        if (before * after.conjugate()).real < 0.5 * abs(before) * abs(after):
            return None
        chord, length = plane[k + 1] - plane[k], ways[k + 1] - ways[k]
        return plane[k] + chord * ((way - ways[k]) / length), chord / length


def scene(form: KnotForm, stage: Stage) -> tuple[PicturedCord, ...]:
    """The cords of a stage; of a finished stage, the whole form as it is."""
    if stage.shown is None:
        return tuple(
            PicturedCord(strand.name, strand.role, strand.curve, strand.diameter)
            for strand in form.strands.values()
        )
    return tuple(_drawn(form.strands[name], shown) for name, shown in stage.shown.items())


def _drawn(strand: Strand, shown: VisibleStretch) -> PicturedCord:
    main = strand.curve
    if (shown.start, shown.end) != (0, main.segments):
        main = main.part(shown.start, shown.end)
    curve = main
    if shown.lead:
        curve = _lead(main, shown.lead).joined(curve)
    if shown.tail:
        curve = curve.joined(_tail(main, shown.tail))
    before = len(shown.lead)
    origin = before - shown.start
    return PicturedCord(
        strand.name,
        strand.role,
        curve,
        strand.diameter,
        _quiet(shown, curve.segments, origin),
        shown.arrows,
        before,
    )


def _lead(main: Curve, lead: tuple[Point, ...]) -> Curve:
    return smooth_curve([*lead, _joint(main, 0)])


def _tail(main: Curve, tail: tuple[Point, ...]) -> Curve:
    return smooth_curve([_joint(main, main.segments), *tail])


def _joint(main: Curve, u: float) -> Point:
    xy, z = main.at(u)
    return Point(xy.real, xy.imag, z, math.degrees(cmath.phase(main.heading(u))))


def _quiet(shown: VisibleStretch, segments: int, origin: float) -> tuple[tuple[float, float], ...]:
    """Return what was there before, in the drawn curve's parameter."""
    if not shown.moving:
        return ((0.0, float(segments)),)
    if shown.earlier is None:
        return ()
    first = max(shown.earlier[0], shown.start)
    last = min(shown.earlier[1], shown.end)
    if last <= first:
        return ()
    begin = 0.0 if first <= shown.start and "start" not in shown.arrows else first + origin
    finish = float(segments) if last >= shown.end and "end" not in shown.arrows else last + origin
    return ((begin, finish),)
