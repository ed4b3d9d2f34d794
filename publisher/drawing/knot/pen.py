"""Write cords as SVG: a pen that takes stretches of curves and leaves few, large paths."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Protocol

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.knot.fit import Plane, fitted
from publisher.drawing.knot.paths import path_data, striped, stripes
from publisher.drawing.knot.scene import PicturedCord
from publisher.frozen import frozen
from publisher.model.colour import Colour

LAY_STEP = 0.62
"""From one line of the lay to the next, in the cord's diameters."""


class Pen(Protocol):
    """A pen that draws a knot layer by layer. Stretches are in a cord's curve parameter."""

    def gap(self, drawn: PicturedCord, start: float, end: float, width: float) -> None:
        """Clear a strip of some width (in cord diameters) along a cord."""

    def cord(self, drawn: PicturedCord, start: float, end: float) -> None:
        """Draw a stretch of a cord."""

    def arrow(self, drawn: PicturedCord, tip: complex, way: complex) -> None:
        """Draw an arrow head where a cord ends and the way it goes."""

    def guide(self, drawn: PicturedCord) -> None:
        """Draw a thin broken line: no cord, but where to cut, or a way to go."""

    def end_layer(self) -> None:
        """End a layer: all that has been drawn lies below what comes."""


@frozen(eq=False)
class CordColours:
    """The shades of one cord, in the order of STRIPES, and the lines of its lay.

    Equal only to itself: cords that share one object are drawn in one path.
    """

    stripes: tuple[Colour, Colour, Colour, Colour]
    lay: Colour | None
    arrow: Colour
    quiet: bool


UNIT_MM = 0.02
"""Of a pen's paths: a dot of a good printer, and few digits."""
PATHS = {"transform": f"scale({UNIT_MM})", "fill": "none", "stroke_linejoin": "round"}
"""Of the group that a pen draws in."""


@frozen
class Detail:
    """The detail that cords are drawn with: with a shaded side, every n-th line of the lay (0:
    none), and how far a fitted curve may lie from its cord."""

    shade: bool
    lay: int
    tolerance_mm: float


DETAILS = (
    Detail(True, 1, 0.06),
    Detail(False, 2, 0.06),
    Detail(False, 0, 0.08),
    Detail(False, 0, 0.16),
)
"""From full to bare: for thick cords, thin ones, thinnest, and pictures grown too large."""


Mark = tuple[complex, complex]
"""A place on a cord, and the way it runs there."""


Stretch = tuple[Plane, tuple[bool, bool]]
"""A curve, and whether its cord goes on before its start and after its end."""


@dataclass
class SvgPen:
    """A pen whose paths are in whole units, from the panel's top left corner, in a canvas that
    fills nothing unless told to.

    `scale` is units a cord diameter; `origin` is where the knot's own origin lies; `colours`
    gives a cord's colours, and those of its quiet parts, which show no shade and half their lay.
    """

    canvas: FigureCanvas
    scale: float
    origin: complex
    ground: Colour
    colours: Callable[[PicturedCord, bool], CordColours]
    detail: Detail
    _gaps: dict[int, list[str]] = field(default_factory=dict)
    _cords: dict[tuple[CordColours, float], tuple[list[Stretch], list[Mark]]] = field(
        default_factory=dict
    )

    def gap(self, drawn: PicturedCord, start: float, end: float, width: float) -> None:
        line = path_data(self._fitted(drawn, start, end), self.scale, self.origin)
        self._gaps.setdefault(round(width * self.scale), []).append(line.data)

    def cord(self, drawn: PicturedCord, start: float, end: float) -> None:
        for first, last, quiet in _parted(start, end, drawn.quiet):
            colours = self.colours(drawn, quiet)
            key = colours, drawn.diameter
            curves, lay = self._cords.setdefault(key, ([], []))
            inner = (first > 0, last < drawn.curve.segments)
            curves.append((self._fitted(drawn, first, last), inner))
            every = max(self.detail.lay, 2) if quiet and self.detail.lay else self.detail.lay
            if colours.lay is not None and every:
                lay.extend(self._marks(drawn, LAY_STEP * every * drawn.diameter, first, last))

    def end_layer(self) -> None:
        for open_width, parts in self._gaps.items():
            self._stroke("".join(parts), self.ground, open_width)
        for (colours, diameter), (curves, lay) in self._cords.items():
            size = diameter * self.scale
            plain = colours.quiet or not self.detail.shade
            drawn = [
                striped(curve, inner, diameter, plain, self.scale, self.origin)
                for curve, inner in curves
            ]
            for k, (colour, (_, width)) in enumerate(
                zip(colours.stripes, stripes(plain), strict=True)
            ):
                if width:
                    data = "".join([stretch[k].data for stretch in drawn])
                    self._stroke(data, colour, round(width * size))
                    dots = "".join([stretch[k].dots for stretch in drawn])
                    if dots:
                        self._stroke(dots, colour, round(width * size), cap="round")
            if lay and colours.lay is not None:
                data = self._ticks(lay, complex(-0.24, 0.38) * diameter)
                self._stroke(data, colours.lay, round(0.045 * size))
        self._gaps.clear()
        self._cords.clear()

    def arrow(self, drawn: PicturedCord, tip: complex, way: complex) -> None:
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

    def guide(self, drawn: PicturedCord) -> None:
        data = self._ticks(drawn.marks(0.9, 0, drawn.curve.segments), complex(-0.25))
        self._stroke(data, self.colours(drawn, False).arrow, round(0.16 * self.scale))

    def _marks(self, drawn: PicturedCord, step: float, start: float, end: float) -> list[Mark]:
        key = step, start, end
        found = drawn.marked.get(key)
        if found is None:
            found = drawn.marked[key] = drawn.marks(step, start, end)
        return found

    def _fitted(self, drawn: PicturedCord, start: float, end: float) -> Plane:
        key = start, end, self.detail.tolerance_mm / UNIT_MM / self.scale
        found = drawn.fits.get(key)
        if found is None:
            found = drawn.fits[key] = fitted(drawn.curve.plane_part(start, end), key[2])
        return found

    def _stroke(self, data: str, colour: Colour, width: int, cap: str = "butt") -> None:
        """Add a path that is not filled: the group it stands in says so once."""
        line = {"stroke": colour.hex, "stroke_width": str(width)}
        if cap != "butt":
            line["stroke_linecap"] = cap
        self.canvas.path(data, **line)

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

    def _place(self, xy: complex) -> str:
        place = xy * self.scale + self.origin
        return f"{round(place.real)} {round(place.imag)}"


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
