"""What to cut and what to buy: nothing forgotten, everything rounded up."""

from __future__ import annotations

import csv
import io
import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.model.pattern import CarryLimit, Cords, Fringe
from publisher.plan import cutting_list_csv, make_plan, what_if
from tests.support.grids import COTTON, SIDES, charts, pattern_of, plan_of


@settings(deadline=None)
@given(charts(5, 6, "ABC"), SIDES, st.integers(1, 4), st.sampled_from([500.0, 3000.0]))
def test_lists_hold_every_length(cells: list[str], side: Any, make: int, working: float) -> None:
    """Each yarn's lengths, each cord and each loop, as often as the piece is made."""
    plan = plan_of(*cells, first_row_from=side, make=make, working_length_mm=working)
    (chart,) = plan.charts
    cut = {
        "working yarn": [mm for yarn in chart.yarns for mm in yarn.cut_lengths_mm],
        "cords": [cord.length_mm for cord in chart.hanging_cords],
        "hanging loop": [chart.hanging_loop_mm],
    }
    for purpose, lengths in cut.items():
        lines = [line for line in plan.cutting_list if line.purpose == purpose]
        listed = [line.length_mm for line in lines for _ in range(line.count)]
        assert sorted(listed) == sorted(lengths * make)
        assert len({(line.colour, line.length_mm) for line in lines}) == len(lines)
    bought = {line.colour: line for line in plan.shopping}
    for colour in plan.colours:
        lines = [line for line in plan.cutting_list if line.colour == colour.letter]
        metres = sum(line.count * line.length_mm for line in lines) / 1000
        line = bought[colour.letter]
        assert metres <= line.length_m < metres + 1
        assert metres * 4.5 <= line.mass_g + 1e-6
        assert line.mass_g < metres * 4.5 + 1
        assert line.mass_oz == pytest.approx(math.ceil(metres * 45 / 28.349523125 - 1e-6) / 10)
        quarters = sum(line.count * math.ceil(line.length_mm / 6.35) for line in lines)
        rows = len({line.purpose for line in lines})
        assert quarters / 144 <= line.length_yd < quarters / 144 + 0.01 * rows + 1
        assert line.balls == math.ceil(metres / 100)
        assert line.price == pytest.approx(7.2 * line.balls)
        assert line.left_m == pytest.approx(100 * line.balls - metres)


def test_the_longest_of_a_colour_comes_first_and_equals_are_together() -> None:
    plan = plan_of("AB", "AA", fringe=Fringe("point", 150.0, 150.0))
    lines = [(line.purpose, line.colour, line.count) for line in plan.cutting_list]
    assert lines[0] == ("cords", "A", 2)
    assert lines[1] == ("hanging loop", "A", 1)
    lengths = [line.length_mm for line in plan.cutting_list if line.purpose == "working yarn"]
    assert lengths == sorted(lengths, reverse=True)


def test_a_cord_colour_that_the_chart_lacks_is_cut_and_bought() -> None:
    pattern = pattern_of("AB", "AB")
    white = replace(pattern.colours[0], letter="W", name="white")
    piece = replace(pattern.pieces[0], cords=Cords("W"))
    plan = make_plan(replace(pattern, colours=(*pattern.colours, white), pieces=(piece,)))
    assert [line.colour for line in plan.shopping] == ["A", "B", "W"]
    assert {line.purpose for line in plan.cutting_list if line.colour == "W"} == {
        "cords",
        "hanging loop",
    }
    assert plan.charts[0].knots == {"A": 2, "B": 2}


@pytest.mark.parametrize(
    ("changes", "balls", "price"),
    [
        ({"ball_metres": None}, None, None),
        ({"ball_metres": None, "ball_grams": 2.7}, 4, 28.8),
        ({"ball_metres": 0.6, "price": None}, 4, None),
    ],
)
def test_balls_by_metres_by_grams_or_not_at_all(
    changes: dict[str, Any], balls: int | None, price: float | None
) -> None:
    """1.9 m are cut; 2.7 g are 0.6 m."""
    plan = plan_of("AA", "AA", yarns={"A": replace(COTTON, **changes)})
    (line,) = plan.shopping
    assert sum(cut.count * cut.length_mm for cut in plan.cutting_list) == 1900
    assert line.balls == balls
    assert line.price == pytest.approx(price)


def read(text: str) -> list[list[str]]:
    assert text.startswith("\ufeff")
    return list(csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline="")))


def test_a_spreadsheet_reads_the_cutting_list() -> None:
    plan = plan_of("AB", "AA")
    text = cutting_list_csv(plan)
    assert text.count("\r\n") == text.count("\n") == len(plan.cutting_list) + 1
    head, *rows = read(text)
    assert head == ["piece", "for", "colour", "name", "yarn", "count", "length_mm", "total_mm"]
    for row, line in zip(rows, plan.cutting_list, strict=True):
        assert row[:3] == [line.piece, line.purpose, line.colour]
        assert [int(cell) for cell in row[5:]] == [
            line.count,
            line.length_mm,
            line.count * line.length_mm,
        ]


@pytest.mark.parametrize("sign", ["=", "+", "-", "@"])
def test_a_spreadsheet_takes_no_text_for_a_formula(sign: str) -> None:
    text = cutting_list_csv(plan_of(f"{sign}A"))
    assert all(not cell.startswith(sign) for row in read(text) for cell in row)
    assert any(cell == f"'{sign}" for row in read(text) for cell in row)


def test_names_with_commas_and_quotes_stay_one_cell() -> None:
    pattern = pattern_of("A")
    named = replace(pattern.colours[0], name='sea, "deep" blue\nor so')
    text = cutting_list_csv(make_plan(replace(pattern, colours=(named,))))
    assert read(text)[1][3] == 'sea, "deep" blue\nor so'


def test_what_if_limits_rows_too_where_they_are_free() -> None:
    pattern = pattern_of("ABBBA", carry=CarryLimit(0, 0, along_row=True))
    assert [row.yarns for row in what_if(pattern, range(3, 5))] == [3, 2]
    assert len(make_plan(pattern).charts[0].yarns) == 2


def test_what_if_sets_limits_side_by_side() -> None:
    pattern = pattern_of("ABBAABBBA", "BBABBABBA", limits={"B": CarryLimit(0, 0)}, make=2)
    tried = what_if(pattern, range(5))
    assert [row.columns for row in tried] == [0, 1, 2, 3, 4]
    yarns = [row.yarns for row in tried]
    assert yarns == sorted(yarns, reverse=True)
    assert yarns[0] > yarns[-1]
    for row in tried:
        piece = replace(pattern.pieces[0], carry=CarryLimit(row.columns, 2))
        plan = make_plan(replace(pattern, pieces=(piece,)))
        (chart,) = plan.charts
        assert row.yarns == 2 * len(chart.yarns)
        assert row.ends == 2 * len(chart.ends)
        assert row.carried_mm == pytest.approx(2 * sum(yarn.carried_mm for yarn in chart.yarns))
        assert row.mass_g == sum(line.mass_g for line in plan.shopping)
