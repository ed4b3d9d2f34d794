"""What a writer is told of a chart that could be better, and what she is not told."""

from __future__ import annotations

import string
from dataclasses import replace

import pytest

from publisher.manuscript.words import read_words
from publisher.model.colour import Colour
from publisher.model.pattern import CarryLimit, Gauge
from publisher.model.plan import Advice, Plan
from publisher.plan import make_plan
from tests.support.grids import COTTON, chart_of, pattern_of, plan_of
from tests.support.shop import SLUGS, demo
from tests.support.shop import installed as templates


def told(plan: Plan, code: str) -> list[Advice]:
    return [advice for advice in plan.advice if advice.code == code]


def places(plan: Plan, code: str) -> list[tuple[int | None, int | None]]:
    return [(advice.row, advice.cord) for advice in told(plan, code)]


def test_a_colour_of_fewer_than_three_knots() -> None:
    assert places(plan_of("AAAA", "ABBA"), "few-knots") == [(2, 2)]
    assert places(plan_of("AAAA", "ABBB"), "few-knots") == []


def test_a_knot_with_none_of_its_colour_round_it() -> None:
    """Corner to corner is company; the chart's edge is not."""
    assert places(plan_of("BAA", "AAA", "AAB"), "single-knot") == [(1, 1), (3, 3)]
    assert places(plan_of("BAA", "ABA", "AAA"), "single-knot") == []
    assert places(plan_of("ABA"), "single-knot") == [(1, 1), (1, 2), (1, 3)]


def test_many_single_knots_are_told_once() -> None:
    rows = ["BA" * 10 if row % 2 else "AA" * 10 for row in range(6)]
    plan = plan_of(*rows)
    assert not told(plan, "single-knot")
    (advice,) = told(plan, "many-single-knots")
    assert (advice.row, advice.cord, advice.values["knots"]) == (2, 1, 30)


def test_the_demo_pieces_have_the_two_single_knots_that_are_meant() -> None:
    found = {slug: places(make_plan(demo(slug)), "single-knot") for slug in SLUGS}
    assert {slug for slug, spots in found.items() if spots} == {
        "kingfisher-over-reeds",
        "heron-step",
    }
    assert all(len(spots) <= 1 for spots in found.values())


def test_carries_that_just_reach() -> None:
    plan = plan_of("ABBA", "AAAA", carry=CarryLimit(3, 0))
    (advice,) = told(plan, "carries-at-limit")
    assert (advice.row, advice.cord) == (1, 4)
    assert (advice.values["colour"], advice.values["carries"]) == ("A", 1)
    assert not told(plan_of("ABBA", carry=CarryLimit(4, 0)), "carries-at-limit")
    along = CarryLimit(3, 0, along_row=True)
    assert not told(plan_of("ABBA", carry=along), "carries-at-limit")


def test_carries_that_just_reach_down() -> None:
    """Two rows are allowed and two are taken; a limit of no rows has no carries to tell of."""
    rows = "CCCC", "BBBA", "CCCC", "BBBA", "CCCC"
    plan = plan_of(*rows, limits={"A": CarryLimit(3, 2)}, carry=CarryLimit(0, 0))
    (advice,) = told(plan, "carries-at-row-limit")
    assert (advice.row, advice.cord, advice.values["colour"]) == (4, 4, "A")
    assert (advice.values["carries"], advice.values["rows"]) == (1, 2)
    assert not told(plan, "carries-at-limit")
    for limit in (CarryLimit(3, 3), CarryLimit(3, 1), CarryLimit(3, 0)):
        plan = plan_of(*rows, limits={"A": limit}, carry=CarryLimit(0, 0))
        assert not told(plan, "carries-at-row-limit")


def test_a_carry_from_row_to_row_just_reaches_though_rows_are_free() -> None:
    limit = CarryLimit(2, 1, along_row=True)
    plan = plan_of("BBABB", "BBBBA", limits={"A": limit}, carry=CarryLimit(0, 0))
    assert places(plan, "carries-at-limit") == places(plan, "carries-at-row-limit") == [(2, 5)]


def test_more_than_two_ends_a_square_decimetre() -> None:
    """20 x 20 cells of 7 x 5 mm are 1.4 square decimetres: two ends are allowed, four are not.

    Joins do not count: the one yarn of 400 knots has many.
    """
    plain = ["A" * 20] * 20
    assert not told(plan_of(*plain), "many-ends")
    assert len(chart_of(*plain).ends) > 10
    spotted = ["A" * 20] * 9 + ["A" * 10 + "BB" + "A" * 8] + ["A" * 20] * 10
    (advice,) = told(plan_of(*spotted), "many-ends")
    assert advice.values["ends"] == 4
    assert advice.values["per_dm2"] == pytest.approx(4 / 1.4, abs=0.05)


