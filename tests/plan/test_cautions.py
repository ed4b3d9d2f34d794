"""Cautions, knots and weight, worked out from the pattern itself."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from publisher.errors import Place
from publisher.model.parts import PartCord, StepsPiece, Tie
from publisher.model.pattern import CarryLimit, Fibre, Fringe, Mount
from publisher.model.plan import CutLine, Plan
from publisher.plan import make_plan
from publisher.plan.cautions import find_cautions
from tests.support.grids import COTTON, chart_of, pattern_of, plan_of
from tests.support.shop import installed


def test_what_every_wall_piece_says() -> None:
    """Flames, tools, selling; and cords, as the loop alone is longer than 220 mm."""
    plan = plan_of("AA")
    assert plan.cautions == ("free-cords", "working-cords", "flames", "cutting-tools", "selling")


@pytest.mark.parametrize(("rows", "set_off"), [(20, False), (21, True)])
def test_hands_over_two_thousand_knots(rows: int, set_off: bool) -> None:
    plan = plan_of(*["A" * 100] * rows)
    assert ("hands" in plan.cautions) is set_off


def test_many_small_pieces_tire_the_hands_too() -> None:
    assert "hands" in plan_of(*["A" * 10] * 10, make=21).cautions
    assert "hands" not in plan_of(*["A" * 10] * 10, make=20).cautions


def test_a_long_dowel_or_a_heavy_piece_needs_a_fixing() -> None:
    """77 columns of 7 mm and 60 mm are 599, so a dowel of 600 mm; 78 make 610."""
    light = {"A": replace(COTTON, grams_per_metre=0.1)}
    thin = Mount("larks-head", diameter_mm=1.0)
    assert "weight" not in plan_of("A" * 77, yarns=light, mount=thin).cautions
    assert "weight" in plan_of("A" * 78, yarns=light, mount=thin).cautions
    heavy = {"A": replace(COTTON, grams_per_metre=900.0)}
    assert "weight" in plan_of("AAA", yarns=heavy).cautions


def test_of_several_pieces_one_with_a_long_dowel_needs_a_fixing() -> None:
    light = {"A": replace(COTTON, grams_per_metre=0.1)}
    thin = Mount("larks-head", diameter_mm=1.0)
    short, long = (pattern_of("A" * n, yarns=light, mount=thin) for n in (10, 78))
    wing = replace(long.charts[0], id="wing")
    both = (
        replace(short, pieces=pieces) for pieces in ((*short.pieces, wing), (wing, *short.pieces))
    )
    assert all("weight" in make_plan(pattern).cautions for pattern in both)


def test_knots_of_charts_and_of_parts_tire_the_same_hands() -> None:
    """1,500 in the chart and 500 in the part are two thousand; a knot more is over."""
    chart = pattern_of(*["A" * 100] * 15)
    cord = PartCord("A", "single")

    def plan(knots: int) -> Plan:
        sennit = Tie(knot="square-knot", on=(1, 2, 3, 4), times=knots)
        strap = StepsPiece("strap", 1, None, (cord,) * 4, (sennit,), 100.0, 10.0, None, Place("x"))
        return make_plan(replace(chart, pieces=(*chart.pieces, strap)))

    assert "hands" not in plan(500).cautions
    assert "hands" in plan(501).cautions


@pytest.mark.parametrize("fibre", ["cotton", "wool", "jute", "synthetic", None])
def test_what_is_steamed_tells_of_the_iron(fibre: Fibre | None) -> None:
    """Cotton alone: the other fibres are smoothed without heat."""
    yarns = {"A": replace(COTTON, fibre=None), "B": replace(COTTON, fibre=fibre)}
    assert ("hot-iron" in plan_of("AB", yarns=yarns).cautions) is (fibre == "cotton")
    heat = installed().text("words/en.toml").split(f"block_{fibre} = ")[1:]
    assert all(("steaming iron" in words.split("\n")[0]) is (fibre == "cotton") for words in heat)


@pytest.mark.parametrize(("cut_mm", "lies_about"), [(220.0, False), (225.0, True)])
def test_lengths_that_can_strangle_are_told_of_while_they_are_worked(
    cut_mm: float, lies_about: bool
) -> None:
    """Before they are knotted too, from the length at which a free cord is told of."""
    cut = [CutLine("key-cord", "cords", "A", 4, cut_mm)]
    assert ("working-cords" in find_cautions([], [], [], 0, cut, [])) is lies_about


def test_one_long_length_among_short_ones_is_told_of() -> None:
    lengths = (180.0, 225.0, 150.0)
    cut = [CutLine("key-cord", "part cords", "A", 1, length) for length in lengths]
    assert "working-cords" in find_cautions([], [], [], 0, cut, [])


def test_knots_in_the_order_a_maker_meets_them() -> None:
    plan = plan_of("AB", "BA", mount=Mount(knot="reverse-larks-head"))
    assert plan.knot_names == (
        "reverse-larks-head",
        "vertical-double-half-hitch",
        "pair-tied-double-knot",
        "overhand",
    )


def test_no_pairs_no_pair_tied_knot() -> None:
    """A lone yarn of 9 knots: its ends are 56 mm apart, over the limit of 40."""
    plan = plan_of("A" * 9)
    assert plan.charts[0].end_pairs == ()
    assert "pair-tied-double-knot" not in plan.knot_names


def test_the_finished_mass_by_hand() -> None:
    """One row of two columns, dowel 12 mm, cord 3 mm, 4.5 g a metre.

    Yarn: 2 x 60 mm, and of each tail 20 mm stay: 160. Cords: 2 x (5.25 x 12 + 30 + 2 x (5 x 1.03
    + 150)). Loop as cut. Dowel of 80 mm: pi x 0.6 squared x 8 cm at 0.7.
    """
    plan = plan_of("AA", fringe=Fringe())
    (chart,) = plan.charts
    cords = 2 * (93 + 2 * (5.15 + 150))
    yarn = (160 + cords + chart.hanging_loop_mm) / 1000 * 4.5
    dowel = math.pi * 0.36 * chart.dowel_length_mm / 10 * 0.7
    assert chart.dowel_length_mm == 80
    assert plan.finished_mass_g == pytest.approx(yarn + dowel)
    assert plan_of("AA", fringe=Fringe(), make=3).finished_mass_g == pytest.approx(
        3 * (yarn + dowel)
    )


def test_every_caution_has_its_text() -> None:
    plan = plan_of(*["A" * 90] * 30, carry=CarryLimit())
    assert {"weight", "hands"} <= set(plan.cautions)
    for code in plan.cautions:
        assert installed().text(f"cautions/{code}.txt")


def test_fringe_is_listed_for_every_column() -> None:
    assert len(chart_of("A" * 7, fringe=Fringe("arch", 200.0, 90.0)).fringe_mm) == 7
