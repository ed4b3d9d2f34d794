"""Write cords as SVG: a pen that takes stretches of curves and leaves few, large paths."""

from __future__ import annotations

import cmath
from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Protocol

from publisher.colour import Colour
from publisher.drawing.knot_scene import Drawn
from publisher.knots.curve import Curve

EDGE = 0.05
"""Width of a cord's dark edge, in its diameters."""
LAY_STEP = 0.62
"""From one line of the lay to the next, in the cord's diameters."""
LAP = 0.06
"""How far a stretch laps over the next one of its cord, so that no seam shows."""
LIGHT = complex(-0.55, -0.83)
"""The way to the light: from the upper left."""
SHARP = 1.0
"""A segment that turns by more (radians) is written as straight pieces: strokes stay whole."""
STRIPES = ((0.0, 1.0), (0.0, 1 - 2 * EDGE), (0.10, 0.70), (0.20, 0.30))
"""Edge, shade, body and light of a cord: moved to the light by, and width (in diameters)."""


class Pen(Protocol):
    """What a knot is drawn on, layer by layer. Stretches are in a cord's curve parameter."""

    def gap(self, drawn: Drawn, start: float, end: float, width: float) -> None:
        """Clear a strip of some width (in cord diameters) along a cord."""

    def cord(self, drawn: Drawn, start: float, end: float) -> None:
        """Draw a stretch of a cord."""

    def arrow(self, drawn: Drawn, tip: complex, way: complex) -> None:
        """Draw an arrow head where a cord ends and the way it goes."""

    def end_layer(self) -> None:
        """All that has been drawn lies below what comes."""


@dataclass(frozen=True, slots=True)
class CordColours:
    """The shades of one cord, in the order of STRIPES, and the lines of its lay."""

    stripes: tuple[Colour, Colour, Colour, Colour]
    lay: Colour | None
    arrow: Colour


@dataclass(frozen=True, slots=True)
class PathElement:
    """One SVG path: its data, and its attributes."""

    data: str
    attributes: dict[str, str | int]


@dataclass
class SvgPen:
    """A pen whose paths are in hundredths of a mm, from the panel's top left corner.

    `scale` is hundredths of a mm a cord diameter; `origin` is where the knot's own origin lies;
    `colours` gives a cord's colours, and those of its quiet parts.
    """

    scale: float
    origin: complex
    ground: Colour
    colours: Callable[[Drawn, bool], CordColours]
    elements: list[PathElement] = field(default_factory=list)
    _gaps: dict[int, list[str]] = field(default_factory=dict)
    _cords: dict[tuple[CordColours, float], tuple[list[Curve], list[str]]] = field(
        default_factory=dict
    )

    def gap(self, drawn: Drawn, start: float, end: float, width: float) -> None:
        data = self._data(drawn.curve.part(start, end))
        self._gaps.setdefault(round(width * self.scale), []).append(data)

    def cord(self, drawn: Drawn, start: float, end: float) -> None:
        for first, last, quiet in _parted(start, end, drawn.quiet):
            key = self.colours(drawn, quiet), drawn.diameter
            curves, lay = self._cords.setdefault(key, ([], []))
            curves.append(drawn.curve.part(*drawn.lapped(first, last, LAP)))
            if key[0].lay is not None:
                lay.extend(self._lay(drawn, first, last))

    def end_layer(self) -> None:
        for width, parts in self._gaps.items():
            self._stroke("".join(parts), self.ground, width)
        for (colours, diameter), (curves, lay) in self._cords.items():
            for colour, (offset, width) in zip(colours.stripes, STRIPES, strict=True):
                data = "".join(self._data(shifted(curve, offset * diameter)) for curve in curves)
                self._stroke(data, colour, width * diameter * self.scale)
            if lay and colours.lay is not None:
                self._stroke("".join(lay), colours.lay, 0.045 * diameter * self.scale)
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
        ground = self.ground.hex
        halo = {"fill": ground, "stroke": ground, "stroke-width": round(0.3 * self.scale)}
        self.elements.append(PathElement(data, halo))
        self.elements.append(PathElement(data, {"fill": self.colours(drawn, False).arrow.hex}))

    def _stroke(self, data: str, colour: Colour, width: float) -> None:
        stroke = {"fill": "none", "stroke": colour.hex, "stroke-width": round(width)}
        self.elements.append(PathElement(data, stroke))

    def _lay(self, drawn: Drawn, start: float, end: float) -> list[str]:
        """Slanting lines across a stretch, evenly along the cord from where it begins."""
        size = drawn.diameter
        return [
            f"M{self._place(xy + across)}l{self._step(-2 * across)}"
            for xy, way in drawn.marks(LAY_STEP * size, start, end)
            for across in [way * complex(-0.24, 0.38) * size]
        ]

    def _data(self, curve: Curve) -> str:
        scale, origin = self.scale, self.origin
        places = [xy * scale + origin for xy in curve.plane]
        x, y = round(places[0].real), round(places[0].imag)
        parts = [f"M{x} {y}"]
        for k in range(1, len(places), 3):
            a, b, c, d = places[k - 1 : k + 3]
            if _turn(b - a, d - c) > SHARP:
                for place in (Curve((a, b, c, d), (0, 0, 0, 0)).at(t / 6)[0] for t in range(1, 7)):
                    px, py = round(place.real), round(place.imag)
                    parts.append(f"l{px - x} {py - y}")
                    x, y = px, py
                continue
            steps = []
            for place in (b, c, d):
                px, py = round(place.real), round(place.imag)
                steps.append(f"{px - x} {py - y}")
            parts.append("c" + " ".join(steps))
            x, y = px, py
        return "".join(parts)

    def _place(self, xy: complex) -> str:
        place = xy * self.scale + self.origin
        return f"{round(place.real)} {round(place.imag)}"

    def _step(self, step: complex) -> str:
        return f"{round(step.real * self.scale)} {round(step.imag * self.scale)}"


def shifted(curve: Curve, distance: float) -> Curve:
    """The curve moved sideways towards the light, most where it runs across the light."""
    if not distance:
        return curve
    plane = curve.plane
    shifts = []
    for k in range(curve.segments + 1):
        side = curve.heading(k) * 1j
        shifts.append(side * (side * LIGHT.conjugate()).real * distance)
    moved = [plane[0] + shifts[0]]
    for k in range(curve.segments):
        a, b, c, d = plane[3 * k : 3 * k + 4]
        start, end = a + shifts[k], d + shifts[k + 1]
        stretch = abs(end - start) / abs(d - a) if d != a else 1.0
        moved += [start + (b - a) * stretch, end + (c - d) * stretch, end]
    return Curve(tuple(moved), curve.height)


def _turn(one: complex, two: complex) -> float:
    """The angle between two ways, 0 to pi; 0 if there is no way."""
    return abs(cmath.phase(two / one)) if one and two else 0.0


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
