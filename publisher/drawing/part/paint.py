"""Paint legs that were laid out, in their own colours, what is not new more quietly."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache, cached_property
from itertools import groupby
from typing import NamedTuple, Protocol

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.numbers import number
from publisher.drawing.knot.colours import lines, shades
from publisher.drawing.knot.paint import CordLayer, Layers, layered, paint_sheets, sheets
from publisher.drawing.knot.pen import DETAILS, PATHS, UNIT_MM, CordColours, SvgPen
from publisher.drawing.knot.scene import PicturedCord
from publisher.drawing.knot.stages import THIN_MM
from publisher.drawing.part.lay import Lay
from publisher.frozen import frozen
from publisher.knots.curve import Point, smooth_curve
from publisher.knots.model import Role
from publisher.model.colour import BLACK, WHITE, Colour
from publisher.model.look import Look
from publisher.model.part_plan import Leg, PartCordPlan, StepsPlan
from publisher.model.pattern import YarnColour

GAP = 0.1
_TINTS = (0.0, 0.22, -0.2, 0.4, -0.36)
"""Cords of one colour are told apart by a little white (or, below nothing, black) in it."""
_GREYS = (0.62, 0.86, 0.42, 0.95, 0.74)
_FAR = 0.6
_LINE_MM = 0.2
"""A cord thinner than this is a mere line: which of two lies on top can't be seen."""
_BODY = 2
"""Of a cord's shades, the one that most of it has."""
_WOODEN_MM = 5.0
"""A thicker bar is drawn as wood, a thinner one as metal."""
_BAR = Colour.from_hex("#b9bdb9")
_WOOD = Colour.from_hex("#c39a63")


class Named(Protocol):
    """A stretch of a cord: its name begins with the cord's number."""

    @property
    def name(self) -> str: ...


Palette = Callable[[Named, bool], CordColours]


def part_palette(
    part: StepsPlan, colours: Sequence[YarnColour], look: Look, *, far: bool = False
) -> Palette:
    """Each cord in its yarn's colour, those of one colour a little lighter or darker in turn (far
    off, less so); in a look without colour, greys."""
    paints = {colour.letter: colour.srgb for colour in colours}
    seen: Counter[str] = Counter()
    bodies: dict[str, Colour] = {"bar": _WOOD if _is_wooden(part, look) else _BAR}
    for cord in part.cords:
        body = _body(paints[cord.colour], seen[cord.colour], cord, part, look)
        if far and not look.mono:
            body = body.mix(paints[cord.colour], _FAR)
        bodies[str(cord.number)] = body
        seen[cord.colour] += 1
    ground = look.colours["figure"]

    @cache
    def shaded(cord: str, quiet: bool) -> CordColours:
        fade = ground if quiet else None
        if look.mono:
            return lines(bodies[cord], fade, look, plied=cord != "bar")
        return shades(bodies[cord], fade, look.colours["ink"], plied=cord != "bar")

    return lambda cord, quiet: shaded(cord.name.split(":")[0], quiet)


def _is_wooden(part: StepsPlan, look: Look) -> bool:
    return part.piece.bar is not None and part.piece.bar.diameter_mm > _WOODEN_MM and not look.mono


def _body(paint_of: Colour, index: int, cord: PartCordPlan, part: StepsPlan, look: Look) -> Colour:
    if look.mono:
        level = round(255 * _GREYS[(cord.number - 1) % len(_GREYS)])
        return Colour(level, level, level)
    alike = sum(1 for other in part.cords if other.colour == cord.colour)
    tint = _TINTS[index % len(_TINTS)] if alike > 1 else 0.0
    return paint_of.mix(WHITE if tint > 0 else BLACK, abs(tint))


class Way(NamedTuple):
    """A stretch of a cord: its name, the points that it goes through, how thick it is, and from
    which of its points to which it is not new."""

    name: str
    role: Role
    points: tuple[Point, ...]
    thick: float
    still: tuple[float, float] | None = None

    def drawn(self) -> PicturedCord:
        still = (self.still,) if self.still else ()
        return PicturedCord(self.name, self.role, smooth_curve(self.points), self.thick, still)


@frozen(slots=False)
class CordGroup:
    """Cords that are painted together, and where: the same knot tied again has the same ways."""

    ways: tuple[Way, ...]
    place: complex

    @cached_property
    def layers(self) -> tuple[Layers, tuple[CordLayer, ...]]:
        """The order in which cords lie over one another, whatever size the part is drawn in."""
        layers = layered([way.drawn() for way in self.ways])
        return layers, sheets(layers, GAP)


@dataclass(slots=True)
class Painted:
    """The groups of cords painted so far at one scale and in the same colours, and where. `name`
    is that of no others: the press draws a group that comes again once, by its name."""

    name: str
    groups: dict[tuple[Way, ...], tuple[FigureCanvas, complex, str]] = field(default_factory=dict)


def cords_of(lay: Lay, *, quiet: bool = True) -> tuple[CordGroup, ...]:
    """Return all cords of a layout, stretch by stretch where it is sealed; `quiet`: what is not new
    is."""
    if not lay.seals:
        return (_placed([*_ways(lay, quiet=quiet)]),)
    return tuple(_placed(ways) for ways in _sealed(lay, quiet=quiet) if ways)


def _placed(ways: Sequence[Way]) -> CordGroup:
    """Ways from where the first of them begins, to a thousandth of a diameter."""
    left, top, *_ = ways[0].points[0]
    near = [
        way._replace(
            points=tuple(
                [
                    Point(round(x - left, 3), round(y - top, 3), round(z, 3), heading)
                    for x, y, z, heading, _ in way.points
                ]
            )
        )
        for way in ways
    ]
    return CordGroup(tuple(near), complex(left, top))


