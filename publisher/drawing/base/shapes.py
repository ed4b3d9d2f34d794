"""Build closed outlines from simple geometry: circles, polygons, bands along a line.

An outline is a TrueType contour: nodes (x, y, on the curve?), off-curve nodes being the control
points of quadratic curves. Units are free; y points down.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from functools import lru_cache

from publisher.drawing.base.numbers import point

Point = tuple[float, float]
Node = tuple[float, float, bool]
Outline = tuple[Node, ...]

_ARC_STEP = math.pi / 4


def polygon(*points: Point) -> Outline:
    """A closed outline with straight sides."""
    return tuple((x, y, True) for x, y in points)


def box(left: float, top: float, right: float, bottom: float) -> Outline:
    """A rectangle."""
    return polygon((left, top), (right, top), (right, bottom), (left, bottom))


def circle(radius: float, cx: float = 0.0, cy: float = 0.0) -> Outline:
    """A circle, within 0.1 % of its radius."""
    return tuple(arc(radius, 0.0, 2 * math.pi, cx, cy))[:-1]


@lru_cache(maxsize=512)
def disc(radius: float, cx: float, cy: float) -> str:
    """A circle's path data: numbers stand on discs at the same places from page to page."""
    return svg_path([circle(radius)], 1.0, cx, cy)


def arc(
    radius: float, start: float, end: float, cx: float = 0.0, cy: float = 0.0
) -> Iterable[Node]:
    """Nodes along an arc between two angles (0 points right, a quarter turn points down)."""
    steps = max(1, math.ceil(abs(end - start) / _ARC_STEP - 1e-9))
    step = (end - start) / steps
    reach = radius / math.cos(step / 2)
    yield cx + radius * math.cos(start), cy + radius * math.sin(start), True
    for index in range(steps):
        middle = start + (index + 0.5) * step
        after = start + (index + 1) * step
        yield cx + reach * math.cos(middle), cy + reach * math.sin(middle), False
        yield cx + radius * math.cos(after), cy + radius * math.sin(after), True


def band(width: float, *points: Point) -> Outline:
    """A line of some width with mitred corners and square-cut ends, as one outline."""
    left = _offset(points, width / 2)
    right = _offset(points, -width / 2)
    return polygon(*left, *reversed(right))


def ring(width: float, *points: Point) -> tuple[Outline, Outline]:
    """A closed line of some width with mitred corners: its outer and its inner outline."""
    around = (points[-1], *points, points[0])
    outer, inner = (_offset(around, side)[1:-1] for side in (width / 2, -width / 2))
    return polygon(*outer), polygon(*inner)


def turned(outline: Outline, angle: float) -> Outline:
    """The outline turned about the origin by an angle in radians, clockwise on paper."""
    cos, sin = math.cos(angle), math.sin(angle)
    return tuple((x * cos - y * sin, x * sin + y * cos, on) for x, y, on in outline)


def moved(outline: Outline, dx: float, dy: float) -> Outline:
    return tuple((x + dx, y + dy, on) for x, y, on in outline)


def svg_path(
    outlines: Iterable[Outline], scale: float = 1.0, dx: float = 0.0, dy: float = 0.0
) -> str:
    """SVG path data (M L C Z), curves raised to cubics, scaled and then moved."""
    return "".join(_svg_outline(outline, scale, dx, dy) for outline in outlines)


def _svg_outline(outline: Outline, scale: float, dx: float, dy: float) -> str:
    nodes = [(x * scale + dx, y * scale + dy, on) for x, y, on in outline]
    x, y, _ = nodes[0]
    parts = [f"M{point(x, y)}"]
    control: Point | None = None
    for next_x, next_y, on in [*nodes[1:], nodes[0]]:
        if not on:
            control = (next_x, next_y)
            continue
        if control:
            parts.append(_cubic((x, y), control, (next_x, next_y)))
        elif (next_x, next_y) != nodes[0][:2]:
            parts.append(f"L{point(next_x, next_y)}")
        x, y, control = next_x, next_y, None
    return "".join(parts) + "Z"


def _cubic(start: Point, control: Point, end: Point) -> str:
    first = (start[0] + 2 * (control[0] - start[0]) / 3, start[1] + 2 * (control[1] - start[1]) / 3)
    second = (end[0] + 2 * (control[0] - end[0]) / 3, end[1] + 2 * (control[1] - end[1]) / 3)
    return f"C{point(*first)} {point(*second)} {point(*end)}"


def _offset(points: Sequence[Point], distance: float) -> list[Point]:
    """The points of a line moved sideways (to its left, y down), mitred at its corners."""
    normals = [_normal(a, b) for a, b in itertools.pairwise(points)]
    normals = [normals[0], *normals, normals[-1]]
    moved_points = []
    for (x, y), (before, after) in zip(points, itertools.pairwise(normals), strict=True):
        sum_x, sum_y = before[0] + after[0], before[1] + after[1]
        scale = 2 * distance / (sum_x * sum_x + sum_y * sum_y)
        moved_points.append((x + sum_x * scale, y + sum_y * scale))
    return moved_points


def _normal(a: Point, b: Point) -> Point:
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = math.hypot(dx, dy)
    return dy / length, -dx / length
