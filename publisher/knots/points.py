"""Read the points of a strand: one a line, or those of another knot's strand put in."""

from __future__ import annotations

import re

from publisher.knots.curve import Point
from publisher.knots.reader import Reader
from publisher.knots.refill import with_fillers
from publisher.knots.turn import mirror_knot
from publisher.tables.findings import KeyPath

_NUMBER = r"(-?\d*\.?\d+)"
_POINT = re.compile(
    rf"{_NUMBER}\s+{_NUMBER}\s+{_NUMBER}(?:\s+@{_NUMBER})?(?:\s+([A-Za-z][\w-]*))?\Z"
)
_USE = re.compile(
    rf"=\s*([\w-]+)\s+(\w+)\s+{_NUMBER}\s+{_NUMBER}(?:\s+round\s+([1-4]))?(\s+mirrored)?\Z"
)
NEAREST = 0.01
FARTHEST = 500.0
"""How far from the origin points lie at most: more is a slip, and would take long to draw."""
BODY = ("in", "out")
"""Marks between which a tight strand is the knot itself, without the way to it and from it."""


def read_points(reader: Reader, text: str, key: KeyPath, least: int = 1) -> tuple[Point, ...]:
    """Points one a line (or parted by semicolons): `x y z`, perhaps `@heading`, perhaps a mark.

    `= knot strand x y` puts in that knot's strand, tight, with its origin at (x, y), from its
    mark `in` to its mark `out` where it has them. After it, `round 1` to `round 4` takes the
    knot round so many fillers, and `mirrored` the other hand.
    """
    points: list[Point] = []
    for number, line in enumerate(text.split("\n")):
        for part in filter(None, map(str.strip, line.split(";"))):
            for point in _read(reader, part, key, number):
                if points and abs(points[-1].xy - point.xy) < NEAREST:
                    if part.startswith("="):
                        continue  # two knots in a row meet in one point
                    hint = "leave one out, or move it by 0.01 at least"
                    reader.problem(key, "two points in a row lie at one place", hint, number)
                else:
                    points.append(point)
    if len(points) < least:
        reader.problem(key, f"{key[-1]} has too few points", f"it needs {least} at least")
        points = [Point(0, 0, 0), Point(0, 1, 0)]
    return tuple(points)


def _read(reader: Reader, part: str, key: KeyPath, line: int) -> tuple[Point, ...]:
    if found := _POINT.match(part):
        heading = float(found[4]) if found[4] else None
        x, y, z = (float(number) for number in found.group(1, 2, 3))
        if max(abs(x), abs(y), abs(z)) <= FARTHEST:
            return (Point(x, y, z, heading, found[5]),)
        hint = f"keep within {FARTHEST:g} diameters of the origin"
        reader.problem(key, f"{part!r} lies too far off", hint, line)
        return ()
    if found := _USE.match(part):
        return _put_in(reader, found, key, line)
    reader.problem(key, f"{part!r} is no point", "write x y z, @heading and mark optional", line)
    return ()


def _put_in(reader: Reader, use: re.Match[str], key: KeyPath, line: int) -> tuple[Point, ...]:
    try:
        knot = reader.library(use[1])
    except KeyError:
        reader.problem(key, f"there is no knot {use[1]!r}", "name one of the library", line)
        return ()
    if use[5]:
        knot = with_fillers(knot, int(use[5]))
    form = (mirror_knot(knot) if use[6] else knot).tight
    if form is None or use[2] not in form.strands:
        reader.problem(key, f"{use[1]} has no tight strand {use[2]}", "name one it has", line)
        return ()
    body = _body(form.strands[use[2]].points)
    right, down = float(use[3]), float(use[4])
    return tuple(Point(one.x + right, one.y + down, one.z, one.heading) for one in body)


def _body(points: tuple[Point, ...]) -> tuple[Point, ...]:
    marks = [point.mark for point in points]
    start, end = (marks.index(mark) if mark in marks else None for mark in BODY)
    return points[start : None if end is None else end + 1]
