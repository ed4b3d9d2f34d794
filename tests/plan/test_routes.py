"""Yarn routes against the definition, tried out in full, and against a dense solver.

The definition is worked anew here, from the cells, without the plan's own reading of them.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pytest
from hypothesis import example, given, settings
from scipy.optimize import linear_sum_assignment

from publisher.model.pattern import CarryLimit, ChartPiece
from publisher.model.plan import ChartPlan
from publisher.plan import make_plan
from tests.support.grids import LIMITS, ORDERS, SEVEN_BY_FIVE, SIDES, chart_of, charts
from tests.support.shop import SLUGS, demo

WIDTH, HEIGHT = 7, 5
"""Of a cell, in whole mm (`grids.SEVEN_BY_FIVE`)."""


@dataclass
class Run:
    colour: str
    cells: list[tuple[int, int]]


def worked(cells: list[str], side: str, order: str) -> list[Run]:
    """All runs, from the cells read one by one in working order."""
    runs: list[Run] = []
    for row, line in enumerate(cells, start=1):
        turned = order == "zigzag" and row % 2 == 0
        from_left = (side == "left") != turned
        cords = range(1, len(line) + 1) if from_left else range(len(line), 0, -1)
        for number, cord in enumerate(cords):
            letter = line[cord - 1]
            new_row = number == 0 and order == "one-way"
            if runs and runs[-1].colour == letter and not new_row:
                runs[-1].cells.append((row, cord))
            else:
                runs.append(Run(letter, [(row, cord)]))
    return runs


def carry_cost(one: Run, other: Run, limit: CarryLimit, order: str) -> int | None:
    """What the carry from one run to a later one is long; None if it may not be."""
    (row, cord), (row2, cord2) = one.cells[-1], other.cells[0]
    down, across = row2 - row, abs(cord2 - cord)
    free = limit.along_row and not down
    too_wide = across > limit.columns and not free
    if down > limit.rows or too_wide or (order == "one-way" and down):
        return None
    return across * WIDTH + down * HEIGHT


def best_by_trying_all(runs: list[Run], limit: CarryLimit, order: str) -> tuple[int, int]:
    """Fewest yarns and then least carried length of one colour's runs: every way is tried."""

    def go(number: int, ends: tuple[int, ...], yarns: int, carried: int) -> tuple[int, int]:
        nonlocal best
        if (yarns, carried) >= best:
            return best
        if number == len(runs):
            best = (yarns, carried)
            return best
        for end in ends:
            cost = carry_cost(runs[end], runs[number], limit, order)
            if cost is not None:
                rest = tuple(other for other in ends if other != end)
                go(number + 1, (*rest, number), yarns, carried + cost)
        return go(number + 1, (*ends, number), yarns + 1, carried)

    best = (len(runs) + 1, 0)
    return go(0, (), 0, 0)


def best_by_dense_assignment(runs: list[Run], limit: CarryLimit, order: str) -> tuple[int, int]:
    """The same by scipy's dense solver: each run is followed by another, or by none at a price."""
    size = len(runs)
    none = 10**6
    table = np.full((size, 2 * size), 10**9)
    for one in range(size):
        table[one, size + one] = none
        for other in range(one + 1, size):
            cost = carry_cost(runs[one], runs[other], limit, order)
            if cost is not None:
                table[one, other] = cost
    rows, columns = linear_sum_assignment(table)
    total = int(table[rows, columns].sum())
    return total // none, total % none


def planned(plan: ChartPlan, colour: str) -> tuple[int, int]:
    yarns = [yarn for yarn in plan.yarns if yarn.colour == colour]
    return len(yarns), round(sum(yarn.carried_mm for yarn in yarns))


def check_routes(plan: ChartPlan, runs: list[Run], limit: CarryLimit, order: str) -> None:
    """Each yarn works whole runs of its colour, in order, by carries that are allowed."""
    by_first = {run.cells[0]: run for run in runs}
    used = []
    for yarn in plan.yarns:
        cells = []
        for stretch in yarn.stretches:
            step = 1 if stretch.last_cord >= stretch.first_cord else -1
            cords = range(stretch.first_cord, stretch.last_cord + step, step)
            assert len(cords) == stretch.knots
            cells += [(stretch.row, cord) for cord in cords]
        assert len(cells) == yarn.knots
        targets = [(carry.target.row, carry.target.cord) for carry in yarn.carries]
        for first in [cells[0], *targets]:
            run = by_first[first]
            assert run.colour == yarn.colour
            at = cells.index(first)
            assert cells[at : at + len(run.cells)] == run.cells
            used.append(first)
        for carry in yarn.carries:
            origin = (carry.origin.row, carry.origin.cord)
            one = next(run for run in runs if run.cells[-1] == origin)
            other = by_first[carry.target.row, carry.target.cord]
            assert carry_cost(one, other, limit, order) == round(carry.length_mm)
            assert cells.index(origin) + 1 == cells.index(other.cells[0])
    assert sorted(used) == sorted(by_first)


