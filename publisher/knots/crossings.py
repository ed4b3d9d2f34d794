"""Find where cords cross in the picture, and which of the two lies on top."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache

from publisher.frozen import frozen
from publisher.knots.curve import SAMPLES, Curve

TILT = complex(1.37e-5, 0.83e-5)
"""How far each unit of height is moved in the plane: a view so little from the side that no
point of one cord falls just on a point of another, which would lose or double a crossing."""


@frozen
class Pass:
    """One cord's way through a crossing: the cord, and its curve parameter there."""

    strand: str
    u: float


@frozen
class Crossing:
    """Two passes at one place in the plane. `sign`: +1 or -1, as knot theory counts it
    (seen from the front with y up: +1 if the under pass runs from right to left of the over).
    """

    over: Pass
    under: Pass
    place: complex
    sign: int
    sine: float
    """Sine of the angle between the two in the plane."""
    gap: float
    """How much higher the upper one lies."""


def find_crossings(curves: Mapping[str, Curve]) -> tuple[Crossing, ...]:
    """Every crossing of the curves, in the order of the strands and of their ways.

    Ends that merely touch don't count.
    """
    spans = [
        span for order, name in enumerate(curves) for span in _spans(name, order, curves[name])
    ]
    found: list[tuple[tuple[int, float], Crossing]] = []
    for a, b in _meeting(spans):
        first, last = (a, b) if (a.order, a.index) <= (b.order, b.index) else (b, a)
        found += _between(first, last)
    found.sort(key=lambda keyed: keyed[0])
    return tuple(crossing for _, crossing in found)


@frozen(eq=False)
class _Shape:
    """One Bézier segment as a polyline with its box; `legs` lead from control to control."""

    legs: tuple[complex, complex, complex]
    plane: list[complex]
    height: list[float]
    xs: list[float]
    ys: list[float]
    left: float
    right: float
    top: float
    bottom: float


@frozen(eq=False)
class _Span:
    """A segment with its place in a strand, and the strand's among all."""

    strand: str
    order: int
    index: int
    shape: _Shape


def _spans(strand: str, order: int, curve: Curve) -> Iterator[_Span]:
    for index, shape in enumerate(_shapes(curve)):
        yield _Span(strand, order, index, shape)


@lru_cache(maxsize=256)
def _shapes(curve: Curve) -> tuple[_Shape, ...]:
    """They are kept, as a knot's stages show many stretches again."""
    flat, height = curve.sampled
    plane = [place + z * TILT for place, z in zip(flat, height, strict=True)]
    xs, ys = [place.real for place in plane], [place.imag for place in plane]
    shapes = []
    for k in range(curve.segments):
        a, b, c, d = curve.plane[3 * k : 3 * k + 4]
        legs = b - a, c - b, d - c
        part = slice(SAMPLES * k, SAMPLES * (k + 1) + 1)
        x, y = xs[part], ys[part]
        box = min(x), max(x), min(y), max(y)
        shapes.append(_Shape(legs, plane[part], height[part], x, y, *box))
    return tuple(shapes)


def _meeting(spans: Sequence[_Span]) -> Iterator[tuple[_Span, _Span]]:
    """Pairs of spans that may cross: their boxes overlap (found by sweeping from the top, as cords
    hang), and they are not one way that goes on; and each span that turns so far that it might
    cross itself, with itself.
    """
    active: list[_Span] = []
    for span in sorted(spans, key=lambda span: span.shape.top):
        top, left, right = span.shape.top, span.shape.left, span.shape.right
        active = [other for other in active if other.shape.bottom >= top]
        for other in active:
            beside = other.shape.left <= right and left <= other.shape.right
            if beside and not _go_on(other, span):
                yield other, span
        if _turns_round(span.shape.plane):
            yield span, span
        active.append(span)


def _turns_round(plane: list[complex]) -> bool:
    first, last = plane[1] - plane[0], plane[-1] - plane[-2]
    return (first * last.conjugate()).real < 0


_FORWARD = 1e-3
"""So much of every leg, at least, leads forward where a way goes on: more than TILT can turn."""


def _go_on(one: _Span, other: _Span) -> bool:
    """Return whether two spans follow one another on a strand and lead forward all the way, seen
    from the start of the one to the end of the other: then they meet where they join, and only
    there."""
    if one.order != other.order or abs(one.index - other.index) != 1:
        return False
    first, last = (one, other) if one.index < other.index else (other, one)
    way = last.shape.plane[-1] - first.shape.plane[0]
    back, least = way.conjugate(), _FORWARD * abs(way)
    return all((leg * back).real > least for leg in first.shape.legs + last.shape.legs)


def _between(a: _Span, b: _Span) -> Iterator[tuple[tuple[int, float], Crossing]]:
    """Crossings of two spans, each with its place in the order of all."""
    steps_b = _steps_inside(b.shape, a.shape)
    if not steps_b:
        return
    same = a.order == b.order
    plane_a, plane_b = a.shape.plane, b.shape.plane
    for i in _steps_inside(a.shape, b.shape):
        p, r = plane_a[i], plane_a[i + 1] - plane_a[i]
        first = SAMPLES * (a.index - b.index) + i + 2 if same else 0
        for j in steps_b:
            if j < first:
                continue
            q, s = plane_b[j], plane_b[j + 1] - plane_b[j]
            across = r.real * s.imag - r.imag * s.real
            if not across:
                continue
            w = q - p
            t = (w.real * s.imag - w.imag * s.real) / across
            v = (w.real * r.imag - w.imag * r.real) / across
            if 0 <= t < 1 and 0 <= v < 1:
                at = SAMPLES * a.index + i + t
                yield (a.order, at), _crossing((a, i, t), (b, j, v), across)


def _steps_inside(shape: _Shape, box: _Shape) -> list[int]:
    """The straight pieces of a segment that reach into another one's box."""
    left, right, top, bottom = box.left, box.right, box.top, box.bottom
    xs, ys = shape.xs, shape.ys
    return [
        k
        for k, (x, y, to_x, to_y) in enumerate(zip(xs, ys, xs[1:], ys[1:], strict=False))
        if (x >= left or to_x >= left)
        and (x <= right or to_x <= right)
        and (y >= top or to_y >= top)
        and (y <= bottom or to_y <= bottom)
    ]


_Spot = tuple[_Span, int, float]


def _crossing(one: _Spot, other: _Spot, across: float) -> Crossing:
    (a, i, t), (b, j, v) = one, other
    plane_a, plane_b = a.shape.plane, b.shape.plane
    tall_a, tall_b = a.shape.height, b.shape.height
    height_a = tall_a[i] + t * (tall_a[i + 1] - tall_a[i])
    height_b = tall_b[j] + v * (tall_b[j + 1] - tall_b[j])
    r, s = plane_a[i + 1] - plane_a[i], plane_b[j + 1] - plane_b[j]
    passes = (
        Pass(a.strand, a.index + (i + t) / SAMPLES),
        Pass(b.strand, b.index + (j + v) / SAMPLES),
    )
    over, under = passes if height_a > height_b else passes[::-1]
    # y runs down, so a positive `across` is a clockwise turn from a to b.
    turn = across if height_a > height_b else -across
    return Crossing(
        over,
        under,
        plane_a[i] + t * r,
        -1 if turn > 0 else 1,
        abs(across) / (abs(r) * abs(s)),
        abs(height_a - height_b),
    )
