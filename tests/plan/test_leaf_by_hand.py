"""The leaf of the trade, worked out by hand from the formulae, cord by cord.

One cord laid across; two folded over it with reverse lark's heads; a square knot on the four
tails; then each half of the cord across leads gathering double half hitches over the two tails
on its side, inward to the tip, where the halves are tied (common practice; from memory). Every
cord is 3 mm thick: d = 3. The formulae are those of relaxed cord models; no real cord was knotted.
"""

from __future__ import annotations

from math import cos, hypot, pi, radians

from parts import part, pattern_of
from pytest import approx

from publisher.plan import make_plan

D = 3.0
UNDER_HEAD = D / 2 + 2 * D  # below the bar's axis, where the legs come out of a head: 7.5
LARKS_HEAD = (5.25 * D + 10 * D) / 2 + UNDER_HEAD  # a leg; the first is more than straight: 30.375
ACROSS = 2 * 4.0 * D * 1.03 / 2  # half of two heads, 4 d wide each: 12.36
SQUARE_KNOTTING = pi * (D + D) + 2 * D + 8.75 * D  # round two fillers: 51.10
SQUARE_HEIGHT = 4.0 * D  # 12
HITCH_ROUND_1 = 2 * (pi * (D + D)) + 6.65 * D  # 57.65
HITCH_ROUND_2 = 2 * (pi * (D + D) + 2 * D) + 6.65 * D  # 69.65
REEF = 8.7 * D  # each end: 26.1
STEP = 3.0 * D  # along the leader, from hitch to hitch: 9
DOWN = STEP * cos(radians(45))  # 6.364
TAIL = 120.0


def test_the_leaf_takes_what_was_worked_out_by_hand() -> None:
    plan = make_plan(pattern_of(part())).parts[0]
    legs = {(leg.leg.cord, leg.leg.side): leg.used_mm for cord in plan.cords for leg in cord.legs}
    first_hitch = UNDER_HEAD + SQUARE_HEIGHT  # below the bar: 19.5
    knotting = LARKS_HEAD + SQUARE_KNOTTING  # 81.47
    filler = LARKS_HEAD + SQUARE_HEIGHT  # 42.375
    to_first, to_second = hypot(1.1 * D, first_hitch), STEP * 1.03  # 19.78; 9.27
    half_across = ACROSS + to_first + to_second + REEF  # 67.51
    outer = knotting + HITCH_ROUND_1 + to_second  # in the bundle past the second hitch: 148.39
    inner = filler + DOWN + HITCH_ROUND_2  # 118.39
    for side in ("left", "right"):
        assert legs[1, side] == approx(half_across)
    assert legs[2, "left"] == legs[3, "right"] == approx(outer)
    assert legs[2, "right"] == legs[3, "left"] == approx(inner)
    assert half_across == approx(67.51, abs=0.01)
    assert outer == approx(148.39, abs=0.01)
    assert inner == approx(118.39, abs=0.01)


def test_its_cords_are_cut_for_that() -> None:
    plan = make_plan(pattern_of(part())).parts[0]
    across = 2 * (67.507 + TAIL) * 1.1  # 412.5, so 420
    folded = 2 * (148.394 + TAIL) * 1.1  # folded in half for its longer leg: 590.47, so 600
    assert [cord.cut_mm for cord in plan.cords] == [420.0, 600.0, 600.0]
    assert 410 < across <= 420 and 590 < folded <= 600


def test_its_size_is_about_four_by_five_centimetres() -> None:
    plan = make_plan(pattern_of(part())).parts[0]
    # Widest at the square knot: 2 d + 3.8 d, and a cord at each side, 1.1 d; soft cord 0.9 of it.
    assert plan.width_mm >= 0.9 * (5.8 * D + 2.2 * D)
    # Head, square knot, two hitches down 45 degrees, the last round two cords, the knot at the tip.
    tip = UNDER_HEAD + SQUARE_HEIGHT + DOWN + 4.2 * D + 4 * D
    assert plan.height_mm == approx(0.9 * (tip + D / 2 + D), rel=0.01)
