"""Write stretches of cords as path data: the stripes that shade them, moved to the light."""

from __future__ import annotations

import cmath
import math
from functools import lru_cache
from typing import NamedTuple

from publisher.drawing.knot.fit import Plane
from publisher.knots.curve import Curve

EDGE = 0.05
"""Width of a cord's dark edge, in its diameters."""
LAPS = (0.02, 0.09)
"""How far the edge of a stretch, and what lies on it, laps over the next one of its cord: the
edge less, so that no seam shows."""
LIGHT = complex(-0.55, -0.83)
"""The way to the light: from the upper left."""
TIGHT_BEND = 0.55
"""Bends of a smaller radius (in diameters) are written as straight pieces: strokes stay whole."""
STRIPES = ((0.0, 1.0), (0.0, 1 - 2 * EDGE), (0.10, 0.70), (0.20, 0.30))
"""Edge, shade, body and light of a cord: moved to the light by, and width (in diameters)."""
PLAIN_STRIPES = (STRIPES[0], (0.0, 0.0), (0.03, 0.86), STRIPES[3])


class PathData(NamedTuple):
    """Path data, and that of the dots which a wide stroke along it needs."""

    data: str
    dots: str


def stripes(plain: bool) -> tuple[tuple[float, float], ...]:
    """Those of a cord that shows its shaded side, or of a plain one."""
    return PLAIN_STRIPES if plain else STRIPES


@lru_cache(maxsize=256)
def striped(
    curve: Plane,
    inner: tuple[bool, bool],
    diameter: float,
    plain: bool,
    scale: float,
    origin: complex,
) -> tuple[PathData, ...]:
    """Each of a stretch's stripes.

    They are kept, as a knot's stages show many stretches again.
    """
    lines = _stripe_lines(curve, inner, diameter, plain)
    return tuple([path_data(line, scale, origin, dotted=wide) for line, wide in lines])


@lru_cache(maxsize=512)
def _stripe_lines(
    curve: Plane, inner: tuple[bool, bool], diameter: float, plain: bool
) -> tuple[tuple[Plane, bool], ...]:
    """Return where a stretch's stripes run, and whether they are wide: the same wherever it is
    drawn."""
    lines = []
    for offset, width in stripes(plain):
        lap = LAPS[offset > 0 or width < 1] * diameter
        line = shifted(lapped(curve, inner, lap), offset * diameter) if width else ()
        lines.append((line, width > 0.5))
    return tuple(lines)


def path_data(plane: Plane, scale: float, origin: complex, dotted: bool = False) -> PathData:
    """A curve as a line. With `dotted`, bends too tight for a wide stroke are straight pieces with
    a dot on each of their joints: viewers leave holes on the inside of such bends.
    """
    if not plane:
        return PathData("", "")
    tight = TIGHT_BEND * scale
    places = [xy * scale + origin for xy in plane]
    a = places[0]
    x, y = round(a.real), round(a.imag)
    parts = [f"M{x} {y}"]
    dots: list[str] = []
    for b, c, d in zip(places[1::3], places[2::3], places[3::3], strict=True):
        leave, chord = b - a, d - a
        px, py = round(d.real), round(d.imag)
        if _straight(chord, leave, c - a):
            parts.append(f"l{px - x} {py - y}")
        elif dotted and (turn := _tight_turn(leave, d - c, abs(chord) / tight)):
            count, first = math.ceil(turn / 0.55), a is places[0]
            bend = Curve((a, b, c, d), (0.0,) * 4)
            for place in (bend.at(step / count)[0] for step in range(1, count + 1)):
                px, py = round(place.real), round(place.imag)
                if not first:
                    dots.append(f"M{x} {y}l1 0")
                parts.append(f"l{px - x} {py - y}")
                x, y = px, py
        else:
            bx, by, cx, cy = round(b.real), round(b.imag), round(c.real), round(c.imag)
            parts.append(f"c{bx - x} {by - y} {cx - x} {cy - y} {px - x} {py - y}")
        a, x, y = d, px, py
    return PathData("".join(parts), "".join(dots))


def lapped(plane: Plane, inner: tuple[bool, bool], lap: float) -> Plane:
    """The curve with its inner ends drawn out by `lap`."""
    first, last = plane[0], plane[-1]
    if inner[0] and plane[1] != first:
        first -= (plane[1] - first) / abs(plane[1] - first) * lap
    if inner[1] and plane[-2] != last:
        last += (last - plane[-2]) / abs(last - plane[-2]) * lap
    return (first, *plane[1:-1], last)


def shifted(plane: Plane, distance: float) -> Plane:
    """The curve moved sideways towards the light, most where it runs across the light."""
    if not distance:
        return plane
    count = len(plane) // 3
    reach = LIGHT * distance
    shifts = []
    for k in range(count + 1):
        way = plane[3 * k + 1] - plane[3 * k] if k < count else plane[-1] - plane[-2]
        if not way:
            way = plane[min(3 * k + 3, 3 * count)] - plane[max(3 * k - 3, 0)]
        side = way * 1j / abs(way)
        shifts.append(side * (side.real * reach.real + side.imag * reach.imag))
    moved = [plane[0] + shifts[0]]
    for k in range(count):
        a, b, c, d = plane[3 * k : 3 * k + 4]
        start, end = a + shifts[k], d + shifts[k + 1]
        stretch = abs(end - start) / abs(d - a) if d != a else 1.0
        moved += (start + (b - a) * stretch, end + (c - d) * stretch, end)
    return tuple(moved)


def _straight(chord: complex, one: complex, two: complex) -> bool:
    """Return whether a segment keeps within a unit of its chord. `one`, `two`: from its start to
    its inner controls."""
    length = abs(chord)
    if not length:
        return abs(one.imag) < 1 and abs(two.imag) < 1
    back = chord.conjugate()
    return abs((one * back).imag) < length and abs((two * back).imag) < length


def _tight_turn(leave: complex, arrive: complex, least: float) -> float:
    """The angle by which a segment turns, if it is more than `least`; 0 if it is not."""
    if not (leave and arrive) or (least > math.pi / 2 and (leave * arrive.conjugate()).real > 0):
        return 0.0
    turn = abs(cmath.phase(arrive / leave))
    return turn if least < turn else 0.0
