"""Parts planned: who lies where, what each cord takes, and what the lists make of it."""

from __future__ import annotations

import dataclasses
import math

import pytest
from hypothesis import given

from publisher.model.part_plan import Leg, StepsPlan
from publisher.model.parts import (
    Add,
    AssemblyStep,
    Cross,
    Drop,
    Gap,
    Hold,
    PartCord,
    PartPlace,
    Repeat,
    Step,
    StepsPiece,
    Tie,
    Trim,
)
from publisher.model.pattern import Pattern
from publisher.plan import make_plan, plan_as_json
from publisher.source.mirror import mirrored_part
from tests.support.parts import LEAF_CORDS, part, parts, pattern_of
from tests.support.shop import demo

FOUR = (PartCord("G", "folded", None, "larks-head"), PartCord("O", "folded", None, "larks-head"))


def planned(piece: StepsPiece) -> StepsPlan:
    return make_plan(pattern_of(piece)).parts[0]


def worked(*steps: Step, cords: tuple[PartCord, ...] = FOUR) -> StepsPlan:
    return planned(part(cords, steps, make=1))


def places(plan: StepsPlan) -> list[int]:
    """Where the legs that were 1, 2, 3, … at first end, as positions in the first order."""
    return [plan.order.index(leg) + 1 for leg in plan.steps[-1].after if leg in plan.order]


@pytest.mark.parametrize("knot", ["square-knot", "berry-knot"])
def test_these_knots_return_their_cords(knot: str) -> None:
    assert places(worked(Tie(knot=knot, on=(1, 2, 3, 4)))) == [1, 2, 3, 4]


def test_a_half_knot_changes_its_outer_cords() -> None:
    assert places(worked(Tie(knot="half-knot", on=(1, 2, 3, 4)))) == [4, 2, 3, 1]
    assert places(worked(Tie(knot="half-knot", on=(1, 2, 3, 4), times=2))) == [1, 2, 3, 4]


def test_a_leader_ends_beyond_what_it_met() -> None:
    run = Tie(knot="horizontal-double-half-hitch", leader=1, on=(2, 3, 4))
    assert places(worked(run)) == [2, 3, 4, 1]
    back = Tie(knot="horizontal-double-half-hitch", leader=4, on=(3, 2, 1))
    assert places(worked(run, back)) == [1, 2, 3, 4]


def test_a_worker_goes_the_same_way() -> None:
    run = Tie(knot="vertical-double-half-hitch", worker=4, on=(3, 2))
    assert places(worked(run)) == [1, 4, 2, 3]


def test_gathered_cords_lie_beside_their_leader_the_first_next_to_it() -> None:
    run = Tie(knot="gathering-double-half-hitch", leader=1, on=(2, 3))
    assert places(worked(run)) == [3, 2, 1, 4]


def test_crossing_twice_changes_nothing() -> None:
    assert places(worked(Cross(front=2, back=3))) == [1, 3, 2, 4]
    assert places(worked(Cross(front=2, back=3), Cross(front=3, back=2))) == [1, 2, 3, 4]


def test_dropped_and_added_cords_keep_who_they_are() -> None:
    plan = worked(Drop(on=(2,)), Add(colour="M", lay="single", at=1))
    assert plan.steps[-1].after[0] == Leg(3, "only")
    assert Leg(1, "right") not in plan.steps[-1].after
    assert plan.cord(3).step == 2


def test_a_cord_laid_across_hangs_at_both_sides_each_end_at_its_own() -> None:
    after = worked(Add(colour="M", lay="across", at=1)).steps[-1].after
    assert (after[0], after[-1]) == (Leg(3, "left"), Leg(3, "right"))
    assert [leg.cord for leg in after[1:-1]] == [1, 1, 2, 2]


@given(parts())
def test_no_cord_is_ever_lost(piece: StepsPiece) -> None:
    plan = planned(piece)
    here = set(plan.order)
    for step in plan.steps:
        assert set(step.before) == here and len(step.before) == len(here)
        if step.kind == "drop":
            here -= set(step.legs)
        elif step.kind == "add":
            here |= set(step.legs)
        assert set(step.after) == here
    legs = [leg.leg for cord in plan.cords for leg in cord.legs]
    assert len(legs) == len(set(legs)) and here <= set(legs)


@given(parts())
def test_every_cut_length_is_enough(piece: StepsPiece) -> None:
    plan = planned(piece)
    for cord in plan.cords:
        tails = sum(max(leg.tail_mm, plan.piece.tail_mm) for leg in cord.legs)
        if cord.wraps:
            tails = 2 * plan.piece.tail_mm
        assert cord.cut_mm >= (cord.used_mm + tails) * 1.1 - 1e-6
        assert cord.cut_mm % 10 == 0
        assert math.isclose(sum(leg.cut_mm for leg in cord.legs) or cord.cut_mm, cord.cut_mm)
        for leg in cord.legs:
            assert leg.cut_mm >= leg.used_mm