def paint_cords(
    canvas: FigureCanvas,
    cords: Sequence[CordGroup],
    palette: Palette,
    ground: Colour,
    scale: float,
    origin: complex,
    painted: Painted,
) -> None:
    """Draw them `scale` mm to the unit, with the layout's own origin at a place on paper.

    `painted`: what was painted for other figures of the same cords, and is used again.
    """
    detail = DETAILS[sum(scale < thin for thin in THIN_MM)]
    for group in cords:
        at = group.place * scale + origin
        if before := painted.groups.get(group.ways):
            first, other, name = before
            off = at - other
            first.name_form(name)
            canvas.again(first, f"translate({number(off.real, 3)} {number(off.imag, 3)})")
            continue
        inner = canvas.group(**PATHS)
        painted.groups[group.ways] = inner, at, f"{painted.name}-{len(painted.groups)}"
        if scale < _LINE_MM:
            _paint_lines(inner, group.ways, palette, scale / UNIT_MM, at / UNIT_MM)
        else:
            pen = SvgPen(inner, scale / UNIT_MM, at / UNIT_MM, ground, palette, detail)
            paint_sheets(*group.layers, pen)


def _paint_lines(
    canvas: FigureCanvas, ways: Sequence[Way], palette: Palette, scale: float, origin: complex
) -> None:
    """Draw cords as lines from point to point, one after another."""
    for way in ways:
        places = [point.xy * scale + origin for point in way.points]
        rounded = [f"{round(xy.real)} {round(xy.imag)}" for xy in places]
        path = "M" + "L".join([place for place, _ in groupby(rounded)])
        colour = palette(way, False).stripes[_BODY]
        canvas.stroke(path, colour, round(way.thick * scale))


def _sealed(lay: Lay, *, quiet: bool) -> Iterator[list[Way]]:
    """The cords of one sealed stretch after another."""
    wraps = [0, *lay.seals, len(lay.extra)]
    for index in range(len(lay.seals) + 1):
        extra = lay.extra[wraps[index] : wraps[index + 1]]
        yield [*_ways(lay, quiet=quiet, only=index, extra=extra)]


def _ways(
    lay: Lay,
    *,
    quiet: bool,
    only: int | None = None,
    extra: Sequence[tuple[Leg, list[Point]]] | None = None,
) -> Iterator[Way]:
    """Every stretch (or those of one number) of every cord. The two legs of a fold are one."""
    if lay.bar and not only:
        still = (0.0, float(len(lay.bar) - 1)) if quiet and lay.fresh else None
        yield Way("bar", "dowel", lay.bar, lay.bar_thick, still)
    for leg, stretches in lay.ways.items():
        chosen = enumerate(stretches) if only is None else ((only, stretches[only]),)
        for index, way in chosen:
            if len(way) > 1:
                yield from _stretch(lay, leg, index, way, quiet=quiet)
    for index, (leg, way) in enumerate(lay.extra if extra is None else extra):
        yield _way(f"{leg.cord}:wrap:{index}", way, lay.thick[leg], 0)


def _stretch(lay: Lay, leg: Leg, index: int, way: list[Point], *, quiet: bool) -> Iterator[Way]:
    other = Leg(leg.cord, "right" if leg.side == "left" else "left")
    if not any(lay.ways[leg][:index]) and leg.side != "only" and _folded(lay, other, index, way):
        if leg.side == "left":
            yield _pair(lay, leg, other, index, quiet=quiet)
        return
    fresh = _fresh_from(lay, leg, index) if quiet else 0
    yield _way(f"{leg.cord}:{leg.side}", way, lay.thick[leg], fresh)


def _folded(lay: Lay, other: Leg, index: int, way: list[Point]) -> bool:
    """Return whether another leg begins at the same place: the cord's fold, or its middle."""
    return other in lay.ways and abs(lay.ways[other][index][0].xy - way[0].xy) < 0.01


def _fresh_from(lay: Lay, leg: Leg, index: int) -> int:
    """The point of a stretch from which it is new; past its end where none of it is."""
    way = lay.ways[leg][index]
    if not lay.fresh:
        return 0
    if leg not in lay.moving:
        return len(way) - 1
    stretch, point = lay.fresh.get(leg, (0, 0))
    return point if index == stretch else 0 if index > stretch else len(way) - 1


def _pair(lay: Lay, left: Leg, right: Leg, index: int, *, quiet: bool) -> Way:
    """A cord with both its legs, from the end of the left one to that of the right one."""
    one, two = lay.ways[left][index], lay.ways[right][index]
    points = [_turned(point) for point in one[:0:-1]] + two
    fresh_left = _fresh_from(lay, left, index) if quiet else 0
    fresh_right = _fresh_from(lay, right, index) if quiet else 0
    turn = len(one) - 1
    start, end = float(turn - fresh_left), float(turn + fresh_right)
    still = (start, end) if end > start else None
    return Way(f"{left.cord}:both", "working", tuple(points), lay.thick[left], still)


def _turned(point: Point) -> Point:
    heading = None if point.heading is None else (point.heading + 180) % 360
    return Point(point.x, point.y, point.z, heading)


def _way(name: str, points: Sequence[Point], thick: float, fresh: int) -> Way:
    still = (0.0, float(fresh)) if fresh else None
    return Way(name, "working", tuple(points), thick, still)
