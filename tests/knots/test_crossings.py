"""Crossings: where, which is on top, and their sign; none lost and none doubled."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.knots import crossings
from publisher.knots.crossings import find_crossings
from publisher.knots.curve import Point, smooth_curve
from tests.support.readings import linking, reading

FLAT = smooth_curve([Point(-5, 0, 0), Point(5, 0, 0)])


def up(x: float, z: float, start: float = 5.0, end: float = -5.0):  # type: ignore[no-untyped-def]
    return smooth_curve([Point(x, start, z), Point(x, end, z)])


def test_the_higher_cord_is_over() -> None:
    (crossing,) = find_crossings({"A": FLAT, "B": up(1, 0.5)})
    assert (crossing.over.strand, crossing.under.strand) == ("B", "A")
    assert crossing.place == pytest.approx(1 + 0j, abs=1e-4)
    assert crossing.gap == pytest.approx(0.5)
    assert crossing.sine == pytest.approx(1)


def test_the_sign_is_that_of_knot_theory() -> None:
    """Going right over one that goes up the page: turn the over pass to the left (seen from
    the front) to lay it on the under pass, so the crossing is positive."""
    (right_over_up,) = find_crossings({"A": FLAT, "B": up(0.3, -1)})
    assert right_over_up.sign == 1
    (right_over_down,) = find_crossings({"A": FLAT, "B": up(0.3, -1, -5, 5)})
    assert right_over_down.sign == -1
    (right_under_up,) = find_crossings({"A": FLAT, "B": up(0.3, 1)})
    assert right_under_up.sign == -1


def test_the_reading_follows_the_strand() -> None:
    curves = {"A": FLAT, "B": up(-2, 1), "C": up(0, -1), "D": up(2, 1)}
    assert reading(find_crossings(curves), "A") == (("U", "B"), ("O", "C"), ("U", "D"))


@given(st.integers(-40, 40), st.integers(-40, 40))
def test_points_on_points_lose_no_crossing(x: int, steps: int) -> None:
    """Control points of two cords at one place in the picture, as writers like to put them."""
    at = x / 8
    across = smooth_curve([Point(-9, 0, 0), Point(at, 0, 0), Point(9, 0, 0)])
    down = smooth_curve([Point(at, -9, 1), Point(at, 0, 1), Point(at, 9, 1)])
    found = find_crossings({"A": across, "B": down})
    assert [c.over.strand for c in found] == ["B"]


angles = st.lists(st.integers(0, 35), min_size=2, max_size=6, unique=True)


@given(angles, st.data())
@settings(max_examples=60)
def test_straight_chords_of_a_circle_cross_just_when_their_ends_interleave(
    ends: list[int], data: st.DataObject
) -> None:
    """Geometry: two chords cross if and only if their ends alternate round the circle."""
    import cmath
    import math

    others = [k + 0.5 for k in data.draw(angles)]
    one, two = ends[:2], others[:2]

    def chord(pair: list[float], height: float):  # type: ignore[no-untyped-def]
        places = [cmath.rect(8, math.radians(10 * k)) for k in pair]
        return smooth_curve([Point(p.real, p.imag, height) for p in places])

    low, high = sorted(one)
    interleave = (low < two[0] < high) != (low < two[1] < high)
    found = find_crossings({"A": chord([float(k) for k in one], 0), "B": chord(two, 1)})
    assert len(found) == interleave
    assert abs(linking(found, "A", "B")) == interleave / 2


def test_a_loop_crosses_itself() -> None:
    loop = smooth_curve(
        [Point(-5, 0, 0), Point(3, 0, 0), Point(3, -4, 0.5), Point(-1, -3, 1), Point(0, 5, 1)]
    )
    (crossing,) = find_crossings({"W": loop})
    assert crossing.over.u > crossing.under.u


places = st.lists(
    st.tuples(st.integers(-9, 9), st.integers(-9, 9), st.integers(-3, 3)), min_size=3, max_size=8
)


@given(places)
def test_a_way_that_only_goes_on_is_passed_over_without_losing_a_crossing(
    points: list[tuple[int, int, int]],
) -> None:
    apart = [points[0]]
    for point in points[1:]:
        if point[:2] != apart[-1][:2]:
            apart.append(point)
    curve = smooth_curve([*(Point(*place) for place in apart), Point(20, 20, 0)])
    with pytest.MonkeyPatch.context() as patch:
        found = find_crossings({"A": curve})
        patch.setattr(crossings, "_go_on", lambda one, other: False)
        assert found == find_crossings({"A": curve})
