"""Curves go through their points, smoothly, and can be cut anywhere without changing."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.knots.curve import Curve, Point, smooth_curve

places = st.tuples(st.integers(-20, 20), st.integers(-20, 20), st.integers(-3, 3))


@st.composite
def lines(draw: st.DrawFn) -> list[Point]:
    found: list[Point] = []
    for x, y, z in draw(st.lists(places, min_size=2, max_size=8)):
        if not found or abs(found[-1].xy - complex(x, y)) > 0.5:
            found.append(Point(x, y, z))
    return found if len(found) > 1 else [*found, Point(found[0].x + 1, found[0].y, 0)]


@given(lines())
def test_a_curve_goes_through_every_point(points: list[Point]) -> None:
    curve = smooth_curve(points)
    assert curve.segments == len(points) - 1
    for k, point in enumerate(points):
        xy, z = curve.at(k)
        assert xy == pytest.approx(point.xy)
        assert z == pytest.approx(point.z)


@given(lines())
def test_heights_stay_between_those_of_the_points(points: list[Point]) -> None:
    """No cord dips under another one between two points that are both above it."""
    curve = smooth_curve(points)
    for k in range(curve.segments):
        low, high = sorted((points[k].z, points[k + 1].z))
        for step in range(11):
            assert low - 1e-9 <= curve.at(k + step / 10)[1] <= high + 1e-9


@given(lines())
def test_a_curve_bends_without_corners(points: list[Point]) -> None:
    curve = smooth_curve(points)
    for k in range(1, curve.segments):
        before = curve.plane[3 * k] - curve.plane[3 * k - 1]
        after = curve.plane[3 * k + 1] - curve.plane[3 * k]
        assert abs(cmath.phase(after / before)) < 1e-6


@given(lines(), st.floats(0, 1), st.floats(0, 1))
def test_a_part_of_a_curve_is_the_curve(points: list[Point], one: float, two: float) -> None:
    curve = smooth_curve(points)
    start, end = sorted((one * curve.segments, two * curve.segments))
    if end - start < 1e-3:
        return
    part = curve.part(start, end)
    for at, whole in ((0, start), (part.segments, end)):
        assert part.at(at)[0] == pytest.approx(curve.at(whole)[0], abs=1e-6)
        assert part.at(at)[1] == pytest.approx(curve.at(whole)[1], abs=1e-6)
    joined = curve.part(0, start).joined(part) if start > 1e-3 else part
    assert _length(joined) == pytest.approx(_length(curve.part(0, end)), rel=0.001)


def _length(curve: Curve) -> float:
    """The length, by steps so short that it does not matter where they begin, even at a cusp."""
    plane, height = curve.samples(500)
    steps = zip(pairwise(plane), pairwise(height), strict=True)
    return sum(math.hypot(abs(b - a), after - before) for (a, b), (before, after) in steps)


def test_a_heading_is_kept() -> None:
    points = [Point(0, 0, 0, 90), Point(3, 3, 0, 0), Point(6, 0, 0, 270)]
    curve = smooth_curve(points)
    for u, heading in ((0, 90), (1, 0), (2, 270)):
        way = curve.heading(u)
        assert abs(way - cmath.rect(1, math.radians(heading))) < 1e-6


def test_between_two_points_with_their_own_heading_it_is_straight() -> None:
    curve = smooth_curve([Point(-4, 2, 0, 0), Point(4, 2, 1, 0)])
    assert all(abs(xy.imag - 2) < 1e-9 for xy in curve.samples()[0])


def test_a_round_bend_is_a_circle() -> None:
    """Hobby's rule: a half circle from three points leaves its circle by less than 0.1 %."""
    curve = smooth_curve([Point(1, 0, 0, 90), Point(0, 1, 0), Point(-1, 0, 0, 270)])
    assert max(abs(abs(xy) - 1) for xy in curve.samples()[0]) < 1e-3
    assert curve.length() == pytest.approx(math.pi, rel=2e-3)


def test_a_curve_mirrors_with_its_points() -> None:
    points = [Point(0, 0, 0), Point(3, 1, 1), Point(2, 5, 0), Point(-2, 3, 1)]
    mirrored = [Point(-p.x, p.y, p.z) for p in points]
    one, other = smooth_curve(points), smooth_curve(mirrored)
    for a, b in zip(one.plane, other.plane, strict=True):
        assert b == pytest.approx(-a.conjugate())


def test_a_straight_cord_is_a_curve_of_one_segment() -> None:
    curve = smooth_curve([Point(0, 0, 0), Point(0, 9, 3)])
    assert isinstance(curve, Curve)
    assert curve.length() == pytest.approx(math.hypot(9, 3))
