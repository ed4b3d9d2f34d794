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
    for i in range(SAMPLES):
        p, r = a.plane[i], a.plane[i + 1] - a.plane[i]
        place_a = SAMPLES * a.index + i
        for j in range(SAMPLES):
            place_b = SAMPLES * b.index + j
            if same and place_b <= place_a + 1:
                continue
            q, s = b.plane[j], b.plane[j + 1] - b.plane[j]
            across = r.real * s.imag - r.imag * s.real
            if not across:
                continue
            w = q - p
            t = (w.real * s.imag - w.imag * s.real) / across
            if not 0 <= t < 1:
                continue
            v = (w.real * r.imag - w.imag * r.real) / across
            if not 0 <= v < 1:
                continue
            height_a = a.height[i] + t * (a.height[i + 1] - a.height[i])
            height_b = b.height[j] + v * (b.height[j + 1] - b.height[j])
            passes = Pass(one, (place_a + t) / SAMPLES), Pass(other, (place_b + v) / SAMPLES)
            over, under = passes if height_a > height_b else passes[::-1]
            # y runs down, so a positive `across` is a clockwise turn from a to b.
            turn = across if height_a > height_b else -across
            found.append(
                Crossing(
                    over,
                    under,
                    p + t * r,
                    -1 if turn > 0 else 1,
                    abs(across) / (abs(r) * abs(s)),
                    abs(height_a - height_b),
                )
            )
    return found
