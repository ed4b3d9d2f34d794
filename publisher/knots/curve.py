"""Turn control points with heights into a smooth curve of cubic Béziers; cut and sample it.

In the plane the curve follows Hobby's rule ("Smooth, easy to compute interpolating splines",
Discrete and Computational Geometry 1, 1986; tension 1, curl 1 at the ends); the height runs
monotonely from point to point (Fritsch and Carlson 1980). x to the right, y down, z to the viewer.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Sequence
from functools import cache, cached_property
from itertools import accumulate, pairwise
from typing import NamedTuple, TypeVar

from publisher.frozen import frozen

SAMPLES = 10
"""Straight pieces a Bézier segment is cut into where crossings and lengths are computed."""


class Point(NamedTuple):
    """A control point. `heading`: the way the cord runs there, degrees clockwise from right."""

    x: float
    y: float
    z: float
    heading: float | None = None
    mark: str | None = None

    @property
    def xy(self) -> complex:
        return complex(self.x, self.y)


@frozen(slots=False)
class Curve:
    """Cubic Bézier segments end to end: 3 n + 1 controls, plane and height apart.

    The parameter u runs from 0 to n; control point k of the cord lies at u = k.
    """

    plane: tuple[complex, ...]
    height: tuple[float, ...]

    @property
    def segments(self) -> int:
        return len(self.plane) // 3

    def at(self, u: float) -> tuple[complex, float]:
        """Plane point and height at u."""
        k, t = _split(u, self.segments)
        return _bezier(self.plane, 3 * k, t), _bezier_height(self.height, 3 * k, t)

    def heading(self, u: float) -> complex:
        """Unit vector along the cord at u, in the plane."""
        k, t = _split(u, self.segments)
        a, b, c, d = self.plane[3 * k : 3 * k + 4]
        s = 1 - t
        slope = s * s * (b - a) + 2 * s * t * (c - b) + t * t * (d - c)
        if abs(slope) < 1e-9:
            slope = d - a
        return slope / abs(slope)

    def part(self, start: float, end: float) -> Curve:
        """The curve from u = start to u = end, as a curve of its own."""
        span = _span(start, end, self.segments)
        return Curve(_cut_out(self.plane, *span), _cut_out(self.height, *span))

    def plane_part(self, start: float, end: float) -> tuple[complex, ...]:
        """The controls in the plane alone, from u = start to u = end."""
        return _cut_out(self.plane, *_span(start, end, self.segments))

    def joined(self, other: Curve) -> Curve:
        """This curve with another one, that starts where this ends, after it."""
        return Curve(self.plane + other.plane[1:], self.height + other.height[1:])

    @cached_property
    def sampled(self) -> tuple[list[complex], list[float]]:
        """Plane points and heights, SAMPLES steps a segment. Not to be changed."""
        return self.samples()

    @cached_property
    def way(self) -> list[float]:
        """The lengths along the curve up to each sample, in the plane. Not to be changed."""
        plane = self.sampled[0]
        return list(accumulate((abs(b - a) for a, b in pairwise(plane)), initial=0.0))

    def samples(self, per_segment: int = SAMPLES) -> tuple[list[complex], list[float]]:
        """Plane points and heights, evenly in u, `per_segment` steps a segment."""
        weights = _weights(per_segment)
        plane, height = [self.plane[0]], [self.height[0]]
        for k in range(0, len(self.plane) - 1, 3):
            a, b, c, d = self.plane[k : k + 4]
            p, q, r, s = self.height[k : k + 4]
            for w0, w1, w2, w3 in weights:
                plane.append(w0 * a + w1 * b + w2 * c + w3 * d)
                height.append(w0 * p + w1 * q + w2 * r + w3 * s)
        return plane, height

    def length(self) -> float:
        """Length in space, in the unit of the points."""
        plane, height = self.sampled
        return sum(
            math.hypot(abs(plane[i + 1] - plane[i]), height[i + 1] - height[i])
            for i in range(len(plane) - 1)
        )


def smooth_curve(points: Sequence[Point]) -> Curve:
    """The curve through two or more points, no two neighbours at one place in the plane."""
    plane: list[complex] = [points[0].xy]
    start = 0
    for k in range(1, len(points)):
        if k == len(points) - 1 or points[k].heading is not None:
            plane += _hobby(points[start : k + 1])
            start = k
    return Curve(tuple(plane), tuple(_heights(points)))


def _hobby(points: Sequence[Point]) -> list[complex]:
    """Bézier controls after the first point, for points with headings at most at the two ends."""
    places = [point.xy for point in points]
    chords = [places[k + 1] - places[k] for k in range(len(places) - 1)]
    turns = [cmath.phase(chords[k + 1] / chords[k]) for k in range(len(chords) - 1)] + [0.0]
    first = _offset(points[0].heading, chords[0])
    last = _offset(points[-1].heading, chords[-1])
    leave = _leaving_angles(chords, turns, first, last)
    controls: list[complex] = []
    for k, chord in enumerate(chords):
        theta, phi = leave[k], -turns[k] - leave[k + 1]
        controls += [
            places[k] + chord * cmath.rect(_velocity(theta, phi), theta),
            places[k + 1] - chord * cmath.rect(_velocity(phi, theta), -phi),
            places[k + 1],
        ]
    return controls


def _offset(heading: float | None, chord: complex) -> float | None:
    return None if heading is None else cmath.phase(cmath.rect(1, math.radians(heading)) / chord)


def _leaving_angles(
    chords: list[complex], turns: list[float], first: float | None, last: float | None
) -> list[float]:
    """Solve Hobby's equations: the angle between each chord and the curve that leaves its start."""
    inverse = [1 / abs(chord) for chord in chords]
    count = len(chords)
    # Each row: a theta[k-1] + b theta[k] + c theta[k+1] = r, eliminated from the top.
    upper, right = [0.0], [first or 0.0]
    if first is None:
        upper, right = [1.0], [-turns[0]]
    for k in range(1, count):
        a, c = inverse[k - 1], inverse[k]
        b = 2 * (a + c) - a * upper[-1]
        r = -2 * a * turns[k - 1] - c * turns[k] - a * right[-1]
        upper.append(c / b)
        right.append(r / b)
    if last is not None:
        theta = last
    elif count == 1 and first is None:
        theta = 0.0
    else:
        theta = -right[-1] / (1 + upper[-1]) if (1 + upper[-1]) else 0.0
        # Curl 1 at the end: phi[n] = theta[n-1], with phi[n] = -theta[n].
    angles = [theta]
    for k in range(count - 1, -1, -1):
        angles.append(right[k] - upper[k] * angles[-1])
    angles.reverse()
    return angles


