"""Find where cords cross in the picture, and which of the two lies on top."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

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


def reading(crossings: Sequence[Crossing], strand: str) -> tuple[tuple[str, str], ...]:
    """Along a strand from its start: (O or U, the other strand), as `(("U", "F1"), …)`."""
    events = []
    for crossing in crossings:
        if crossing.over.strand == strand:
            events.append((crossing.over.u, "O", crossing.under.strand))
        if crossing.under.strand == strand:
            events.append((crossing.under.u, "U", crossing.over.strand))
    return tuple((way, other) for _, way, other in sorted(events))


def linking(crossings: Sequence[Crossing], one: str, other: str) -> float:
    """Half the sum of the signs of the crossings of two different strands, ends held."""
    pair = {one, other}
    return sum(c.sign for c in crossings if {c.over.strand, c.under.strand} == pair) / 2


@frozen(eq=False)
class _Span:
    """One Bézier segment of a strand as a polyline with its box."""

    strand: str
    order: int
    index: int
    plane: list[complex]
    height: list[float]
    left: float
    right: float
    top: float
    bottom: float


def _spans(strand: str, order: int, curve: Curve) -> Iterator[_Span]:
    flat, height = curve.sampled
    plane = [place + z * TILT for place, z in zip(flat, height, strict=True)]
    for k in range(curve.segments):
        part = plane[SAMPLES * k : SAMPLES * (k + 1) + 1]
        xs, ys = [p.real for p in part], [p.imag for p in part]
        heights = height[SAMPLES * k : SAMPLES * (k + 1) + 1]
        yield _Span(strand, order, k, part, heights, min(xs), max(xs), min(ys), max(ys))


def _meeting(spans: Sequence[_Span]) -> Iterator[tuple[_Span, _Span]]:
    """Pairs of spans whose boxes overlap, found by sweeping from the left; and each span that
    turns so far that it might cross itself, with itself.
    """
    active: list[_Span] = []
    for span in sorted(spans, key=lambda span: span.left):
        left, top, bottom = span.left, span.top, span.bottom
        active = [other for other in active if other.right >= left]
        for other in active:
            if other.top <= bottom and top <= other.bottom:
                yield other, span
        if _turns_round(span.plane):
            yield span, span
        active.append(span)


def _turns_round(plane: list[complex]) -> bool:
    first, last = plane[1] - plane[0], plane[-1] - plane[-2]
    return (first * last.conjugate()).real < 0


def _between(a: _Span, b: _Span) -> Iterator[tuple[tuple[int, float], Crossing]]:
    """Crossings of two spans, each with its place in the order of all."""
    steps_b = _steps_inside(b, a)
    same = a.order == b.order
    for i in _steps_inside(a, b) if steps_b else ():
        p, r = a.plane[i], a.plane[i + 1] - a.plane[i]
        first = SAMPLES * (a.index - b.index) + i + 2 if same else 0
        for j in steps_b:
            if j < first:
                continue
            q, s = b.plane[j], b.plane[j + 1] - b.plane[j]
            across = r.real * s.imag - r.imag * s.real
            if not across:
                continue
            w = q - p
            t = (w.real * s.imag - w.imag * s.real) / across
            v = (w.real * r.imag - w.imag * r.real) / across
            if 0 <= t < 1 and 0 <= v < 1:
                at = SAMPLES * a.index + i + t
                yield (a.order, at), _crossing((a, i, t), (b, j, v), across)


def _steps_inside(span: _Span, box: _Span) -> list[int]:
    """The straight pieces of a span that reach into another one's box."""
    left, right, top, bottom = box.left, box.right, box.top, box.bottom
    sides = [
        (1 if p.real < left else 2 if p.real > right else 0)
        | (4 if p.imag < top else 8 if p.imag > bottom else 0)
        for p in span.plane
    ]
    return [k for k in range(SAMPLES) if not sides[k] & sides[k + 1]]


_Spot = tuple[_Span, int, float]


def _crossing(one: _Spot, other: _Spot, across: float) -> Crossing:
    (a, i, t), (b, j, v) = one, other
    height_a = a.height[i] + t * (a.height[i + 1] - a.height[i])
    height_b = b.height[j] + v * (b.height[j + 1] - b.height[j])
    r, s = a.plane[i + 1] - a.plane[i], b.plane[j + 1] - b.plane[j]
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
        a.plane[i] + t * r,
        -1 if turn > 0 else 1,
        abs(across) / (abs(r) * abs(s)),
        abs(height_a - height_b),
    )
