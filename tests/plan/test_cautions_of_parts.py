"""Which cautions a knotted part sets off, by how it is fastened and what is done to it."""

from __future__ import annotations

import dataclasses

import pytest

from publisher.model.parts import AssemblyStep, Glue, PartPlace, Tie, Trim
from publisher.plan import make_plan
from publisher.plan.parts.lists import is_small
from tests.support.parts import LEAF_CORDS, part, pattern_of, plan_with, strap

SMALL = part(LEAF_CORDS[:3], (Tie(knot="berry-knot", on=(2, 3, 4, 5)), Trim(trim_mm=5)))


@pytest.mark.parametrize("deed", ["sew", "glue"])
def test_a_small_part_that_is_fastened_sets_the_caution_off(deed: str) -> None:
    assert is_small(make_plan(pattern_of(SMALL)).parts[0])
    assert "small-parts" in plan_with(SMALL, deed).cautions
    assert "small-parts" not in plan_with(SMALL, "hang").cautions


def test_one_small_part_beside_a_large_one_sets_it_off() -> None:
    large = dataclasses.replace(part(), id="large-leaf")
    sewn = tuple(
        AssemblyStep("sew", piece.id, 1, PartPlace("panel", 1, 1), 0.0, "tails", "")
        for piece in (SMALL, large)
    )
    pattern = dataclasses.replace(pattern_of(SMALL, large), assembly=sewn)
    plan = make_plan(pattern)
    assert [is_small(one) for one in plan.parts] == [True, False]
    assert "small-parts" in plan.cautions


def test_glue_sets_the_hot_glue_caution_off_wherever_it_is_used() -> None:
    glued = part(steps=(Tie(knot="square-knot", on=(2, 3, 4, 5)), Glue(what="the tails")))
    assert "hot-glue" in plan_with(glued).cautions
    assert "hot-glue" in plan_with(SMALL, "glue").cautions
    assert "hot-glue" not in plan_with(SMALL, "sew").cautions


def test_what_is_sewn_down_is_no_free_cord() -> None:
    assert plan_with(strap(300.0), "sew").free_cord_mm == 0


def test_what_hangs_by_its_top_is_a_free_cord() -> None:
    piece = strap(300.0)
    hung = AssemblyStep("sew", piece.id, 1, PartPlace("panel", 1, 1), 0.0, "top", "")
    plan = make_plan(dataclasses.replace(pattern_of(piece), assembly=(hung,)))
    assert plan.free_cord_mm > 220 and "free-cords" in plan.cautions
