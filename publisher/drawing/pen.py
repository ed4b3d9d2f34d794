"""Write cords as SVG: a pen that takes stretches of curves and leaves few, large paths."""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Protocol

from publisher.colour import Colour
from publisher.drawing.canvas import Canvas
from publisher.drawing.knot_fit import Plane, fitted
from publisher.drawing.knot_scene import Drawn
from publisher.frozen import frozen
from publisher.knots.curve import Curve

EDGE = 0.05
"""Width of a cord's dark edge, in its diameters."""
LAY_STEP = 0.62
"""From one line of the lay to the next, in the cord's diameters."""
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


class Pen(Protocol):
    """What a knot is drawn on, layer by layer. Stretches are in a cord's curve parameter."""

    def gap(self, drawn: Drawn, start: float, end: float, width: float) -> None:
        """Clear a strip of some width (in cord diameters) along a cord."""

    def cord(self, drawn: Drawn, start: float, end: float) -> None:
        """Draw a stretch of a cord."""

    def arrow(self, drawn: Drawn, tip: complex, way: complex) -> None:
        """Draw an arrow head where a cord ends and the way it goes."""

    def guide(self, drawn: Drawn) -> None:
        """Draw a thin broken line: no cord, but where to cut, or a way to go."""

    def end_layer(self) -> None:
        """All that has been drawn lies below what comes."""


@frozen(eq=False)
class CordColours:
    """The shades of one cord, in the order of STRIPES, and the lines of its lay.

    Equal only to itself: cords that share one object are drawn in one path.
    """

    stripes: tuple[Colour, Colour, Colour, Colour]
    lay: Colour | None
    arrow: Colour
    quiet: bool


@frozen
class Detail:
    """How closely cords are drawn: with a shaded side, every n-th line of the lay (0: none), and
    how far a fitted curve may lie from its cord, in hundredths of a mm."""

    shade: bool
    lay: int
    tolerance: float


DETAILS = (
    Detail(True, 1, 3.0),
    Detail(False, 2, 3.5),
    Detail(False, 0, 5.0),
    Detail(False, 0, 12.0),
)
"""From full to bare: for thick cords, thin ones, thinnest, and pictures grown too large."""


Mark = tuple[complex, complex]
"""A place on a cord, and the way it runs there."""


Stretch = tuple[Plane, tuple[bool, bool]]
"""A curve, and whether its cord goes on before its start and after its end."""


