"""Rows in working order: what a maker meets, from the side each row starts."""

from __future__ import annotations

from typing import Any

from hypothesis import given, settings

from publisher.model.plan import Run
from publisher.plan.rows.working_order import read_passages, read_rows
from tests.support.grids import ORDERS, SIDES, chart_of, charts


def test_zigzag_turns_at_every_row() -> None:
    plan = chart_of("AAB", "BAA", "ABB")
    assert [row.start for row in plan.row_list] == ["left", "right", "left"]
    assert plan.row_list[0].runs == (Run("A", 2, 1, 2), Run("B", 1, 3, 3))
    assert plan.row_list[1].runs == (Run("A", 2, 3, 2), Run("B", 1, 1, 1))


def test_one_way_starts_every_row_on_the_same_side() -> None:
    plan = chart_of("AAB", "BAA", order="one-way", first_row_from="right")
    assert [row.start for row in plan.row_list] == ["right", "right"]
    assert plan.row_list[0].runs == (Run("B", 1, 3, 3), Run("A", 2, 2, 1))


def test_a_run_goes_on_round_the_edge_only_in_zigzag() -> None:
    rows = read_rows(("AAB", "AAB", "BBA"), "left", "zigzag")
    passages = read_passages(rows, "zigzag")
    assert [(p.colour, [(s.row, s.knots) for s in p.stretches]) for p in passages] == [
        ("A", [(1, 2)]),
        ("B", [(1, 1), (2, 1)]),
        ("A", [(2, 2)]),
        ("B", [(3, 2)]),
        ("A", [(3, 1)]),
    ]
    rows = read_rows(("AAB", "BAA"), "left", "one-way")
    assert [p.colour for p in read_passages(rows, "one-way")] == ["A", "B", "B", "A"]


def test_a_run_of_one_colour_goes_round_many_edges() -> None:
    plan = chart_of("AA", "AA", "AA")
    (yarn,) = plan.yarns
    assert [(s.row, s.first_cord, s.last_cord) for s in yarn.stretches] == [
        (1, 1, 2),
        (2, 2, 1),
        (3, 1, 2),
    ]
    assert not yarn.carries


@settings(deadline=None)
@given(charts(letters="ABC"), SIDES, ORDERS)
def test_runs_add_up_to_the_chart(cells: list[str], side: Any, order: Any) -> None:
    """Laid cord by cord, each row's runs are the chart's row; counts are the chart's letters."""
    plan = chart_of(*cells, first_row_from=side, order=order)
    for row, line in zip(plan.row_list, cells, strict=True):
        laid = {}
        for run in row.runs:
            step = 1 if run.last_cord >= run.first_cord else -1
            cords = range(run.first_cord, run.last_cord + step, step)
            assert len(cords) == run.knots
            laid.update(dict.fromkeys(cords, run.colour))
        assert "".join(laid[cord] for cord in sorted(laid)) == line
        cords_met = [run.first_cord for run in row.runs]
        assert cords_met == sorted(cords_met, reverse=row.start == "right")
    assert plan.knots == {letter: "".join(cells).count(letter) for letter in plan.knots}
    assert plan.total_knots == sum(map(len, cells))
