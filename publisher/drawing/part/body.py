"""Take a knot's body out of its tight form: its strands by the side that they come in on.

All lengths in the drawing of parts are in diameters of the thickest cord.
"""

from __future__ import annotations

from collections.abc import Sequence

from publisher.frozen import frozen
from publisher.knots import Knot
from publisher.knots.curve import Point
from publisher.knots.model import KnotForm, Strand
from publisher.knots.refill import with_fillers
from publisher.knots.turn import mirror_knot

LIBRARY_BAR = 1.3
"""The radius of the dowel that the library mounts lark's heads on."""

Path = tuple[Point, ...]


@frozen
class Body:
    """Ways through a knot, from the leftmost entry to the rightmost; `top` and `bottom` of it."""

    ways: tuple[Path, ...]
    top: float
    bottom: float

    @property
    def out(self) -> tuple[int, ...]:
        """The ways by their number, from the leftmost end to the rightmost."""
        return tuple(sorted(range(len(self.ways)), key=lambda way: self.ways[way][-1].x))


_MOST_KEPT = 128
_bodies: dict[tuple[str, int | None, bool], Body] = {}
"""They are kept, as a part has the same knot many times."""


def knot_body(knot: Knot, fillers: int | None = None, *, mirrored: bool = False) -> Body:
    """The body of a knot whose cords come in at the top and go out at the bottom."""
    key = knot.digest, fillers, mirrored
    found = _bodies.get(key)
    if found is None:
        if len(_bodies) >= _MOST_KEPT:
            _bodies.clear()
        found = _bodies[key] = _find_body(knot, fillers, mirrored)
    return found


def _find_body(knot: Knot, fillers: int | None, mirrored: bool) -> Body:
    if fillers is not None:
        knot = with_fillers(knot, fillers)
    form = _tight(mirror_knot(knot) if mirrored else knot)
    strands = [strand for strand in form.strands.values() if strand.role != "dowel"]
    bodies = [_body(strand) for strand in strands if len(strand.points) > 2]
    ys = [point.y for body in bodies for point in body]
    top, bottom = min(ys), max(ys)
    ways = [
        _body(strand) if len(strand.points) > 2 else _straight(strand, top, bottom)
        for strand in strands
    ]
    return Body(tuple(sorted(ways, key=lambda way: way[0].x)), top, bottom)


def way_round(knot: Knot, *, mirrored: bool = False) -> Path:
    """Return the way of a hitch's working cord round the others."""
    strands = _tight(mirror_knot(knot) if mirrored else knot).strands.values()
    return _body(next(strand for strand in strands if strand.role == "working"))


def lark_legs(knot: Knot, bar_radius: float) -> tuple[Path, Path]:
    """A lark's head on a bar about the origin: its left and its right leg, each from the fold."""
    strands = _tight(knot).strands.values()
    points = next(strand for strand in strands if strand.role == "working").points[1:-1]
    points = tuple(_on_bar(point, bar_radius) for point in points)
    half = len(points) // 2
    left, right = points[half - 1], points[half]
    fold = left._replace(x=(left.x + right.x) / 2)
    legs = (fold, *points[half - 1 :: -1]), (fold, *points[half:])
    return legs if legs[0][-1].x < legs[1][-1].x else legs[::-1]


def _tight(knot: Knot) -> KnotForm:
    return knot.tight or knot.loose


def _body(strand: Strand) -> Path:
    """The knot itself, without the straight ends by which it hangs in its picture."""
    marks = [point.mark for point in strand.points]
    start = marks.index("in") if "in" in marks else 1
    end = marks.index("out") if "out" in marks else len(marks) - 2
    return tuple([Point(p.x, p.y, p.z, p.heading) for p in strand.points[start : end + 1]])


def _straight(strand: Strand, top: float, bottom: float) -> Path:
    x, z = strand.points[0].x, strand.points[0].z
    return Point(x, top, z, 90), Point(x, bottom, z, 90)


def _on_bar(point: Point, radius: float) -> Point:
    """A point of the library's lark's head, drawn closer round a thinner bar."""
    around = LIBRARY_BAR + 0.5
    share = (radius + 0.5) / around
    if point.y <= around:
        return point._replace(y=point.y * share, z=point.z * share)
    return point._replace(y=point.y - around * (1 - share))


def moved(path: Sequence[Point], dx: float, dy: float) -> Path:
    return tuple([Point(x + dx, y + dy, z, heading, mark) for x, y, z, heading, mark in path])
