"""Fit fewer Béziers to a curve, so that a figure stays small."""

from __future__ import annotations

import cmath
from functools import lru_cache

MOST_TURN = 1.9
"""One Bézier bends no further than this (radians): it could not follow closely."""

LONGEST = 1.5
"""Longer segments (in cord diameters) were meant as they are."""

Plane = tuple[complex, ...]
"""Bézier controls in the plane, segments end to end."""


@lru_cache(maxsize=512)
def fitted(plane: Plane, tolerance: float) -> Plane:
    """The curve with neighbouring segments made one where that stays within `tolerance` of it.

    What was fitted is kept: the stages of a knot show many stretches again.
    """
    if len(plane) == 4:
        return plane
    points = [plane[0]]
    held = _Held(plane[:4])
    for k in range(3, len(plane) - 1, 3):
        segment = (plane[k], plane[k + 1], plane[k + 2], plane[k + 3])
        if not held.take(segment, tolerance):
            points += held.fit[1:]
            held = _Held(segment)
    points += held.fit[1:]
    return tuple(points)


class _Held:
    """Segments end to end that one can stand for: `fit`. Their lengths are summed as they come,
    and the turning along them, left and right alike.
    """

    def __init__(self, segment: Plane) -> None:
        a, b, c, d = self.fit = segment
        self._parts: list[Plane] = [segment]
        self._lengths = [_length(a, b, c, d)]
        self._whole, self._turn = self._lengths[0], 0.0
        self._way = 0j
        self._turn_to(b - a, d - c)

    def take(self, segment: Plane, tolerance: float) -> bool:
        """Hold one more, if the fit stays near enough."""
        a, b, c, d = segment
        if abs(d - a) >= LONGEST:
            return False
        self._parts.append(segment)
        self._lengths.append(_length(a, b, c, d))
        self._whole += self._lengths[-1]
        self._turn_to(b - a, d - c)
        fit = self._merged(tolerance)
        self.fit = fit or self.fit
        return fit is not None

    def _turn_to(self, *ways: complex) -> None:
        for way in ways:
            if way:
                if self._way:
                    self._turn += abs(cmath.phase(way / self._way))
                self._way = way

    def _merged(self, tolerance: float) -> Plane | None:
        """One segment for all, or None if none is near enough."""
        parts, lengths, whole = self._parts, self._lengths, self._whole
        start, end = parts[0], parts[-1]
        leave, arrive = start[1] - start[0], end[3] - end[2]
        if not (leave and arrive and whole) or self._turn > MOST_TURN:
            return None
        a, d = start[0], end[3]
        b = a + leave * (whole / lengths[0])
        c = d - arrive * (whole / lengths[-1])
        gone = 0.0
        for part, length in zip(parts, lengths, strict=True):
            if not _near(_middle(part), (a, b, c, d), (gone + 0.5 * length) / whole, tolerance):
                return None
            gone += length
            if part is not end and not _near(part[3], (a, b, c, d), gone / whole, tolerance):
                return None
        return a, b, c, d


def _near(place: complex, segment: Plane, t: float, tolerance: float) -> bool:
    """Return whether a place lies within tolerance of a segment, near its parameter t."""
    a, b, c, d = segment
    s = 1 - t
    away = place - (s * s * s * a + 3 * s * s * t * b + 3 * s * t * t * c + t * t * t * d)
    slope = s * s * (b - a) + 2 * s * t * (c - b) + t * t * (d - c)
    return abs(away.imag * slope.real - away.real * slope.imag) <= tolerance * abs(slope)


def _length(a: complex, b: complex, c: complex, d: complex) -> float:
    return (abs(d - a) + abs(b - a) + abs(c - b) + abs(d - c)) / 2


def _middle(segment: Plane) -> complex:
    a, b, c, d = segment
    return 0.125 * a + 0.375 * b + 0.375 * c + 0.125 * d