def test_it_is_told_where_most_of_the_ends_are() -> None:
    """14 cords of 7 mm and 20 rows of 5 mm are a decimetre: the third square of the second line."""
    plain, spotted = "A" * 42, "A" * 29 + "BBA" * 4 + "A"
    chart = [plain] * 24 + [spotted, plain, plain] * 3 + [plain] * 7
    (advice,) = told(plan_of(*chart, limits={"B": CarryLimit(0, 0)}), "many-ends")
    assert (advice.row, advice.cord) == (21, 29)
    assert advice.values["most"] == 2 * 3 * 4, "each shape has a start and a finish"


def colours(*codes: str) -> Plan:
    """Two rows of two cells, A over B."""
    pattern = pattern_of("AA", "BB")
    changed = tuple(
        replace(colour, srgb=Colour.from_hex(code))
        for colour, code in zip(pattern.colours, codes, strict=True)
    )
    return make_plan(replace(pattern, colours=changed))


@pytest.mark.parametrize(
    ("one", "other", "code"),
    [
        ("#c04030", "#c44434", "alike"),
        ("#c0392b", "#3a7d2c", "alike-deutan"),
        ("#3f74c8", "#8a7a1e", "alike-grey"),
        ("#1b2136", "#fdf8ec", None),
    ],
)
def test_neighbours_that_are_hard_to_tell(one: str, other: str, code: str | None) -> None:
    found = [advice for advice in colours(one, other).advice if advice.code.startswith("alike")]
    assert [advice.code for advice in found] == ([code] if code else [])
    for advice in found:
        assert (advice.row, advice.cord) == (2, 1)
        assert float(advice.values["difference"]) < float(advice.values["threshold"])


def test_alike_colours_that_never_touch_are_not_told() -> None:
    pattern = pattern_of("ACB")
    changed = tuple(
        replace(colour, srgb=Colour.from_hex(code))
        for colour, code in zip(pattern.colours, ("#c04030", "#c44434", "#101010"), strict=True)
    )
    plan = make_plan(replace(pattern, colours=changed))
    assert not any(advice.code.startswith("alike") for advice in plan.advice)


def test_the_demo_pieces_can_be_told_apart_by_all() -> None:
    for slug in SLUGS:
        codes = {advice.code for advice in make_plan(demo(slug)).advice}
        assert not any(code.startswith("alike") for code in codes)


def test_a_cord_of_unusual_weight_and_a_swatch_for_two_yarns() -> None:
    light = replace(COTTON, key="light", grams_per_metre=1.0)
    thick = replace(COTTON, key="thick", diameter_mm=5.0, grams_per_metre=12.0)
    assert not told(plan_of("AB"), "cord-weight")
    assert len(told(plan_of("AB", yarns={"B": light}), "cord-weight")) == 1
    assert told(plan_of("AB", yarns={"B": thick}), "swatch-mixed-yarns")
    assert not told(plan_of("AB", yarns={"B": thick}, gauge=Gauge()), "swatch-mixed-yarns")


def test_every_advice_has_words_that_its_values_fill() -> None:
    """The word list names no value that the plan does not give."""
    words = read_words(templates()).under("advice")
    samples = [
        *plan_of("ABA", "AAA", yarns={"B": replace(COTTON, diameter_mm=5.0)}).advice,
        *plan_of(*["BA" * 10, "AA" * 10] * 6, carry=CarryLimit(2, 2)).advice,
        *plan_of("AAA", working_length_mm=200.0).advice,
        *colours("#c04030", "#c44434").advice,
        *colours("#c0392b", "#3a7d2c").advice,
        *colours("#3f74c8", "#8a7a1e").advice,
        *plan_of("ABBA", carry=CarryLimit(3, 0)).advice,
        *plan_of("BBA", "BBB", "BBA", carry=CarryLimit(3, 2)).advice,
        *plan_of("ABBA", pixel_proportion=1.0).advice,
        *plan_of("ABBA", pixel_proportion=2.0).advice,
        *plan_of("ABBA", pixel_proportion=200.0).advice,
    ]
    assert len({advice.code for advice in samples}) >= 13
    for advice in samples:
        named = {name for _, name, _, _ in string.Formatter().parse(words[advice.code]) if name}
        assert named <= {"piece", "row", "cord", *advice.values}
    assert {"alike-protan", "alike-tritan", "odd-last-leg"} <= set(words)