@given(parts())
def test_what_is_used_is_the_sum_of_its_legs(piece: StepsPiece) -> None:
    for cord in planned(piece).cords:
        if cord.wraps:
            assert not cord.legs and cord.used_mm > 0
        else:
            assert math.isclose(cord.used_mm, sum(leg.used_mm for leg in cord.legs), abs_tol=1e-6)


@given(parts())
def test_the_mirror_is_worked_alike(piece: StepsPiece) -> None:
    """Lengths, sizes and knots are those of the part itself; the order is turned round."""
    one, other = planned(piece), planned(mirrored_part(piece))
    assert dict(one.knots) == dict(other.knots)
    for name in ("width_mm", "height_mm", "depth_mm", "ends_mm"):
        assert math.isclose(getattr(one, name), getattr(other, name), abs_tol=1e-6)
    assert sorted((c.colour, round(c.cut_mm)) for c in one.cords) == sorted(
        (c.colour, round(c.cut_mm)) for c in other.cords
    )
    assert [[leg.side for leg in step.after] for step in one.steps] == [
        [_other(leg) for leg in reversed(step.after)] for step in other.steps
    ]


def _other(leg: Leg) -> str:
    return {"left": "right", "right": "left"}.get(leg.side, leg.side)


def test_a_gap_takes_its_length_of_every_cord_it_is_left_in() -> None:
    knot = Tie(knot="square-knot", on=(1, 2, 3, 4))
    without, with_gap = worked(knot), worked(knot, Gap(gap_mm=40))
    for one, other in zip(without.cords, with_gap.cords, strict=True):
        assert math.isclose(other.used_mm - one.used_mm, 2 * 40)


@pytest.mark.parametrize("count", [1, 2, 4])
def test_a_cord_laid_across_later_reaches_over_all_that_hang(count: int) -> None:
    """From its middle to both sides: in all, as far as the cords are wide side by side."""
    cords = (PartCord("G", "folded", None, "larks-head"),) * count
    plan = worked(Add(colour="M", lay="across", at=1), cords=cords)
    left, right = plan.cord(count + 1).legs
    assert left.used_mm == right.used_mm
    assert left.used_mm + right.used_mm >= 2 * count * plan.cord(1).diameter_mm


def test_each_cord_keeps_the_tail_that_it_was_cut_to() -> None:
    """Cut in two steps, to different lengths; and what is never cut keeps its long end."""
    plan = worked(Trim(trim_mm=30, on=(1, 4)), Trim(trim_mm=5, on=(2,)))
    kept = {leg.leg: leg.tail_mm for cord in plan.cords for leg in cord.legs}
    assert [kept[leg] for leg in plan.order] == [30, 5, plan.piece.tail_mm, 30]


def test_a_knot_tied_three_times_takes_three_times_its_cord() -> None:
    once, thrice = (worked(Tie(knot="square-knot", on=(1, 2, 3, 4), times=n)) for n in (1, 3))
    none = worked(Gap(gap_mm=0.001))
    for zero, one, three in zip(none.cords, once.cords, thrice.cords, strict=True):
        mounted = zero.used_mm
        assert math.isclose(three.used_mm - mounted, 3 * (one.used_mm - mounted), rel_tol=1e-3)
    assert thrice.knots["square-knot"] == 3


def test_a_repeat_is_numbered_once_and_worked_as_often_as_it_says() -> None:
    inner = (Tie(knot="half-knot", on=(1, 2, 3, 4)), Gap(gap_mm=10))
    plan = worked(Repeat(times=3, steps=inner), Trim(trim_mm=20))
    assert [step.number for step in plan.steps] == [1, 2, 1, 2, 1, 2, 3]
    assert [step.number for step in plan.told] == [1, 2, 3]
    assert [(r.first, r.last, r.times) for r in plan.repeats] == [(1, 2, 3)]
    assert places(plan) == [4, 2, 3, 1]


def test_a_cord_with_one_leg_in_the_knots_is_folded_off_its_middle() -> None:
    sennit = Tie(knot="square-knot", on=(1, 2, 3, 4), times=8)
    first, second = worked(sennit).cords
    left, right = (leg.cut_mm for leg in first.legs)
    assert not first.even and left > right + 200
    assert math.isclose(left, second.legs[1].cut_mm), "the other cord is its mirror image"


def test_a_cord_that_nothing_is_done_with_takes_nothing() -> None:
    cords = (PartCord("G", "single"), PartCord("G", "single"), PartCord("O", "across"))
    plan = planned(part(cords, (Cross(front=1, back=2),), make=1, tail_mm=0.0))
    *_, idle = plan.cords
    assert (idle.cut_mm, [leg.cut_mm for leg in idle.legs]) == (0.0, [0.0, 0.0])
    assert plan.cords[0].cut_mm > 0


