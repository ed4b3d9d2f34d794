"""What sets cautions off, held against the background figures. They are never a pass mark.

Small parts: a cylinder 31.7 mm wide, 25.4 to 57.1 mm deep (16 CFR 1501.4). Free cords: 220 mm
(the shorter of the lengths that EN 71-1 and ASTM F963 name; from memory).
"""

from __future__ import annotations

import dataclasses
import math

import pytest
from parts import part, pattern_of

from publisher.plan import make_plan
from publisher.plan.part_lists import is_small
from publisher.plan.values import Plan
from publisher.source.parts import AssemblyStep, Gap, Glue, StepsPiece, Target, Tie, Trim


def plan_with(piece: StepsPiece, *deeds: str) -> Plan:
    assembly = tuple(
        AssemblyStep(deed, piece.id, 1, None, 0.0, "tails", "")  # type: ignore[arg-type]
        for deed in deeds
    )
    return make_plan(dataclasses.replace(pattern_of(piece), assembly=assembly))


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


SMALL = part(steps=(Tie(knot="berry-knot", on=(2, 3, 4, 5)), Trim(trim_mm=5)))


@pytest.mark.parametrize("deed", ["sew", "glue"])
def test_a_small_part_that_is_fastened_sets_the_caution_off(deed: str) -> None:
    assert is_small(make_plan(pattern_of(SMALL)).parts[0])
    assert "small-parts" in plan_with(SMALL, deed).cautions
    assert "small-parts" not in plan_with(SMALL, "hang").cautions


def test_glue_sets_the_hot_glue_caution_off_wherever_it_is_used() -> None:
    glued = part(steps=(Tie(knot="square-knot", on=(2, 3, 4, 5)), Glue(what="the tails")))
    assert "hot-glue" in plan_with(glued).cautions
    assert "hot-glue" in plan_with(SMALL, "glue").cautions
    assert "hot-glue" not in plan_with(SMALL, "sew").cautions


def strap(gap_mm: float) -> StepsPiece:
    knot = Tie(knot="square-knot", on=(2, 3, 4, 5))
    return part(steps=(knot, Gap(gap_mm=gap_mm), knot, Trim(trim_mm=0)), make=1)


def test_a_strap_longer_than_220_mm_is_a_free_cord() -> None:
    lengths = {gap: plan_with(strap(gap)).free_cord_mm for gap in (100.0, 300.0)}
    assert lengths[100.0] < 220 < lengths[300.0]
    assert "free-cords" not in plan_with(strap(100.0)).cautions
    assert "free-cords" in plan_with(strap(300.0)).cautions
    just = 100.0 + (220.0 - lengths[100.0]) / 0.9  # a gap counts 0.9 of itself, as size does
    assert "free-cords" not in plan_with(strap(just - 0.5)).cautions
    assert "free-cords" in plan_with(strap(just + 0.5)).cautions


def test_what_is_sewn_down_is_no_free_cord() -> None:
    assert plan_with(strap(300.0), "sew").free_cord_mm == 0


def test_what_hangs_by_its_top_is_a_free_cord() -> None:
    piece = strap(300.0)
    hung = AssemblyStep("sew", piece.id, 1, Target("panel", 1, 1), 0.0, "top", "")
    plan = make_plan(dataclasses.replace(pattern_of(piece), assembly=(hung,)))
    assert plan.free_cord_mm > 220 and "free-cords" in plan.cautions
