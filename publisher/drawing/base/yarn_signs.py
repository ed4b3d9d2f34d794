"""The yarns' own glyphs in the sign font: the marks on a chart, and the two bumps of a knot.

A mark's unit is its height, a knot's is its cell. What only shows and says nothing, rims and bumps,
has a blank for its character: copied from a page it leaves no trace.
"""

from __future__ import annotations

import math

from publisher.drawing.base.shapes import Outline, arc, box, circle, polygon
from publisher.drawing.base.signs import Sign

BUMPS = (-0.24, 0.25)
"""The middles of a knot's bumps, from its own middle down, in rows."""

_LONG, _FALL, _THICK = 0.58, 0.09, 0.40
_HEAD = polygon((-0.5, -0.5), (0.5, 0.0), (-0.5, 0.5))
_HOLE = polygon((-0.36, -0.27), (0.19, 0.0), (-0.36, 0.27))
_HEAD_RIM = polygon(
    *((-0.65, -0.58), (-0.55, -0.67), (0.61, -0.11), (0.61, 0.11), (-0.55, 0.67), (-0.65, 0.58))
)


def _bump(middle: float) -> Outline:
    """A short thick stroke with round ends, falling a little to the right."""
    half, quarter = _THICK / 2, math.pi / 2
    right = arc(half, -quarter, quarter, _LONG / 2)
    left = arc(half, quarter, 3 * quarter, -_LONG / 2)
    return tuple((x, y + middle + _FALL * x / _LONG, on) for x, y, on in (*right, *left))


def _both_ways(name: str, right: str, left: str, *outlines: Outline) -> tuple[Sign, Sign]:
    mirrored = tuple(tuple((-x, y, on) for x, y, on in outline) for outline in outlines)
    return Sign(f"{name} right", right, outlines), Sign(f"{name} left", left, mirrored)


YARN_SIGNS: tuple[Sign, ...] = (
    *_both_ways("start", "▸", "◂", _HEAD),
    *_both_ways("pick-up", "▹", "◃", _HEAD, _HOLE),
    *_both_ways("head rim", "\u2004", "\u2005", _HEAD_RIM),
    Sign("join", "▪", (box(-0.4, -0.4, 0.4, 0.4),)),
    Sign("join rim", "\u2006", (box(-0.55, -0.55, 0.55, 0.55),)),
    Sign("leave", "●", (circle(0.45),)),
    Sign("leave rim", "\u2007", (circle(0.6),)),
    *_both_ways("knot", "\u2002", "\u2003", *map(_bump, BUMPS)),
)
YARN_CHARACTERS = {sign.name: sign.character for sign in YARN_SIGNS}