def test_alike_cords_are_cut_together_for_all_that_are_made() -> None:
    plan = make_plan(pattern_of(part(make=5)))
    lines = [(line.purpose, line.colour, line.count, line.length_mm) for line in plan.cutting_list]
    assert lines == [
        ("part cords", "G", 5, 660.0),
        ("part cords", "G", 10, 630.0),
        ("part cords", "G", 10, 600.0),
    ]
    assert plan.shopping[0].length_m == 16  # 5 x 0.66 + 10 x 0.63 + 10 x 0.60 m, rounded up


def test_time_is_told_where_a_knot_was_timed() -> None:
    assert planned(part()).seconds is None
    assert planned(part(seconds=30.0, make=2)).seconds == 2 * 30 * (4 + 16 + 1)


def test_the_plan_as_json_tells_every_step_and_order() -> None:
    piece = plan_as_json(make_plan(pattern_of(part())))["pieces"][0]
    assert piece["kind"] == "steps" and piece["make"] == 4
    order = [(2, "left"), (2, "right"), (3, "left"), (3, "right"), (1, "left")]
    mirrored = [(1, "right"), (4, "left"), (4, "right"), (5, "left"), (5, "right")]
    assert piece["steps"][1] == {
        "step": 2,
        "do": "tie",
        "on": [9, 8, 7, 6],
        "knot": "diagonal-double-half-hitch",
        "leader": 10,
        "times": 1,
        "after": [{"cord": cord, "side": side} for cord, side in order + mirrored],
    }
    assert {cord["length_mm"] for cord in piece["cords"]} == {660.0, 600.0, 630.0}
    assert piece["cords"][0]["lay"] == LEAF_CORDS[0].lay


def test_a_part_to_spare_is_told_and_no_error() -> None:
    sewn = AssemblyStep("sew", "reed-leaf", 3, None, 0.0, "tails", "")
    plan = make_plan(dataclasses.replace(pattern_of(part(make=5)), assembly=(sewn,)))
    (advice,) = (one for one in plan.advice if one.code != "unused-colour")
    assert (advice.code, advice.values) == ("parts-left-over", {"made": 5, "used": 3})


def told(piece: StepsPiece, *assembly: AssemblyStep, chart: bool = True) -> list[str]:
    """What a writer is advised on parts."""
    plan = make_plan(pattern_with(piece, assembly, chart=chart))
    return [one.code for one in plan.advice if one.piece == piece.id]


def pattern_with(
    piece: StepsPiece, assembly: tuple[AssemblyStep, ...], *, chart: bool = True
) -> Pattern:
    """A pattern of a part and, if so told, a chart to put it on."""
    base = demo("heron-step")
    alone = pattern_of(piece)
    pieces = (base.charts[0], piece) if chart else (piece,)
    known = {colour.letter for colour in alone.colours}
    colours = (*alone.colours, *(c for c in base.colours if c.letter not in known))
    return dataclasses.replace(base, pieces=pieces, colours=colours, assembly=assembly)


def sew(hold: Hold = "tails") -> AssemblyStep:
    return AssemblyStep("sew", "reed-leaf", 1, PartPlace("panel", 1, 1), 0.0, hold, "")


def test_places_on_the_chart_are_numbered_without_a_gap() -> None:
    """A part that is sewn to another has no place there, and takes no number."""
    to_leaf = dataclasses.replace(sew(), at=PartPlace("reed-leaf"))
    assembly = (sew(), to_leaf, sew("top"), to_leaf, sew())
    plan = make_plan(pattern_with(part(make=5), assembly))
    placed = [step.placement for step in plan.assembly]
    assert [place.mark for place in placed if place] == [1, None, 2, None, 3]


def test_a_part_that_is_put_nowhere_is_told() -> None:
    leaf = part(make=1)
    assert told(leaf) == ["part-nowhere"]
    assert told(leaf, sew()) == []
    hung = AssemblyStep("hang", "reed-leaf", 1, None, 0.0, "tails", "")
    assert told(leaf, hung) == []
    assert told(leaf, chart=False) == [], "it is the whole work"


def test_a_part_sewn_on_by_tails_has_two_of_them() -> None:
    tied = Tie(knot="square-knot", on=(1, 2, 3, 4))
    for trim, on, expected in (
        (59.0, (), ["sewn-without-tails"]),
        (0.0, (1, 2, 3), ["sewn-without-tails"]),
        (0.0, (2, 3), []),
        (60.0, (), []),
    ):
        piece = part(FOUR, (tied, Trim(trim_mm=trim, on=on)), make=1)
        assert told(piece, sew()) == expected
        assert told(piece, sew("top")) == []
