"""A berry's fillers, measured on the ball: a band of square knots rolled up (plain geometry).

Three square knots, each 4 d high and 3 d deep, are rolled up until the band's lower edge meets its
upper one: its middle line is then a ring 12 d round. The fillers have gone down that band; from
its end, at the top of the ring, they go behind the ball and down to below it, where a fourth
square knot locks them. So they need the band, the fourth knot, and no less than the straight way
from the middle of the band at the top to under the band at the bottom; and no more than that and
half the way round the ball.
"""

from __future__ import annotations

import re
from math import pi

from publisher.layout import lay_out_text
from publisher.model.parts import PartCord, Tie
from publisher.plan import make_plan
from tests.support.parts import part, pattern_of
from tests.support.shop import manuscript

D = 3.0
KNOT_HIGH, KNOT_DEEP = 4 * D, 3 * D
RING = 3 * KNOT_HIGH / pi  # across, from middle line to middle line: 3.8 d
LEAST = 4 * KNOT_HIGH + RING + KNOT_DEEP / 2
MOST = 4 * KNOT_HIGH + pi * (RING + KNOT_DEEP) / 2 + KNOT_DEEP
BERRIES, TAIL, SPARE = 8, 100.0, 1.10

SINGLE = (PartCord("G", "single"),) * 4
STRING = part(SINGLE, (Tie(knot="berry-knot", on=(1, 2, 3, 4), times=BERRIES),), 1, TAIL)


def test_fillers_reach_round_the_ball() -> None:
    plan = make_plan(pattern_of(STRING)).parts[0]
    for filler in plan.cords[1:3]:
        assert LEAST * BERRIES <= filler.used_mm <= MOST * BERRIES


def test_what_is_printed_to_cut_for_them_suffices() -> None:
    """With a tail at both ends, and what is spared; cut lengths are whole centimetres."""
    text = " ".join(lay_out_text(manuscript(pattern_of(STRING), "plain-text")).split())
    found = re.search(r"2 × (\d+) cm \([^)]*\) of G [^,]*, ends 2 and 3:", text)
    assert found, text
    assert 10 * int(found[1]) >= (LEAST * BERRIES + 2 * TAIL) * SPARE
    assert 10 * int(found[1]) <= (MOST * BERRIES + 2 * TAIL) * SPARE + 10
    knotting = re.search(r"2 × (\d+) cm \([^)]*\) of G [^,]*, ends 1 and 4:", text)
    assert knotting and int(knotting[1]) > int(found[1])


def test_the_cutting_list_has_the_same() -> None:
    plan = make_plan(pattern_of(STRING))
    lengths = {line.length_mm: line.count for line in plan.cutting_list if line.piece == STRING.id}
    assert lengths == {plan.parts[0].cords[index].cut_mm: 2 for index in (0, 1)}