_ROOT2, _ROOT5 = math.sqrt(2), math.sqrt(5)


def _velocity(theta: float, phi: float) -> float:
    """Hobby's velocity function, a third of the chord for a straight line."""
    st, ct, sp, cp = math.sin(theta), math.cos(theta), math.sin(phi), math.cos(phi)
    top = 2 + _ROOT2 * (st - sp / 16) * (sp - st / 16) * (ct - cp)
    return min(2.0, top / (3 * (1 + (_ROOT5 - 1) / 2 * ct + (3 - _ROOT5) / 2 * cp)))


def _heights(points: Sequence[Point]) -> Iterable[float]:
    steps = [math.dist((p.x, p.y, p.z), (q.x, q.y, q.z)) for p, q in pairwise(points)]
    rises = [(points[k + 1].z - points[k].z) / steps[k] for k in range(len(steps))]
    slopes = [rises[0]]
    for k in range(1, len(steps)):
        before, after = rises[k - 1], rises[k]
        slopes.append(0.0 if before * after <= 0 else 2 * before * after / (before + after))
    slopes.append(rises[-1])
    yield points[0].z
    for k, step in enumerate(steps):
        yield points[k].z + slopes[k] * step / 3
        yield points[k + 1].z - slopes[k + 1] * step / 3
        yield points[k + 1].z


def _split(u: float, segments: int) -> tuple[int, float]:
    k = min(max(int(u), 0), segments - 1)
    return k, u - k


def _bezier(controls: tuple[complex, ...], k: int, t: float) -> complex:
    a, b, c, d = controls[k : k + 4]
    s = 1 - t
    return s * s * s * a + 3 * s * s * t * b + 3 * s * t * t * c + t * t * t * d


def _bezier_height(controls: tuple[float, ...], k: int, t: float) -> float:
    a, b, c, d = controls[k : k + 4]
    s = 1 - t
    return s * s * s * a + 3 * s * s * t * b + 3 * s * t * t * c + t * t * t * d


@cache
def _weights(count: int) -> list[tuple[float, float, float, float]]:
    steps = [k / count for k in range(1, count + 1)]
    return [((1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t * t, t**3) for t in steps]


T = TypeVar("T", complex, float)


def _cut(four: Sequence[T], start: float, end: float) -> list[T]:
    a, b, c, d = four

    def blossom(r: float, s: float, t: float) -> T:
        ab, bc, cd = a + (b - a) * r, b + (c - b) * r, c + (d - c) * r
        abc, bcd = ab + (bc - ab) * s, bc + (cd - bc) * s
        return abc + (bcd - abc) * t

    return [
        blossom(start, start, start),
        blossom(start, start, end),
        blossom(start, end, end),
        blossom(end, end, end),
    ]


def _span(start: float, end: float, segments: int) -> tuple[int, float, int, float]:
    """First and last segment of a part, each with its share."""
    first, t0 = _split(start, segments)
    last, t1 = _split(end, segments)
    if t1 == 0 and last > first:
        last, t1 = last - 1, 1.0
    return first, t0, last, t1


def _cut_out(controls: tuple[T, ...], first: int, t0: float, last: int, t1: float) -> tuple[T, ...]:
    if first == last:
        return tuple(_cut(controls[3 * first : 3 * first + 4], t0, t1))
    head, tail = controls[3 * first : 3 * first + 4], controls[3 * last : 3 * last + 4]
    if t0:
        head = tuple(_cut(head, t0, 1.0))
    if t1 != 1:
        tail = tuple(_cut(tail, 0.0, t1))
    return head + controls[3 * first + 4 : 3 * last + 1] + tail[1:]
