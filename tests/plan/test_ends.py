"""Yarn ends and which are tied: against trying every way, for up to ten ends."""

from __future__ import annotations

import math
from collections.abc import Sequence
from types import SimpleNamespace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.model.pattern import CarryLimit
from publisher.model.plan import CellSize, End
from publisher.plan.back import ends as ends_module
from publisher.plan.back.ends import list_ends, pair_ends
from tests.support.grids import LIMITS, ORDERS, SIDES, chart_of, charts

CELL = CellSize(11.34, 8.1, False)
LIMIT = 40.0


def apart(one: End, other: End, cell: CellSize = CELL) -> float:
    return math.hypot(
        (one.cord - other.cord) * cell.width_mm, (one.row - other.row) * cell.height_mm
    )


def best_by_trying_all(ends: Sequence[End]) -> tuple[int, float]:
    """Fewest single ends and then the least length of the pairs."""
    if not ends:
        return 0, 0.0
    first, *rest = ends
    singles, length = best_by_trying_all(rest)
    best = (singles + 1, length)
    for other in rest:
        if apart(first, other) <= LIMIT:
            singles, length = best_by_trying_all([end for end in rest if end is not other])
            best = min(best, (singles, length + apart(first, other)))
    return best


@settings(max_examples=80, deadline=None)
@given(st.lists(st.tuples(st.integers(1, 14), st.integers(1, 10)), min_size=1, max_size=10))
def test_pairs_are_the_best_there_are(places: list[tuple[int, int]]) -> None:
    ends = [
        End(f"e{number}", f"A{number}", "start", row, cord)
        for number, (row, cord) in enumerate(places)
    ]
    by_id = {end.id: end for end in ends}
    found = pair_ends(ends, CELL, LIMIT)
    named = [name for pair in found.pairs for name in pair] + list(found.singles)
    assert sorted(named) == sorted(by_id)
    lengths = [apart(by_id[one], by_id[other]) for one, other in found.pairs]
    assert all(length <= LIMIT for length in lengths)
    singles, length = best_by_trying_all(ends)
    assert len(found.singles) == singles
    assert math.isclose(sum(lengths), length, abs_tol=1e-3 * len(ends))


@settings(deadline=None)
@given(charts(5, 6, "ABC"), SIDES, ORDERS, LIMITS)
def test_every_yarn_has_its_ends(
    cells: list[str], side: Any, order: Any, limit: CarryLimit
) -> None:
    """A start, a finish and two for each join; numbered in working order; each paired or single."""
    plan = chart_of(*cells, first_row_from=side, order=order, carry=limit, working_length_mm=500.0)
    for yarn in plan.yarns:
        kinds = [end.kind for end in plan.ends if end.yarn == yarn.id]
        assert kinds == ["start", *["join-finish", "join-start"] * len(yarn.joins), "finish"]
    assert [end.id for end in plan.ends] == [f"e{n}" for n in range(1, len(plan.ends) + 1)]
    starts = [row.start for row in plan.row_list]
    order_met = [
        (end.row, end.cord if starts[end.row - 1] == "left" else -end.cord) for end in plan.ends
    ]
    assert order_met == sorted(order_met)
    named = [name for pair in plan.end_pairs for name in pair] + list(plan.single_ends)
    assert sorted(named) == sorted(end.id for end in plan.ends)
    for end in plan.ends:
        assert cells[end.row - 1][end.cord - 1] == end.yarn[0]


def test_a_join_inside_a_run_hangs_at_the_two_cords_it_parts() -> None:
    plan = chart_of("AAAAAAAAAAAA", working_length_mm=730.0)
    (yarn,) = plan.yarns
    (join,) = yarn.joins
    kinds = {end.kind: end.cord for end in list_ends(plan.yarns, ["left"])}
    assert kinds["join-start"] == join.cord
    assert kinds["join-finish"] == join.cord - 1


def test_a_join_at_a_turn_hangs_at_both_sides_of_it() -> None:
    """Six knots in a row of three and three; three fit a length, so the join is at the turn."""
    plan = chart_of("AAA", "AAA", working_length_mm=425.0)
    (yarn,) = plan.yarns
    assert [(spot.row, spot.cord) for spot in yarn.joins] == [(2, 3)]
    finish = next(end for end in plan.ends if end.kind == "join-finish")
    assert (finish.row, finish.cord) == (1, 3)


def test_a_swatch_of_tiny_knots_costs_no_time(monkeypatch: pytest.MonkeyPatch) -> None:
    """Measured in metres by mistake, say: all ends are near, and no place beyond them is looked at.

    Five rows and four cords have a place at 20 ways from a first one.
    """
    measured = []

    def hypot(across: float, down: float) -> float:
        measured.append((across, down))
        return math.sqrt(across**2 + down**2)

    monkeypatch.setattr(ends_module, "math", SimpleNamespace(hypot=hypot))
    ends = [End(f"e{at}", f"A{at}", "start", 1 + at // 4, 1 + at % 4) for at in range(20)]
    pairs = pair_ends(ends, CellSize(0.05, 0.05, True))
    assert len(pairs.pairs) == 10
    assert len(measured) == 20
