"""Measure a knot that is tied on cords side by side: what it takes of each, and its size.

All in diameters of the working cord, along the axes of the cords in the knot's tight form; of one
that has none, as it is drawn, which is more, so that nobody runs short.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from publisher.knots.curve import Curve
from publisher.knots.measures import Around, Hitch, Scaled, SideBySide
from publisher.knots.model import Knot, KnotForm
from publisher.knots.tying import Tying


def measure(knot: Knot) -> Scaled:
    """The measures of a knot that names its `cords_in`, and is as `why_not_tied` wants it: the
    length of each cord from the knot's top to its bottom, and its size."""
    form = _form(knot)
    curves = [form.curves[name] for name in knot.cords_in]
    spots = list(_knotted(form))
    xs, ys, zs = zip(*spots, strict=True)
    top, bottom = min(ys), max(ys)
    return Scaled(
        cords=tuple(_length_between(curve, top, bottom) for curve in curves),
        width=max(xs) - min(xs) + 1,
        height=bottom - top,
        depth=max(zs) - min(zs) + 1,
    )


Fault = tuple[str, str, str]
"""The key, what is wrong, and what to do; empty words where nothing is."""


def why_not_tied(knot: Knot) -> Fault:
    """The fault of a knot that says how it is tied, but is not drawn so, or can't be measured."""
    fault = _astray(knot) if knot.cords_in else ("", "", "")
    return fault if fault[0] or not knot.tying else _unfit(knot, knot.tying)


def _unfit(knot: Knot, rule: Tying) -> Fault:
    """The fault of a rule that does not fit the drawing or the formula."""
    drawn = [one for one in _form(knot).strands.values() if one.role not in ("guide", "dowel")]
    if rule.travels:
        if not isinstance(knot.measures, Hitch):
            hint = 'add [measures] with kind = "hitch"'
            return "steps", f"nothing says what is taken round or by a {rule.travels}", hint
        if all(one.role != "working" for one in drawn):
            hint = 'give the strand that goes round the others role = "working"'
            return "steps", "no strand is drawn that goes round the others", hint
        return "", "", ""
    if knot.measures is None and not knot.cords_in:
        hint = 'add a line such as cords_in = ["A", "B"], or [measures]'
        return "steps", "nothing says what it takes of its cords", hint
    if knot.measures is not None and not isinstance(knot.measures, SideBySide):
        hint = 'write kind = "scaled" or "around", or take [measures] out'
        return "measures", "this formula is not for cords side by side", hint
    if isinstance(knot.measures, Around) and rule.least < 3:
        return "steps", "there may be no cord to go round", "write cords = [3, …]"
    varies = rule.form == "bundle" if len(drawn) == 1 else rule.around and knot.fillers_vary
    if not varies and (rule.least, rule.most) != (len(drawn), len(drawn)):
        hint = f"write cords = [{len(drawn)}, {len(drawn)}]"
        return "steps", f"{len(drawn)} cords are drawn", hint
    return "", "", ""


def _astray(knot: Knot) -> Fault:
    """The fault of cords that don't come in and go out as the file says."""
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
