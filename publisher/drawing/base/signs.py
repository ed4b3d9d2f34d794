"""The chart's own set of signs, built from simple geometry and ordered from light to heavy.

The unit is the shorter side of a cell, the origin its middle; y points down. Any two signs, in any
mirror image or quarter turn, differ in at least 35 % of their ink at 4 mm, blurred as by a copier:
tests/drawing/test_symbol_set.py holds every sign to it.
"""

from __future__ import annotations

import math

from publisher.drawing.base.shapes import (
    Outline,
    arc,
    band,
    box,
    circle,
    moved,
    polygon,
    ring,
    turned,
)
from publisher.frozen import frozen


@frozen
class Sign:
    """`character` stands for it in the sign font: its nearest kin in Unicode.

    Outlines wind either way; a point is inked where an odd number of them surround it.
    """

    name: str
    character: str
    outlines: tuple[Outline, ...]


def _plus(arm: float, width: float) -> Outline:
    half = width / 2
    quarter = [(-half, -arm), (half, -arm), (half, -half)]
    turns = [(1, 0), (0, 1), (-1, 0), (0, -1)]
    return polygon(*((x * c - y * s, x * s + y * c) for c, s in turns for x, y in quarter))


def _wave() -> Outline:
    top = [(-0.36, -0.05), (-0.18, -0.40), (0.0, -0.05), (0.18, 0.30), (0.36, -0.05)]
    bottom = [(0.36, 0.13), (0.18, 0.45), (0.0, 0.12), (-0.18, -0.22), (-0.36, 0.13)]
    curve = (True, False, True, False, True)
    return tuple((x, y, on) for (x, y), on in zip(top + bottom, curve * 2, strict=True))


def _eye() -> Outline:
    """Return where two circles overlap."""
    radius, apart = 0.42, 0.24
    tip = math.asin(apart / radius)
    upper = list(arc(radius, math.pi + tip, 2 * math.pi - tip, 0.0, apart))
    lower = list(arc(radius, tip, math.pi - tip, 0.0, -apart))
    return (*upper[:-1], *lower[:-1])


def _chevron(width: float, reach: float, depth: float) -> Outline:
    return band(width, (-reach, -depth), (0.0, depth), (reach, -depth))


_TRIANGLE = ((0, -0.27), (0.29, 0.24), (-0.29, 0.24))
_SQUARE = ((-0.25, -0.25), (0.25, -0.25), (0.25, 0.25), (-0.25, 0.25))
_BOW = ((-0.34, -0.28), (0, -0.04), (0.34, -0.28), (0.34, 0.28), (0, 0.04), (-0.34, 0.28))
_THREE = ((0, -0.24), (0.25, 0.20), (-0.25, 0.20))
_FOUR = ((-0.22, -0.22), (0.22, -0.22), (0.22, 0.22), (-0.22, 0.22))
_SILL = (box(-0.32, -0.36, 0.32, -0.22), box(-0.32, 0.22, 0.32, 0.36))
_STRIPES = (
    band(0.13, (-0.36, 0.06), (0.06, -0.36)),
    band(0.13, (-0.36, 0.36), (0.36, -0.36)),
    band(0.13, (-0.06, 0.36), (0.36, -0.06)),
)

SIGNS: tuple[Sign, ...] = (
    Sign("dot", "•", (circle(0.11),)),
    Sign("slash", "╱", (band(0.11, (-0.20, 0.28), (0.20, -0.28)),)),
    Sign("two dots", "‥", (circle(0.11, -0.22), circle(0.11, 0.22))),
    Sign("plus", "+", (_plus(0.27, 0.11),)),
    Sign("wave", "∿", (_wave(),)),
    Sign("chevron", "⌄", (_chevron(0.15, 0.28, 0.17),)),
    Sign("three dots", "∴", tuple(circle(0.12, x, y) for x, y in _THREE)),
    Sign("ring", "○", (circle(0.27), circle(0.17))),
    Sign("eye", "◉", (_eye(), circle(0.10))),
    Sign("four dots", "⸬", tuple(circle(0.11, x, y) for x, y in _FOUR)),
    Sign("saltire", "✕", (turned(_plus(0.325, 0.15), math.pi / 4),)),
    Sign("hoop", "◯", (circle(0.38), circle(0.29))),
    Sign("triangle", "△", ring(0.11, *_TRIANGLE)),
    Sign("sill", "⌶", (*_SILL, box(-0.07, -0.07, 0.07, 0.07))),
    Sign("chevrons", "⩔", tuple(moved(_chevron(0.12, 0.34, 0.13), 0, y) for y in (-0.2, 0.2))),
    Sign("bow", "⧓", (polygon(*_BOW),)),
    Sign("lozenge", "◆", (polygon((0, -0.38), (0.30, 0), (0, 0.38), (-0.30, 0)),)),
    Sign("square", "□", ring(0.12, *_SQUARE)),
    Sign("bars", "‖", (box(-0.24, -0.38, -0.07, 0.38), box(0.07, -0.38, 0.24, 0.38))),
    Sign("checker", "▚", (box(-0.36, -0.36, 0, 0), box(0, 0, 0.36, 0.36))),
    Sign("half", "◣", (polygon((-0.36, -0.36), (0.36, 0.36), (-0.36, 0.36)),)),
    Sign("stripes", "▨", _STRIPES),
    Sign("cross", "✚", (_plus(0.37, 0.30),)),
    Sign("window", "◘", (box(-0.34, -0.34, 0.34, 0.34), circle(0.14))),
)

FIRST_CHOICE = (
    *("dot", "window", "lozenge", "ring", "saltire", "triangle", "plus", "bars"),
    *("square", "bow", "chevron", "slash", "half", "checker", "hoop", "four dots", "cross"),
    *("three dots", "wave", "two dots", "sill", "stripes", "chevrons", "eye"),
)
"""Which signs are used first: those that tell most from each other and from letters."""
