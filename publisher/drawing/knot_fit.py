"""Fit fewer Béziers to a curve, so that a figure stays small."""

from __future__ import annotations

import cmath
from itertools import pairwise

MOST_TURN = 1.9
"""One Bézier bends no further than this (radians): it could not follow closely."""

LONGEST = 1.5
"""Longer segments (in cord diameters) were meant as they are."""

Plane = tuple[complex, ...]
"""Bézier controls in the plane, segments end to end."""

_Segment = tuple[complex, complex, complex, complex]


def fitted(plane: Plane, tolerance: float) -> Plane:
    """The curve with neighbouring segments made one where that stays within `tolerance` of it."""
    if len(plane) == 4:
        return plane
    points = [plane[0]]
    held: list[_Segment] = []
    fit: _Segment | None = None
    for k in range(0, len(plane) - 1, 3):
        segment = (plane[k], plane[k + 1], plane[k + 2], plane[k + 3])
        short = held and abs(segment[3] - segment[0]) < LONGEST
        merged = _merged([*held, segment], tolerance) if short else None
        if merged is None:
            if fit is not None:
                points += fit[1:]
            held, fit = [segment], segment
        else:
            held.append(segment)
            fit = merged
    if fit is not None:
        points += fit[1:]
    return tuple(points)


def _merged(parts: list[_Segment], tolerance: float) -> _Segment | None:
    """One segment for several end to end, or None if none is near enough."""
    start, end = parts[0], parts[-1]
    lengths = [_length(part) for part in parts]
    whole = sum(lengths)
    leave, arrive = start[1] - start[0], end[3] - end[2]
    if not (leave and arrive and whole) or _turn(parts) > MOST_TURN:
        return None
    a, d = start[0], end[3]
    b = a + leave * (whole / lengths[0])
    c = d - arrive * (whole / lengths[-1])
    gone = 0.0
    for part, length in zip(parts, lengths, strict=True):
        for share in (0.5, 1.0):
            if part is end and share == 1.0:
                continue
            t = (gone + share * length) / whole
            if not _near(_at(part, share), (a, b, c, d), t, tolerance):
                return None
        gone += length
    return a, b, c, d


def _near(place: complex, segment: _Segment, t: float, tolerance: float) -> bool:
    """Whether a place lies within tolerance of a segment, near its parameter t."""
    a, b, c, d = segment
    s = 1 - t
    away = place - (s * s * s * a + 3 * s * s * t * b + 3 * s * t * t * c + t * t * t * d)
    slope = s * s * (b - a) + 2 * s * t * (c - b) + t * t * (d - c)
    return abs(away.imag * slope.real - away.real * slope.imag) <= tolerance * abs(slope)


def _turn(parts: list[_Segment]) -> float:
    """All the turning along the parts, left and right alike."""
    ways = []
    for a, b, c, d in parts:
        ways += [way for way in (b - a, d - c) if way]
    return sum(abs(cmath.phase(two / one)) for one, two in pairwise(ways))


def _length(segment: _Segment) -> float:
    a, b, c, d = segment
    return (abs(d - a) + abs(b - a) + abs(c - b) + abs(d - c)) / 2


def _at(segment: _Segment, t: float) -> complex:
    a, b, c, d = segment
    s = 1 - t
    return s * s * s * a + 3 * s * s * t * b + 3 * s * t * t * c + t * t * t * d