@settings(max_examples=250, deadline=None)
@given(charts(4, 4, "AB") | charts(4, 5, "ABC"), SIDES, ORDERS, LIMITS)
@example(["ABAB", "BABA", "ABAB", "BABA"], "left", "zigzag", CarryLimit(2, 1))
@example(["ABBBA", "BBBBB", "BABBB"], "left", "zigzag", CarryLimit(1, 2, along_row=True))
@example(["A"], "right", "one-way", CarryLimit(0, 0))
def test_routes_are_the_best_there_are(
    cells: list[str], side: Any, order: Any, limit: CarryLimit
) -> None:
    plan = chart_of(*cells, first_row_from=side, order=order, carry=limit)
    runs = worked(cells, side, order)
    check_routes(plan, runs, limit, order)
    for colour in plan.knots:
        own = [run for run in runs if run.colour == colour]
        assert planned(plan, colour) == best_by_trying_all(own, limit, order)


@pytest.mark.parametrize("seed", range(6))
def test_medium_charts_against_a_dense_solver(seed: int) -> None:
    draw = random.Random(seed)
    letters = "ABCD"[: 2 + seed % 3]
    cells = ["".join(draw.choices(letters, k=24)) for _ in range(20)]
    limit = CarryLimit(draw.randrange(1, 8), draw.randrange(0, 4))
    order = ("zigzag", "one-way")[seed % 2]
    plan = chart_of(*cells, order=order, carry=limit)
    runs = worked(cells, "left", order)
    check_routes(plan, runs, limit, order)
    for colour in letters:
        own = [run for run in runs if run.colour == colour]
        assert planned(plan, colour) == best_by_dense_assignment(own, limit, order)


@pytest.mark.parametrize("slug", SLUGS)
def test_demo_pieces_against_a_dense_solver(slug: str) -> None:
    pattern = demo(slug)
    piece = next(piece for piece in pattern.pieces if isinstance(piece, ChartPiece))
    same_size = replace(pattern, pieces=(replace(piece, gauge=SEVEN_BY_FIVE),))
    (plan,) = make_plan(same_size).charts
    runs = worked(list(piece.cells), piece.first_row_from, piece.order)
    for colour in plan.knots:
        own = [run for run in runs if run.colour == colour]
        best = best_by_dense_assignment(own, piece.carry, piece.order)
        assert planned(plan, colour) == best


@settings(deadline=None)
@given(charts(4, 5, "AB"), LIMITS, LIMITS)
def test_each_colour_keeps_to_its_own_limit(
    cells: list[str], limit: CarryLimit, other: CarryLimit
) -> None:
    """A colour's own limit plans it as if the whole piece had that limit."""
    own = chart_of(*cells, carry=limit, limits={"A": other})
    everywhere = {limit: chart_of(*cells, carry=limit), other: chart_of(*cells, carry=other)}
    for colour in own.knots:
        alone = everywhere[other if colour == "A" else limit]
        assert planned(own, colour) == planned(alone, colour)


def test_never_carried_and_as_far_as_needed() -> None:
    row = "ABBBBBBBBBBA"
    assert planned(chart_of(row, limits={"A": CarryLimit(0, 0)}), "A") == (2, 0)
    assert planned(chart_of(row), "A") == (2, 0)
    along = {"A": CarryLimit(0, 0, along_row=True)}
    assert planned(chart_of(row, limits=along), "A") == (1, 11 * WIDTH)


def test_as_far_as_needed_is_within_a_row_alone() -> None:
    """From row to row the limit of columns holds: A ends at cord 1 and begins again at cord 6."""
    rows = ("BBBBBB", "ABBBBB", "BBBBBA")
    for columns, yarns in ((4, 2), (5, 1)):
        limit = CarryLimit(columns, 2, along_row=True)
        plan = chart_of(*rows, first_row_from="left", order="zigzag", limits={"A": limit})
        assert planned(plan, "A")[0] == yarns


def test_fewer_yarns_before_shorter_carries() -> None:
    """B ends at cords 3 and 6 and begins, in the next row, at 4 and 1; two columns are allowed.

    The nearest, 3 to 4, would leave 6 and 1 four columns apart: three yarns. So 3 goes to 1 and
    6 to 4, each two columns and a row: two yarns.
    """
    plan = chart_of("AABAAB", "BAABAA", carry=CarryLimit(2, 1))
    assert planned(plan, "B") == (2, 2 * (2 * WIDTH + HEIGHT))


def test_yarns_are_named_in_order_of_their_start() -> None:
    plan = chart_of("ABA", "CCC", carry=CarryLimit(0, 0))
    assert [yarn.id for yarn in plan.yarns] == ["A1", "B1", "A2", "C1"]
