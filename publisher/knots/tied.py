"""Measure a knot that is tied on cords side by side: what it takes of each, and its size.

All in diameters of the working cord, along the axes of the cords in the knot's tight form; of one
that has none, as it is drawn, which is more, so that nobody runs short.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from publisher.frozen import frozen
from publisher.knots.curve import Curve
from publisher.knots.model import Knot, KnotForm


@frozen
class Tied:
    """`taken`: the length of each cord from the knot's top to its bottom, the cords from the left
    as they come in."""

    taken: tuple[float, ...]
    width: float
    height: float
    depth: float


def measure(knot: Knot) -> Tied:
    """The measures of a knot that names its `cords_in`, and is as `why_not_tied` wants it."""
    form = _form(knot)
    curves = [form.curves[name] for name in knot.cords_in]
    spots = list(_knotted(form))
    xs, ys, zs = zip(*spots, strict=True)
    top, bottom = min(ys), max(ys)
    return Tied(
        taken=tuple(_length_between(curve, top, bottom) for curve in curves),
        width=max(xs) - min(xs) + 1,
        height=bottom - top,
        depth=max(zs) - min(zs) + 1,
    )


def why_not_tied(knot: Knot) -> tuple[str, str, str]:
    """The key, what is wrong, and what to do, of a knot that says how its cords come in and go
    out, but is not drawn so; else empty words."""
    form = _form(knot)
    curves = {name: form.curves[name] for name in form.strands if name in knot.cords_in}
    others = [
        strand.name
        for strand in form.strands.values()
        if strand.role != "guide" and strand.name not in knot.cords_in
    ]
    if others:
        hint = "name every cord; a knot on a dowel can't be tied in a step: take cords_in out"
        return "cords_in", f"{others[0]} is not among these", hint
    ys = [y for _, y, _ in _knotted(form)]
    if not ys:
        return "cords_in", "these cords do not cross: nothing is tied", "draw the knot"
    for name, curve in curves.items():
        if curve.plane[0].imag > min(ys) or curve.plane[-1].imag < max(ys):
            message = f"{name} does not come in above the knot and go out below it"
            return "cords_in", message, "let all its cords hang from the top to the bottom"
    came, went = (_lying(curves, end) for end in (0, -1))
    if came != knot.cords_in:
        return "cords_in", "these cords come in in another order", _written("cords_in", came)
    if went != knot.cords_out:
        key = "cords_in" if knot.cords_out == knot.cords_in else "cords_out"
        return key, "these cords go out in another order", _written("cords_out", went)
    return "", "", ""


def _lying(curves: Mapping[str, Curve], end: int) -> tuple[str, ...]:
    """The cords from the left, at their first point or their last."""
    return tuple(sorted(curves, key=lambda name: curves[name].plane[end].real))


def _written(key: str, cords: Sequence[str]) -> str:
    names = ", ".join(f'"{cord}"' for cord in cords)
    return f"write {key} = [{names}]"


def _form(knot: Knot) -> KnotForm:
    return knot.tight or knot.loose


def _knotted(form: KnotForm) -> Iterator[tuple[float, float, float]]:
    """Yield where the cords are, each between its first crossing and its last, and half a cord
    around that: x, y, z."""
    for name, curve in form.curves.items():
        if form.strands[name].role == "guide":
            continue
        passes = [one.u for c in form.crossings for one in (c.over, c.under) if one.strand == name]
        if passes:
            plane, height = curve.part(min(passes), max(passes)).sampled
            for xy, z in zip(plane, height, strict=True):
                yield from ((xy.real, xy.imag + side, z) for side in (-0.5, 0.5))


def _length_between(curve: Curve, top: float, bottom: float) -> float:
    """From where a cord first comes below the top to where it last is above the bottom."""
    plane, height = curve.sampled
    inside = [index for index, xy in enumerate(plane) if top < xy.imag < bottom]
    first, last = max(0, inside[0] - 1), min(len(plane) - 1, inside[-1] + 1)
    ends = _beyond(plane[first].imag, top) + _beyond(bottom, plane[last].imag)
    way = sum(
        abs(complex(abs(b - a), q - p))
        for (a, p), (b, q) in pairwise(
            zip(plane[first : last + 1], height[first : last + 1], strict=True)
        )
    )
    return way - ends


def _beyond(one: float, other: float) -> float:
    return max(0.0, other - one)
