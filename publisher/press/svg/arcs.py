"""Turn an SVG elliptical arc into cubic curves (SVG 1.1, appendix F.6)."""

from __future__ import annotations

import math

Curve = tuple[float, float, float, float, float, float]


def arc_curves(
    start: tuple[float, float],
    radii: tuple[float, float],
    turned: float,
    large: bool,
    sweep: bool,
    end: tuple[float, float],
) -> list[Curve] | None:
    """The curves from `start` to `end` on an ellipse `turned` by degrees; None: a straight line.

    Each curve is a quarter of the ellipse at most: at most 0.03 % of the radius off it.
    """
    rx, ry = abs(radii[0]), abs(radii[1])
    if rx == 0 or ry == 0 or start == end:
        return None
    angle = math.radians(turned % 360)
    cos, sin = math.cos(angle), math.sin(angle)
    half_x, half_y = (start[0] - end[0]) / 2, (start[1] - end[1]) / 2
    x, y = cos * half_x + sin * half_y, cos * half_y - sin * half_x
    too_far = (x / rx) ** 2 + (y / ry) ** 2
    if too_far == 0:  # too near each other to tell apart
        return None
    if too_far > 1:  # the ellipse does not reach: it grows until it does (F.6.6)
        rx, ry = rx * math.sqrt(too_far), ry * math.sqrt(too_far)
    rest = max(1 / ((x / rx) ** 2 + (y / ry) ** 2) - 1, 0.0)
    aside = math.sqrt(rest) * (1 if large != sweep else -1)
    cx, cy = aside * rx * y / ry, -aside * ry * x / rx  # the centre, seen unturned (F.6.5)
    first = math.atan2((y - cy) / ry, (x - cx) / rx)
    last = math.atan2((-y - cy) / ry, (-x - cx) / rx)
    span = (last - first) % math.tau if sweep else -((first - last) % math.tau)
    middle_x, middle_y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2

    def placed(u: float, v: float) -> tuple[float, float]:
        """A point of the unit circle, brought onto the ellipse."""
        px, py = cx + rx * u, cy + ry * v
        return middle_x + cos * px - sin * py, middle_y + sin * px + cos * py

    pieces = max(math.ceil(abs(span) / (math.pi / 2) - 1e-9), 1)
    step = span / pieces
    handle = 4 / 3 * math.tan(step / 4)
    curves: list[Curve] = []
    for piece in range(pieces):
        a, b = first + piece * step, first + (piece + 1) * step
        cos_a, sin_a, cos_b, sin_b = math.cos(a), math.sin(a), math.cos(b), math.sin(b)
        one = placed(cos_a - handle * sin_a, sin_a + handle * cos_a)
        two = placed(cos_b + handle * sin_b, sin_b - handle * cos_b)
        to = end if piece == pieces - 1 else placed(cos_b, sin_b)
        curves.append((*one, *two, *to))
    return curves
