"""Charts are cut into the fewest tiles, with the largest cells that allow it."""

from __future__ import annotations

import math
from collections import Counter

import pytest
from charts import look
from hypothesis import assume, given
from hypothesis import strategies as st

from publisher.drawing.surround import surround
from publisher.drawing.tiles import Tile, TilePlan, plan_tiles, tiles_needed

BOOKLET, LARGE = look(), look("large-print")
ROOM = 174.0, 190.0
SIZES = st.integers(1, 160)
RATIOS = st.floats(0.6, 1.8)


@pytest.mark.parametrize(
    ("cells", "capacity", "overlap", "needed"),
    [
        (120, 50, 3, 3),
        (56, 55, 2, 2),
        (84, 38, 2, 3),
        (200, 40, 5, 6),
        (40, 40, 2, 1),
        (1, 9, 2, 1),
    ],
)
def test_as_many_tiles_as_the_arithmetic_says(
    cells: int, capacity: int, overlap: int, needed: int
) -> None:
    """Worked by hand: ceil((n - o) / (p - o)), one where all fits."""
    assert tiles_needed(cells, capacity, overlap) == needed


@given(SIZES, SIZES, RATIOS)
def test_every_cell_is_worked_from_one_tile_and_shared_ones_are_shown_twice(
    columns: int, rows: int, ratio: float
) -> None:
    plan = plan_tiles(columns, rows, *ROOM, ratio, BOOKLET)
    for shown, own, count in (
        (_cords, plan.own_cords, columns),
        (_rows, plan.own_rows, rows),
    ):
        line = {shown(tile): own(tile) for tile in plan.tiles}
        worked = [cell for first, last in line.values() for cell in range(first, last + 1)]
        assert sorted(worked) == list(range(1, count + 1))
        seen = Counter(cell for first, last in line for cell in range(first, last + 1))
        shared = plan.overlap * (len(line) - 1)
        assert sum(1 for times in seen.values() if times == 2) == shared
        assert max(seen.values()) <= 2


@given(SIZES, SIZES, RATIOS)
def test_tiles_know_their_neighbours_and_what_they_share(
    columns: int, rows: int, ratio: float
) -> None:
    plan = plan_tiles(columns, rows, *ROOM, ratio, BOOKLET)
    for tile in plan.tiles:
        assert tile == plan.tile(tile.number)
        if tile.right:
            right = plan.tile(tile.right)
            assert right.left == tile.number and _rows(right) == _rows(tile)
            assert tile.last_cord - right.first_cord + 1 == plan.overlap
        if tile.below:
            below = plan.tile(tile.below)
            assert below.above == tile.number and _cords(below) == _cords(tile)
            assert tile.last_row - below.first_row + 1 == plan.overlap


@given(SIZES, SIZES, RATIOS)
def test_cells_keep_their_proportion_and_never_get_too_small_or_too_large(
    columns: int, rows: int, ratio: float
) -> None:
    for chosen in (BOOKLET, LARGE):
        plan = plan_tiles(columns, rows, *ROOM, ratio, chosen)
        assert plan.cell_width_mm / plan.cell_height_mm == pytest.approx(ratio)
        short, long = sorted((plan.cell_width_mm, plan.cell_height_mm))
        assert short >= chosen.chart.cell_min_mm - 1e-9
        assert long <= chosen.chart.cell_max_mm + 1e-9 or short == chosen.chart.cell_min_mm


@given(SIZES, SIZES, RATIOS)
def test_every_tile_fits_the_room_with_all_that_stands_round_it(
    columns: int, rows: int, ratio: float
) -> None:
    plan = plan_tiles(columns, rows, *ROOM, ratio, BOOKLET)
    around = surround(BOOKLET, with_words=len(plan.tiles) > 1)
    for tile in plan.tiles:
        assert tile.columns * plan.cell_width_mm + 2 * around.side <= ROOM[0] + 1e-6
        tall = tile.rows * plan.cell_height_mm + around.above + around.below
        assert tall <= ROOM[1] + 1e-6


@given(SIZES, SIZES, RATIOS)
def test_larger_cells_would_take_more_tiles(columns: int, rows: int, ratio: float) -> None:
    plan = plan_tiles(columns, rows, *ROOM, ratio, BOOKLET)
    larger = 1 + 0.11 / min(plan.cell_width_mm, plan.cell_height_mm)
    wide, tall = plan.cell_width_mm * larger, plan.cell_height_mm * larger
    assume(max(wide, tall) <= BOOKLET.chart.cell_max_mm)
    room = surround(BOOKLET, with_words=len(plan.tiles) > 1).grid(*ROOM)
    across = tiles_needed(columns, max(3, math.floor(room[0] / wide)), plan.overlap)
    down = tiles_needed(rows, max(3, math.floor(room[1] / tall)), plan.overlap)
    assert across > plan.across or down > plan.down


@given(SIZES, SIZES, RATIOS)
def test_no_smaller_allowed_cell_would_take_fewer_tiles(
    columns: int, rows: int, ratio: float
) -> None:
    plan = plan_tiles(columns, rows, *ROOM, ratio, BOOKLET)
    assume(len(plan.tiles) > 1)
    room = surround(BOOKLET, with_words=True).grid(*ROOM)
    least = BOOKLET.chart.cell_min_mm
    wide, tall = least * max(1, ratio), least * max(1, 1 / ratio)
    assert plan.across == tiles_needed(columns, math.floor(room[0] / wide + 1e-6), plan.overlap)
    assert plan.down == tiles_needed(rows, math.floor(room[1] / tall + 1e-6), plan.overlap)


def test_tiles_are_as_even_as_can_be() -> None:
    plan = plan_tiles(400, 600, *ROOM, 1.2, BOOKLET)
    for sizes in ([tile.columns for tile in plan.tiles], [tile.rows for tile in plan.tiles]):
        assert max(sizes) - min(sizes) <= 1


def test_a_small_chart_is_one_tile_with_no_neighbours() -> None:
    plan = plan_tiles(1, 1, *ROOM, 1.1, BOOKLET)
    assert plan.tiles == (Tile(1, 1, 1, 1, 1, None, None, None, None),)
    assert isinstance(plan, TilePlan) and (plan.across, plan.down) == (1, 1)


def _cords(tile: Tile) -> tuple[int, int]:
    return tile.first_cord, tile.last_cord


def _rows(tile: Tile) -> tuple[int, int]:
    return tile.first_row, tile.last_row
