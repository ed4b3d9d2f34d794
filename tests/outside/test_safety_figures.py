"""What sets cautions off, held against the background figures. They are never a pass mark.

Small parts: a cylinder 31.7 mm wide, 25.4 to 57.1 mm deep (16 CFR 1501.4). Free cords: 220 mm
(the shorter of the lengths that EN 71-1 and ASTM F963 name; from memory).
"""

from __future__ import annotations

import dataclasses
import math

import pytest

from publisher.plan import make_plan
from publisher.plan.parts.lists import is_small
from tests.support.parts import part, pattern_of, plan_with, strap


@pytest.mark.parametrize(
    ("width", "height", "depth", "fits"),
    [
        (22.4, 57.1, 22.4, True),  # 22.4 x 22.4 has a diagonal of 31.68
        (22.5, 57.1, 22.5, False),  # 31.82
        (22.4, 57.2, 22.4, False),
        (57.1, 10.0, 30.0, True),  # lying down it goes in end on
        (31.7, 31.7, 31.7, False),  # a cube's corners stick out
        (31.8, 58.0, 5.0, False),
        (25.0, 25.0, 10.0, True),
    ],
)
def test_small_is_what_goes_into_the_cylinder(
    width: float, height: float, depth: float, fits: bool
) -> None:
    plan = make_plan(pattern_of(part())).parts[0]
    sized = dataclasses.replace(plan, width_mm=width, height_mm=height, depth_mm=depth)
    assert is_small(sized) is fits
    thin, broad, _ = sorted((width, height, depth))
    assert (math.hypot(thin, broad) <= 31.7) or not fits


def test_a_strap_longer_than_220_mm_is_a_free_cord() -> None:
    lengths = {gap: plan_with(strap(gap)).free_cord_mm for gap in (100.0, 300.0)}
    assert lengths[100.0] < 220 < lengths[300.0]
    assert "free-cords" not in plan_with(strap(100.0)).cautions
    assert "free-cords" in plan_with(strap(300.0)).cautions
    just = 100.0 + (220.0 - lengths[100.0]) / 0.9  # a gap counts 0.9 of itself, as size does
    assert "free-cords" not in plan_with(strap(just - 0.5)).cautions
    assert "free-cords" in plan_with(strap(just + 0.5)).cautions