@dataclass
class SvgPen:
    """A pen whose paths are in hundredths of a mm, from the panel's top left corner, in a canvas
    that fills nothing unless told to.

    `scale` is hundredths of a mm a cord diameter; `origin` is where the knot's own origin lies;
    `colours` gives a cord's colours, and those of its quiet parts, which show no shade and half
    their lay.
    """

    canvas: Canvas
    scale: float
    origin: complex
    ground: Colour
    colours: Callable[[Drawn, bool], CordColours]
    detail: Detail
    _gaps: dict[int, list[str]] = field(default_factory=dict)
    _cords: dict[tuple[CordColours, float], tuple[list[Stretch], list[Mark]]] = field(
        default_factory=dict
    )

    def gap(self, drawn: Drawn, start: float, end: float, width: float) -> None:
        data = self._data(self._fitted(drawn, start, end))
        self._gaps.setdefault(round(width * self.scale), []).append(data)

    def cord(self, drawn: Drawn, start: float, end: float) -> None:
        for first, last, quiet in _parted(start, end, drawn.quiet):
            colours = self.colours(drawn, quiet)
            key = colours, drawn.diameter
            curves, lay = self._cords.setdefault(key, ([], []))
            inner = (first > 0, last < drawn.curve.segments)
            curves.append((self._fitted(drawn, first, last), inner))
            every = max(self.detail.lay, 2) if quiet and self.detail.lay else self.detail.lay
            if colours.lay is not None and every:
                lay.extend(drawn.marks(LAY_STEP * every * drawn.diameter, first, last))

    def end_layer(self) -> None:
        for open_width, parts in self._gaps.items():
            self._stroke("".join(parts), self.ground, open_width)
        for (colours, diameter), (curves, lay) in self._cords.items():
            size = diameter * self.scale
            plain = colours.quiet or not self.detail.shade
            stripes = zip(colours.stripes, PLAIN_STRIPES if plain else STRIPES, strict=True)
            for colour, (offset, width) in stripes:
                if width:
                    dots: list[str] | None = [] if width > 0.5 else None
                    lap = LAPS[offset > 0 or width < 1] * diameter
                    data = "".join(
                        self._data(shifted(lapped(curve, inner, lap), offset * diameter), dots)
                        for curve, inner in curves
                    )
                    self._stroke(data, colour, round(width * size))
                    if dots:
                        self._stroke("".join(dots), colour, round(width * size), cap="round")
            if lay and colours.lay is not None:
                data = self._ticks(lay, complex(-0.24, 0.38) * diameter)
                self._stroke(data, colours.lay, round(0.045 * size))
        self._gaps.clear()
        self._cords.clear()

    def arrow(self, drawn: Drawn, tip: complex, way: complex) -> None:
        size, side = drawn.diameter, way * 1j
        corners = [
            tip + (side * 1.0 - way * 0.28) * size,
            tip + way * 1.55 * size,
            tip + (-side * 1.0 - way * 0.28) * size,
            tip + way * 0.1 * size,
        ]
        data = "M" + "L".join(self._place(corner) for corner in corners) + "Z"
        self._stroke(data, self.ground, round(0.3 * self.scale))
        self.canvas.fill(data, self.colours(drawn, False).arrow)

    def guide(self, drawn: Drawn) -> None:
        data = self._ticks(drawn.marks(0.9, 0, drawn.curve.segments), complex(-0.25))
        self._stroke(data, self.colours(drawn, False).arrow, round(0.16 * self.scale))

    def _fitted(self, drawn: Drawn, start: float, end: float) -> Plane:
        return fitted(drawn.curve.plane_part(start, end), self.detail.tolerance / self.scale)

    def _stroke(self, data: str, colour: Colour, width: int, cap: str = "butt") -> None:
        """Add a path that is not filled: the group it stands in says so once."""
        attributes = {"d": data, "stroke": colour.hex, "stroke-width": str(width)}
        if cap != "butt":
            attributes["stroke-linecap"] = cap
        self.canvas.plain_path(attributes)

    def _ticks(self, marks: list[Mark], reach: complex) -> str:
        """Short lines through places, from `reach` (turned the way of the cord) to its opposite."""
        parts: list[str] = []
        x = y = 0
        for xy, way in marks:
            place, step = (xy + way * reach) * self.scale + self.origin, way * reach * self.scale
            px, py = round(place.real), round(place.imag)
            dx, dy = round(-2 * step.real), round(-2 * step.imag)
            parts.append(f"m{px - x} {py - y}l{dx} {dy}" if parts else f"M{px} {py}l{dx} {dy}")
            x, y = px + dx, py + dy
        return "".join(parts)

    def _data(self, plane: Plane, dots: list[str] | None = None) -> str:
        """Path data. With `dots`, bends too tight for a wide stroke are straight pieces, and
        `dots` takes a dot for each of their joints: viewers leave holes on the inside of such
        bends.
        """
        scale, origin, tight = self.scale, self.origin, TIGHT_BEND * self.scale
        places = [xy * scale + origin for xy in plane]
        x, y = round(places[0].real), round(places[0].imag)
        parts = [f"M{x} {y}"]
        for k in range(1, len(places), 3):
            a, b, c, d = places[k - 1 : k + 3]
            leave, chord, arrive = b - a, d - a, d - c
            px, py = round(d.real), round(d.imag)
            if _straight(chord, leave, c - a):
                parts.append(f"l{px - x} {py - y}")
            elif dots is not None and (turn := _tight_turn(leave, arrive, abs(chord) / tight)):
                count = math.ceil(turn / 0.55)
                bend = Curve((a, b, c, d), (0.0,) * 4)
                for place in (bend.at(step / count)[0] for step in range(1, count + 1)):
                    px, py = round(place.real), round(place.imag)
                    if k > 1:
                        dots.append(f"M{x} {y}l1 0")
                    parts.append(f"l{px - x} {py - y}")
                    x, y = px, py
            else:
                bx, by, cx, cy = round(b.real), round(b.imag), round(c.real), round(c.imag)
                parts.append(f"c{bx - x} {by - y} {cx - x} {cy - y} {px - x} {py - y}")
            x, y = px, py
        return "".join(parts)

    def _place(self, xy: complex) -> str:
        place = xy * self.scale + self.origin
        return f"{round(place.real)} {round(place.imag)}"


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
    """Whether a segment keeps within a hundredth of a mm of its chord. `one`, `two`: from its
    start to its inner controls.
    """
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


def _parted(
    start: float, end: float, quiet: tuple[tuple[float, float], ...]
) -> list[tuple[float, float, bool]]:
    """Part a stretch where quiet begins and ends."""
    cuts = sorted({start, end, *(u for pair in quiet for u in pair if start < u < end)})
    parts = []
    for first, last in pairwise(cuts):
        middle = (first + last) / 2
        parts.append((first, last, any(a <= middle <= b for a, b in quiet)))
    return parts
