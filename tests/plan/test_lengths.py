"""Yarn and cord lengths: every centimetre accounted for, and nobody runs short."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from publisher.model.pattern import CarryLimit, Cords, Fringe, Gauge, Mount
from publisher.model.plan import ChartPlan, YarnRoute
from publisher.plan.lists.hanging import fringe_lengths
from tests.support.grids import (
    COTTON,
    LIMITS,
    ORDERS,
    SEVEN_BY_FIVE,
    SIDES,
    chart_of,
    charts,
    plan_of,
)

WORKING = st.sampled_from([400.0, 730.0, 1234.0, 3000.0])


def lengths_of(plan: ChartPlan, yarn: YarnRoute) -> list[tuple[int, float]]:
    """Knots and carries of each cut length, by following the yarn knot by knot."""
    joins = {(spot.row, spot.cord) for spot in yarn.joins}
    carried = {(c.target.row, c.target.cord): c.length_mm for c in yarn.carries}
    found: list[tuple[int, float]] = [(0, 0.0)]
    for stretch in yarn.stretches:
        step = 1 if stretch.last_cord >= stretch.first_cord else -1
        for cord in range(stretch.first_cord, stretch.last_cord + step, step):
            knots, mm = found[-1]
            found[-1] = (knots, mm + carried.get((stretch.row, cord), 0.0))
            if (stretch.row, cord) in joins:
                found.append((0, 0.0))
            knots, mm = found[-1]
            found[-1] = (knots + 1, mm)
    return found


@settings(deadline=None)
@given(charts(6, 7, "ABC"), SIDES, ORDERS, LIMITS, WORKING, st.sampled_from([0.0, 10.0, 25.0]))
def test_every_centimetre_is_accounted_for(
    cells: list[str], side: Any, order: Any, limit: CarryLimit, working: float, allowance: float
) -> None:
    """Cut = knots + carries + tails + left over, length by length; left over is the allowance
    at least, and no length is longer than the working length but where one knot needs it."""
    plan = chart_of(
        *cells,
        first_row_from=side,
        order=order,
        carry=limit,
        working_length_mm=working,
        allowance_percent=allowance,
    )
    assert sum(yarn.knots for yarn in plan.yarns) == plan.total_knots
    for yarn in plan.yarns:
        parts = lengths_of(plan, yarn)
        assert len(parts) == len(yarn.joins) + 1 == len(yarn.cut_lengths_mm)
        assert sum(knots for knots, _ in parts) == yarn.knots
        needs = [knots * 60.0 + mm + 2 * plan.piece.tail_mm for knots, mm in parts]
        assert yarn.length_mm == pytest.approx(sum(needs))
        carried = sum(mm for _, mm in parts)
        assert carried == pytest.approx(yarn.carried_mm)
        assert sum(yarn.cut_lengths_mm) == pytest.approx(yarn.length_mm + yarn.left_over_mm)
        for (knots, _), need, cut in zip(parts, needs, yarn.cut_lengths_mm, strict=True):
            assert cut % 50 == 0
            assert cut >= need * (1 + allowance / 100) - 1e-6
            assert cut < max(working, need * (1 + allowance / 100)) + 50
            assert knots == 1 or need * (1 + allowance / 100) <= working + 1e-6


def test_a_yarn_worked_by_hand() -> None:
    """A ends row 1 at cord 3 and begins row 2, worked from the right, at cord 4.

    5 knots of 60 mm, a column and a row of carry, 7 + 5 mm, and two tails of 100: 512 mm. With a
    tenth to spare 563.2, so 600 mm are cut and 88 mm are left over.
    """
    plan = chart_of("AAABB", "BBAAB", carry=CarryLimit(2, 1))
    yarn = next(yarn for yarn in plan.yarns if yarn.colour == "A")
    assert (yarn.knots, yarn.carried_mm, yarn.length_mm) == (5, 12, 512)
    assert yarn.cut_lengths_mm == (600.0,)
    assert yarn.left_over_mm == 88


def test_all_but_the_last_length_are_full() -> None:
    """100 knots of 60 mm; 3000 / 1.1 - 200 does 42: two full lengths and 16 knots, 1300 mm."""
    (yarn,) = chart_of("A" * 50, "A" * 50).yarns
    assert yarn.cut_lengths_mm == (3000.0, 3000.0, 1300.0)
    assert 16 * 60 + 200 == 1160
    assert 1250 < 1160 * 1.1 <= 1300


@given(
    st.sampled_from(["straight", "point", "arch"]),
    st.integers(1, 40),
    st.floats(50, 300),
    st.floats(0, 300),
    st.floats(4, 16),
)
def test_fringes_have_their_shape(
    shape: Any, columns: int, shortest: float, drop: float, pitch: float
) -> None:
    lengths = fringe_lengths(Fringe(shape, shortest + drop, shortest), columns, pitch)
    assert lengths == pytest.approx(lengths[::-1])
    half = lengths[: (columns + 1) // 2]
    if shape == "straight":
        assert set(lengths) == {shortest + drop}
        return
    assert all(shortest - 1e-6 <= length <= shortest + drop + 1e-6 for length in lengths)
    assert list(half) == sorted(half, reverse=shape == "arch")
    if columns > 1:
        assert lengths[0] == pytest.approx(shortest if shape == "point" else shortest + drop)
    if columns % 2:
        middle = shortest + drop if shape == "point" else shortest
        assert lengths[columns // 2] == pytest.approx(middle)


def test_an_arch_lies_on_a_circle() -> None:
    """21 columns of 10 mm, 60 mm from 90 to 150: all tips are as far from one centre."""
    lengths = fringe_lengths(Fringe("arch", 150.0, 90.0), 21, 10.0)
    radius = (100**2 + 60**2) / (2 * 60)
    centre = 90 + radius
    for column, length in enumerate(lengths):
        assert math.hypot((column - 10) * 10, centre - length) == pytest.approx(radius)


@given(st.integers(2, 60), st.floats(1, 20), st.integers(-3, 3))
def test_an_arch_can_be_half_a_circle_or_all_but(columns: int, pitch: float, ulps: int) -> None:
    """The drop is half the width, give or take what the arithmetic adds."""
    half_mm = (columns - 1) / 2 * pitch
    drop_mm = half_mm + ulps * math.ulp(half_mm)
    lengths = fringe_lengths(Fringe("arch", 100.0 + drop_mm, 100.0), columns, pitch)
    assert (lengths[0], lengths[-1]) == pytest.approx((100 + half_mm, 100 + half_mm), abs=1e-3)


@given(st.integers(2, 60), st.floats(1, 20), st.floats(0, 1e-6))
def test_an_arch_can_be_all_but_straight(columns: int, pitch: float, drop_mm: float) -> None:
    """Its edges hang lower by the whole drop, however small it is and however large the circle."""
    lengths = fringe_lengths(Fringe("arch", drop_mm, 0.0), columns, pitch)
    assert (lengths[0], lengths[-1]) == pytest.approx((drop_mm, drop_mm), rel=1e-9)
    assert all(0.0 <= length <= drop_mm * (1 + 1e-9) for length in lengths)


def test_a_point_is_linear() -> None:
    assert fringe_lengths(Fringe("point", 200.0, 100.0), 5, 10.0) == (100, 150, 200, 150, 100)


def hanging_need(rows: int, fringe: float) -> float:
    """Mount + 2 x (rows x row pitch x 1.03 + fringe + 20 mm), cord 3 mm, dowel 12 mm."""
    return 5.25 * 12 + 10 * 3 + 2 * (rows * 5.0 * 1.03 + fringe + 20)


def test_one_folded_cord_a_column() -> None:
    plan = chart_of("AAA", "AAA", fringe=Fringe("point", 150.0, 100.0))
    cuts = [cord.length_mm for cord in plan.hanging_cords]
    assert [cord.columns for cord in plan.hanging_cords] == [(1,), (2,), (3,)]
    for cut, fringe in zip(cuts, (100, 150, 100), strict=True):
        need = hanging_need(2, fringe) * 1.1
        assert need <= cut < need + 5
        assert cut % 5 == 0


def test_single_strands_share_a_folded_cord_and_an_odd_column_has_its_own() -> None:
    plan = plan_of("AAA", fringe=Fringe("point", 150.0, 100.0), cords=Cords("A", 1))
    (chart,) = plan.charts
    assert [cord.columns for cord in chart.hanging_cords] == [(1, 2), (3,)]
    assert [cord.fringe_mm for cord in chart.hanging_cords] == [150.0, 100.0]
    longer = hanging_need(1, 150) * 1.1
    assert longer <= chart.hanging_cords[0].length_mm < longer + 5
    assert [advice.cord for advice in plan.advice if advice.code == "odd-last-leg"] == [3]
    even = plan_of("AAAA", cords=Cords("A", 1))
    assert not any(advice.code == "odd-last-leg" for advice in even.advice)


DIAMETERS = st.sampled_from([2.0, 3.0, 4.0, 5.0])


@example(["AA"], 2.0, 2.0, 1, "arch", 0.0, 5e-324, 0.0, "no swatch")
@settings(deadline=None)
@given(
    charts(9, 6, "AB"),
    DIAMETERS,
    DIAMETERS,
    st.sampled_from([1, 2]),
    st.sampled_from(["straight", "point", "arch"]),
    st.floats(0, 200),
    st.floats(0, 100),
    st.sampled_from([0.0, 10.0]),
    st.sampled_from(["no swatch", "narrow", "little yarn"]),
)
def test_hanging_cords_suffice_in_the_stiffest_yarn(
    cells: list[str],
    one: float,
    other: float,
    strands: int,
    shape: Any,
    shortest: float,
    drop: float,
    allowance: float,
    swatch: str,
) -> None:
    """They can't be joined. In hard cord, as in the models of the knots, a row is three diameters
    of the thickest working yarn high, and a cord takes 3 % more than the cloth that it runs
    through. Each leg must reach to where the fringe is cut, and the fringe be as long as told."""
    longest = shortest + (0.0 if shape == "straight" else drop)
    thickest = max({"A": one, "B": other}[letter] for letter in set("".join(cells)))
    gauge = {
        "no swatch": Gauge(),
        "narrow": Gauge(columns=20, width_mm=40.0 * thickest),
        "little yarn": Gauge(yarn_mm_per_knot=15.0 * thickest),
    }[swatch]
    plan = chart_of(
        *cells,
        gauge=gauge,
        cords=Cords(min("".join(cells)), strands),
        yarns={"A": replace(COTTON, diameter_mm=one), "B": replace(COTTON, diameter_mm=other)},
        fringe=Fringe(shape, longest, longest if shape == "straight" else shortest),
        allowance_percent=allowance,
    )
    diameters = {"A": one, "B": other}
    row_mm = 3.0 * max(diameters[letter] for letter in plan.knots)
    mount_mm = 5.25 * 12 + 10 * diameters[plan.piece.cords.colour]
    for cord in plan.hanging_cords:
        leg_mm = (cord.length_mm - mount_mm) / 2 - plan.rows * row_mm * 1.03
        assert all(leg_mm >= plan.fringe_mm[column - 1] for column in cord.columns)
        assert leg_mm >= 20 + cord.fringe_mm - 1e-6, "and something to cut it level"


def test_a_swatch_of_rows_is_what_hanging_cords_are_cut_for() -> None:
    measured = chart_of("AA", "AA", gauge=Gauge(rows=20, height_mm=170.0))
    assert measured.row_heights is None
    guessed = chart_of("AA", "AA", gauge=Gauge(columns=20, width_mm=170.0))
    assert guessed.row_heights is not None
    heights = guessed.row_heights
    assert (heights.least_mm, heights.planned_mm) == pytest.approx((2.6 * 3, 3.0 * 3))
    assert heights.most_mm == pytest.approx(3.4 * 3)
    need = (5.25 * 12 + 10 * 3 + 2 * (2 * 8.5 * 1.03 + 150 + 20)) * 1.1
    assert need <= measured.hanging_cords[0].length_mm < need + 5


@settings(deadline=None)
@given(charts(5, 6, "AB"), DIAMETERS, DIAMETERS, st.sampled_from([1, 2]), LIMITS)
def test_a_thicker_cord_never_takes_less(
    cells: list[str], one: float, other: float, strands: int, limit: CarryLimit
) -> None:
    """Without a swatch: each colour's knots and carries, the cords, the piece's size."""
    small, large = (
        chart_of(
            *cells,
            gauge=Gauge(),
            carry=limit,
            cords=Cords(min("".join(cells)), strands),
            yarns={letter: replace(COTTON, diameter_mm=diameter) for letter in "AB"},
        )
        for diameter in sorted((one, other))
    )
    assert small.width_mm <= large.width_mm
    assert small.height_mm <= large.height_mm
    for letter in small.knots:
        less, more = (
            sum(
                yarn.knots * plan.yarn_mm_per_knot[letter] + yarn.carried_mm
                for yarn in plan.yarns
                if yarn.colour == letter
            )
            for plan in (small, large)
        )
        assert less <= more + 1e-6
    for thin, thick in zip(small.hanging_cords, large.hanging_cords, strict=True):
        assert thin.length_mm <= thick.length_mm


@settings(deadline=None)
@given(charts(6, 7, "ABC"), ORDERS, LIMITS, st.integers(0, 3), st.integers(0, 2))
def test_more_carry_never_means_more_yarns(
    cells: list[str], order: Any, limit: CarryLimit, wider: int, further: int
) -> None:
    more = replace(limit, columns=limit.columns + wider, rows=limit.rows + further)
    few = chart_of(*cells, order=order, carry=more)
    many = chart_of(*cells, order=order, carry=limit)
    assert len(few.yarns) <= len(many.yarns)


def test_the_swatch_is_taken_where_it_speaks() -> None:
    swatch = Gauge(columns=20, width_mm=160, rows=20, height_mm=170, yarn_mm_per_knot=62)
    plan = chart_of("AB", "AB", gauge=swatch)
    assert (plan.cell.width_mm, plan.cell.height_mm, plan.cell.measured) == (8.0, 8.5, True)
    assert plan.yarn_mm_per_knot == {"A": 62, "B": 62}
    partly = chart_of("AB", gauge=Gauge(columns=20, width_mm=160))
    assert partly.cell.width_mm == 8.0
    assert partly.cell.height_mm == pytest.approx(0.9 * 3.0 * 3.0)
    assert not partly.cell.measured


def test_pitch_and_height_take_the_thickest_yarn_and_a_knot_its_own() -> None:
    thick = replace(COTTON, key="cotton-5", diameter_mm=5.0)
    plan = chart_of("AB", gauge=Gauge(), yarns={"B": thick})
    assert plan.cell.width_mm == pytest.approx(0.9 * (2 * 3 + 2.2 * 5))
    assert plan.cell.height_mm == pytest.approx(0.9 * 3.0 * 5)
    around = {d: 2 * (math.pi * (3 + d) + 2 * 3) + 6.65 * d for d in (3, 5)}
    assert plan.yarn_mm_per_knot == pytest.approx({"A": around[3], "B": around[5]})


def test_a_working_length_too_short_for_a_knot_is_cut_longer_and_told() -> None:
    """Tails of 100 mm and a knot of 60 take 286 mm with the tenth: 300 mm are cut, not 200."""
    plan = plan_of("AA", working_length_mm=200.0)
    (yarn,) = plan.charts[0].yarns
    assert yarn.cut_lengths_mm == (300.0, 300.0)
    told = next(advice for advice in plan.advice if advice.code == "short-working-length")
    assert told.values == {"yarn": "A1", "cut_mm": 300.0, "working_mm": 200.0}


def test_time_is_told_only_where_the_writer_gives_it() -> None:
    assert chart_of("AAB").work_seconds is None
    assert chart_of("AAB", seconds_per_knot=12.0).work_seconds == 36.0


def test_the_dowel_stands_out_and_the_loop_spans_it() -> None:
    plan = chart_of("A" * 30, mount=Mount("larks-head", diameter_mm=12.0), gauge=SEVEN_BY_FIVE)
    assert plan.width_mm + 60 <= plan.dowel_length_mm < plan.width_mm + 70
    assert plan.hanging_loop_mm > plan.dowel_length_mm
