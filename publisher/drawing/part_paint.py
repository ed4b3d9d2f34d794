"""Paint legs that were laid out, in their own colours, what is not new more quietly."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from functools import cache, lru_cache
from typing import NamedTuple

from publisher.colour import BLACK, WHITE, Colour
from publisher.drawing.canvas import Canvas
from publisher.drawing.knot_colours import lines, shades
from publisher.drawing.knot_paint import Layers, Sheet, layered, paint_sheets, sheets
from publisher.drawing.knot_scene import Drawn
from publisher.drawing.knot_stages import THIN_MM
from publisher.drawing.look import Look
from publisher.drawing.numbers import number
from publisher.drawing.part_lay import Lay
from publisher.drawing.pen import DETAILS, PATHS, UNIT_MM, CordColours, SvgPen
from publisher.knots.curve import Point, smooth_curve
from publisher.plan.part_values import Leg, PartCordPlan, StepsPlan
from publisher.source.pattern import YarnColour

GAP = 0.1
_TINTS = (0.0, 0.22, -0.2, 0.4, -0.36)
"""Cords of one colour are told apart by a little white (or, below nothing, black) in it."""
_GREYS = (0.62, 0.86, 0.42, 0.95, 0.74)
_FAR = 0.6
_MOST_LAYERED = 48
"""What is remembered at once: some books' parts, with their steps."""
_WOODEN_MM = 5.0
"""A thicker bar is drawn as wood, a thinner one as metal."""
_BAR = Colour.from_hex("#b9bdb9")
_WOOD = Colour.from_hex("#c39a63")


Shape = tuple[object, ...]
Palette = Callable[[Drawn, bool], CordColours]


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

    return lambda drawn, quiet: shaded(drawn.name.split(":")[0], quiet)


def _is_wooden(part: StepsPlan, look: Look) -> bool:
    return part.bar is not None and part.bar.diameter_mm > _WOODEN_MM and not look.mono


def _body(paint_of: Colour, index: int, cord: PartCordPlan, part: StepsPlan, look: Look) -> Colour:
    if look.mono:
        level = round(255 * _GREYS[(cord.number - 1) % len(_GREYS)])
        return Colour(level, level, level)
    alike = sum(1 for other in part.cords if other.colour == cord.colour)
    tint = _TINTS[index % len(_TINTS)] if alike > 1 else 0.0
    return paint_of.mix(WHITE if tint > 0 else BLACK, abs(tint))


class Cords(NamedTuple):
    """Cords that are painted together; as they lie to one another, and where: the same knot tied
    again has one shape."""

    drawn: tuple[Drawn, ...]
    shape: Shape
    place: complex


def cords_of(lay: Lay, *, quiet: bool = True) -> tuple[Cords, ...]:
    """All cords of a layout, stretch by stretch where it is sealed; `quiet`: what is not new is."""
    if not lay.seals:
        return (Cords(tuple(_drawn_legs(lay, quiet=quiet)), (), 0j),)
    stretches = _sealed(lay, quiet=quiet)
    return tuple(Cords(drawn, *_shape(drawn)) for drawn in stretches if drawn)


def paint_cords(
    canvas: Canvas,
    cords: Sequence[Cords],
    palette: Palette,
    ground: Colour,
    scale: float,
    origin: complex,
) -> None:
    """Draw them `scale` mm to the unit, with the layout's own origin at a place on paper."""
    detail = DETAILS[sum(scale < thin for thin in THIN_MM)]
    done: dict[Shape, tuple[Canvas, complex]] = {}
    for drawn, shape, place in cords:
        if shape in done:
            first, at = done[shape]
            off = (place - at) * scale
            canvas.again(first, f"translate({number(off.real, 3)} {number(off.imag, 3)})")
            continue
        inner = canvas.group(**PATHS)
        pen = SvgPen(inner, scale / UNIT_MM, origin / UNIT_MM, ground, palette, detail)
        paint_sheets(*_layered(drawn), pen)
        done[shape] = inner, place


@lru_cache(maxsize=_MOST_LAYERED)
def _layered(drawn: tuple[Drawn, ...]) -> tuple[Layers, tuple[Sheet, ...]]:
    """What lies over what: found once for all sizes and places that a part is drawn in."""
    layers = layered(drawn)
    return layers, sheets(layers, GAP)


