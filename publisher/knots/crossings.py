"""Find where cords cross in the picture, and which of the two lies on top."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from publisher.knots.curve import SAMPLES, Curve


@dataclass(frozen=True, slots=True)
class Pass:
    """One cord's way through a crossing: the cord, and its curve parameter there."""

    strand: str
    u: float


@dataclass(frozen=True, slots=True)
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
    """Every crossing of the curves, in a fixed order. Ends that merely touch don't count."""
    names = list(curves)
    spans = {name: _spans(curve) for name, curve in curves.items()}
    found: list[Crossing] = []
    for i, one in enumerate(names):
        found += _within(one, spans[one])
        for other in names[i + 1 :]:
            for a in spans[one]:
                for b in spans[other]:
                    if a.meets(b):
                        found += _between(one, a, other, b)
    return tuple(found)


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


@dataclass(frozen=True, slots=True)
class _Span:
    """One Bézier segment as a polyline with its box."""

    index: int
    plane: list[complex]
    height: list[float]
    left: float
    right: float
    top: float
    bottom: float

    def meets(self, other: _Span) -> bool:
        return (
            self.left <= other.right
            and other.left <= self.right
            and self.top <= other.bottom
            and other.top <= self.bottom
        )


def _spans(curve: Curve) -> list[_Span]:
    plane, height = curve.samples()
    spans = []
    for k in range(curve.segments):
        part = plane[SAMPLES * k : SAMPLES * (k + 1) + 1]
        xs, ys = [p.real for p in part], [p.imag for p in part]
        heights = height[SAMPLES * k : SAMPLES * (k + 1) + 1]
        spans.append(_Span(k, part, heights, min(xs), max(xs), min(ys), max(ys)))
    return spans


def _within(name: str, spans: list[_Span]) -> list[Crossing]:
    found = []
    for i, a in enumerate(spans):
        if _turns_round(a.plane):
            found += _between(name, a, name, a)
        for b in spans[i + 1 :]:
            if a.meets(b):
                found += _between(name, a, name, b)
    return found


def _turns_round(plane: list[complex]) -> bool:
    """Whether a segment turns so far that it might cross itself."""
    first, last = plane[1] - plane[0], plane[-1] - plane[-2]
    return (first * last.conjugate()).real < 0


def _between(one: str, a: _Span, other: str, b: _Span) -> list[Crossing]:
    found = []
    same = one == other
    steps_b = _steps_inside(b, a)
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
                found.append(_crossing((one, a, i, t), (other, b, j, v), across))
    return found


def _steps_inside(span: _Span, box: _Span) -> list[int]:
    """The straight pieces of a span that reach into another one's box."""
    left, right, top, bottom = box.left, box.right, box.top, box.bottom
    places = [
        (1 if p.real < left else 2 if p.real > right else 0)
        | (4 if p.imag < top else 8 if p.imag > bottom else 0)
        for p in span.plane
    ]
    return [k for k in range(SAMPLES) if not places[k] & places[k + 1]]


_Spot = tuple[str, _Span, int, float]


def _crossing(one: _Spot, other: _Spot, across: float) -> Crossing:
    (name_a, a, i, t), (name_b, b, j, v) = one, other
    height_a = a.height[i] + t * (a.height[i + 1] - a.height[i])
    height_b = b.height[j] + v * (b.height[j + 1] - b.height[j])
    r, s = a.plane[i + 1] - a.plane[i], b.plane[j + 1] - b.plane[j]
    passes = Pass(name_a, a.index + (i + t) / SAMPLES), Pass(name_b, b.index + (j + v) / SAMPLES)
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
