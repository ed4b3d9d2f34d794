"""Lengths and sizes of planned pieces: the formulae, by round figures worked out from them, and
what common practice asks of any plan."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from publisher.model.pattern import Cords, Gauge
from publisher.plan.cord import chart_hitch, knot_yarn
from tests.support.grids import COTTON, chart_of, plan_of

NONE = Gauge()
HITCH = chart_hitch()


@pytest.mark.parametrize(("strands", "diameters"), [(1, 19.2), (2, 23.2)])
@pytest.mark.parametrize("cord_mm", [2.0, 3.0, 5.0])
def test_a_double_half_hitch_of_equal_cords(strands: int, diameters: float, cord_mm: float) -> None:
    """19.2 diameters round one strand, 23.2 round two (computed for this project)."""
    assert knot_yarn(NONE, HITCH, strands, cord_mm, cord_mm) == pytest.approx(
        diameters * cord_mm, rel=2e-3
    )


@pytest.mark.parametrize(("strands", "width"), [(1, 3.2), (2, 4.2)])
def test_pitch_is_nine_tenths_of_the_hard_cord(strands: int, width: float) -> None:
    """n df + 2.2 d wide and 3.0 d high, times 0.9 for soft cord until there is a swatch."""
    plan = chart_of("AAA", "AAA", gauge=NONE, cords=Cords("A", strands))
    assert plan.cell.width_mm == pytest.approx(0.9 * width * 3)
    assert plan.cell.height_mm == pytest.approx(0.9 * 9)
    assert (plan.width_mm, plan.height_mm) == pytest.approx((0.9 * 9 * width, 0.9 * 18))


def test_hitch_rows_take_some_six_times_their_width() -> None:
    """5.7 times for one strand and two of hard cord; 0.9 of the width makes it 6.3."""
    for strands in (1, 2):
        hard = knot_yarn(NONE, HITCH, strands, 3.0, 3.0) / HITCH.width_mm(strands, 3.0, 3.0)
        assert 5.5 < hard < 6.1


def test_cords_to_mount_are_cut_at_least_twice_their_hanging_length() -> None:
    """Common practice: folded cords are cut twice as long as they hang, and more."""
    plan = chart_of("AAA", "AAA", "AAA", gauge=NONE)
    hangs = plan.height_mm + plan.fringe_mm[0]
    assert all(cord.length_mm >= 2 * hangs for cord in plan.hanging_cords)


@pytest.mark.parametrize(
    ("grams_per_metre", "unusual"),
    [(0.35 * 9, False), (0.55 * 9, False), (0.2 * 9, True), (9, True)],
)
def test_the_weight_of_loose_cotton_cord(grams_per_metre: float, unusual: bool) -> None:
    """0.40 to 0.55 d squared g a metre is usual; outside 0.3 to 0.9 a writer is told (memory)."""
    yarn = {"A": replace(COTTON, grams_per_metre=grams_per_metre)}
    codes = [advice.code for advice in plan_of("AA", yarns=yarn).advice]
    assert ("cord-weight" in codes) is unusual


def test_what_is_bought_is_the_sum_of_what_is_cut() -> None:
    """Common practice: totals to buy round up, and are sums of the lengths in the list."""
    plan = plan_of("ABAB", "BBAA", "ABBA", gauge=NONE)
    for line in plan.shopping:
        metres = sum(
            cut.count * cut.length_mm for cut in plan.cutting_list if cut.colour == line.colour
        )
        assert line.length_m == math.ceil(metres / 1000)