def _shape(drawn: Sequence[Drawn]) -> tuple[Shape, complex]:
    place = drawn[0].curve.plane[0]
    return (
        tuple(
            (
                cord.name.split(":")[0],
                cord.diameter,
                cord.quiet,
                tuple([round((xy - place).real, 2) for xy in cord.curve.plane]),
                tuple([round((xy - place).imag, 2) for xy in cord.curve.plane]),
                tuple([round(z, 2) for z in cord.curve.height]),
            )
            for cord in drawn
        ),
        place,
    )


def _sealed(lay: Lay, *, quiet: bool) -> Iterator[tuple[Drawn, ...]]:
    """The cords of one sealed stretch after another."""
    wraps = [0, *lay.seals, len(lay.extra)]
    for index in range(len(lay.seals) + 1):
        extra = lay.extra[wraps[index] : wraps[index + 1]]
        yield tuple(_drawn_legs(lay, quiet=quiet, only=index, extra=extra))


def _drawn_legs(
    lay: Lay,
    *,
    quiet: bool,
    only: int | None = None,
    extra: Sequence[tuple[Leg, list[Point]]] | None = None,
) -> Iterator[Drawn]:
    """Every stretch (or those of one number) of every cord as a curve. The two legs of a fold
    are one."""
    if lay.bar and not only:
        curve = smooth_curve(lay.bar)
        still = ((0.0, float(curve.segments)),) if quiet and lay.fresh else ()
        yield Drawn("bar", "dowel", curve, lay.bar_thick, still)
    for leg, stretches in lay.ways.items():
        for index, way in enumerate(stretches):
            if only in (None, index) and len(way) > 1:
                yield from _stretch(lay, leg, index, way, quiet=quiet)
    for index, (leg, way) in enumerate(lay.extra if extra is None else extra):
        yield _drawn(f"{leg.cord}:wrap:{index}", way, lay.thick[leg], 0)


def _stretch(lay: Lay, leg: Leg, index: int, way: list[Point], *, quiet: bool) -> Iterator[Drawn]:
    other = Leg(leg.cord, "right" if leg.side == "left" else "left")
    if index == 0 and leg.side != "only" and _folded(lay, other, way):
        if leg.side == "left":
            yield _pair(lay, leg, other, quiet=quiet)
        return
    fresh = _fresh_from(lay, leg, index) if quiet else 0
    yield _drawn(f"{leg.cord}:{leg.side}:{index}", way, lay.thick[leg], fresh)


def _folded(lay: Lay, other: Leg, way: list[Point]) -> bool:
    """Whether another leg begins at the same place: the cord's fold, or its middle."""
    return other in lay.ways and abs(lay.ways[other][0][0].xy - way[0].xy) < 0.01


def _fresh_from(lay: Lay, leg: Leg, index: int) -> int:
    """The point of a stretch from which it is new; past its end where none of it is."""
    way = lay.ways[leg][index]
    if not lay.fresh:
        return 0
    if leg not in lay.moving:
        return len(way) - 1
    stretch, point = lay.fresh.get(leg, (0, 0))
    return point if index == stretch else 0 if index > stretch else len(way) - 1


def _pair(lay: Lay, left: Leg, right: Leg, *, quiet: bool) -> Drawn:
    """A cord with both its legs, from the end of the left one to that of the right one."""
    one, two = lay.ways[left][0], lay.ways[right][0]
    way = [_turned(point) for point in one[:0:-1]] + two
    fresh_left = _fresh_from(lay, left, 0) if quiet else 0
    fresh_right = _fresh_from(lay, right, 0) if quiet else 0
    turn = len(one) - 1
    name = f"{left.cord}:both"
    curve = smooth_curve(way)
    still = (float(turn - fresh_left), float(turn + fresh_right))
    return Drawn(name, "working", curve, lay.thick[left], (still,) if still[1] > still[0] else ())


def _turned(point: Point) -> Point:
    heading = None if point.heading is None else (point.heading + 180) % 360
    return Point(point.x, point.y, point.z, heading)


def _drawn(name: str, way: list[Point], thick: float, fresh: int) -> Drawn:
    still = ((0.0, float(fresh)),) if fresh else ()
    return Drawn(name, "working", smooth_curve(way), thick, still)
