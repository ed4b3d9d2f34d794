"""The reed leaf, worked out by hand from the formulae, cord by cord.

One cord laid across, four folded over it with lark's heads: ten ends. Each outer end leads a row of
diagonal double half hitches over the next four, down to the middle; then the end that is outermost
now leads a second row close below the first, the leader of the first hitched over it last. A square
knot on the four inner ends joins both sides. Every cord is 3 mm thick: d = 3. The formulae are
those of relaxed cord models; no real cord was knotted.
"""

from __future__ import annotations

from math import cos, hypot, pi, radians

from pytest import approx

from publisher.plan import make_plan
from tests.support.parts import part, pattern_of

D = 3.0
UNDER_HEAD = D / 2 + 2 * D  # below the bar's axis, where the legs come out of a head: 7.5
LARKS_HEAD = (5.25 * D + 10 * D) / 2 + UNDER_HEAD  # a leg; the first is more than straight: 30.375
ACROSS = 4 * 4.0 * D * 1.03 / 2  # half of four heads, 4 d wide each: 24.72
HITCH = 2 * (pi * (D + D)) + 6.65 * D  # round one leader: 57.65
ALONG = 3.0 * D * 1.03  # the leader, from hitch to hitch: 9.27
DOWN = 3.0 * D * cos(radians(45))  # lower from hitch to hitch: 6.364
THICK = D + 2.2 * D  # a row, across its leader: 9.6
SQUARE_KNOTTING = pi * (D + D) + 2 * D + 8.75 * D  # round two fillers: 51.10
SQUARE_HEIGHT = 4.0 * D  # 12
TAIL = 120.0

FIRST_ROW = [UNDER_HEAD + DOWN * hitch for hitch in range(4)]  # tops: 7.5, 13.86, 20.23, 26.59
SECOND_ROW = [FIRST_ROW[hitch] + THICK for hitch in (1, 2, 3)]  # below 2, 3 and 4: 23.46 …
SECOND_ROW.append(SECOND_ROW[2] + DOWN)  # and the first leader, one step lower: 42.56


def test_the_leaf_takes_what_was_worked_out_by_hand() -> None:
    plan = make_plan(pattern_of(part())).parts[0]
    legs = {(leg.leg.cord, leg.leg.side): leg.used_mm for cord in plan.cords for leg in cord.legs}
    # Its own row, then down to the second row's last hitch, and one side of the square knot.
    half_across = ACROSS + 4 * ALONG + DOWN + HITCH + SQUARE_KNOTTING
    # First in row 1, it leads row 2, and is inside the square knot.
    outermost = LARKS_HEAD + HITCH + 4 * ALONG + SQUARE_HEIGHT
    # Hitched in both rows; the farther in, the longer the way down to the first.
    hitched = [LARKS_HEAD + (top - UNDER_HEAD) + 2 * HITCH for top in FIRST_ROW[1:]]
    assert legs[1, "left"] == legs[1, "right"] == approx(half_across)
    assert legs[2, "left"] == legs[5, "right"] == approx(outermost)
    assert legs[2, "right"] == legs[5, "left"] == approx(hitched[0])
    assert legs[3, "left"] == legs[4, "right"] == approx(hitched[1])
    assert legs[3, "right"] == legs[4, "left"] == approx(hitched[2])
    assert half_across == approx(176.91, abs=0.01)
    assert outermost == approx(137.10, abs=0.01)
    assert hitched == approx([152.04, 158.40, 164.77], abs=0.01)
    # The legs of the first row hang out of the way of the second: nothing is slack.
    assert hypot(1.1 * D, FIRST_ROW[0]) < ALONG and hypot(1.1 * D, DOWN) < ALONG


def test_its_cords_are_cut_for_that() -> None:
    plan = make_plan(pattern_of(part())).parts[0]
    across = 2 * (176.914 + TAIL) * 1.1  # 653.2, so 660
    outer = 2 * (152.038 + TAIL) * 1.1  # folded in half for its longer leg: 598.5, so 600
    inner = 2 * (164.767 + TAIL) * 1.1  # 626.5, so 630
    assert [cord.cut_mm for cord in plan.cords] == [660.0, 600.0, 630.0, 630.0, 600.0]
    assert 650 < across <= 660 and 590 < outer <= 600 and 620 < inner <= 630


def test_its_size_is_about_six_centimetres_each_way() -> None:
    plan = make_plan(pattern_of(part())).parts[0]
    # Widest where three hitches stand beside each other at each side, 3 d each, and two cords
    # hang at each side of the middle, 1.1 d each; soft cord 0.9 of it.
    assert plan.width_mm == approx(0.9 * (6 * 3.0 * D + 4 * 1.1 * D))
    # The second row's last hitch, the square knot, and what of a head stands above the bar.
    bottom = SECOND_ROW[3] + THICK + SQUARE_HEIGHT
    assert plan.height_mm == approx(0.9 * (bottom + D / 2 + D))
