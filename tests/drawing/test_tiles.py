"""Charts are cut so that they take the fewest pages, with the largest cells that allow it."""

from __future__ import annotations

import math
from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from publisher.drawing import draw_chart_tile
from publisher.drawing.chart.strips import GAP_MM, PageRoom, pages_of, tiles_needed
from publisher.drawing.chart.surround import surround
from publisher.drawing.chart.tiles import Tile, TilePlan, plan_tiles
from publisher.fonts import text_width_mm
from publisher.model.pattern import Side
from tests.support.charts import kingfisher, look, plan_of, texts, tile_of, tiles_of, words

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
def test_the_first_tile_is_where_the_first_row_begins(
    columns: int, rows: int, ratio: float
) -> None:
    """And the others follow along the rows; they are cut in the same places."""
    left = plan_tiles(columns, rows, *ROOM, ratio, BOOKLET)
    right = plan_tiles(columns, rows, *ROOM, ratio, BOOKLET, "right")
    assert left.tiles[0].first_row == right.tiles[0].first_row == 1
    assert left.tiles[0].first_cord == 1 and right.tiles[0].last_cord == columns
    for plan, way in ((left, 1), (right, -1)):
        read = [(tile.first_row, way * tile.first_cord) for tile in plan.tiles]
        assert read == sorted(read)
    assert {(*_cords(t), *_rows(t)) for t in left.tiles} == {
        (*_cords(t), *_rows(t)) for t in right.tiles
    }


@given(SIZES, SIZES, RATIOS, st.sampled_from(["left", "right"]))
def test_tiles_know_their_neighbours_and_what_they_share(
    columns: int, rows: int, ratio: float, side: Side
) -> None:
    plan = plan_tiles(columns, rows, *ROOM, ratio, BOOKLET, side)
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


def heights(plan: TilePlan) -> dict[int, float]:
    """How high each tile is, with all that stands round it."""
    around = surround(BOOKLET, plan.others)
    more = around.above + around.below
    return {tile.number: tile.rows * plan.cell_height_mm + more for tile in plan.tiles}


@given(SIZES, SIZES, RATIOS)
def test_every_page_has_room_for_its_tiles_with_all_that_stands_round_them(
    columns: int, rows: int, ratio: float
) -> None:
    plan = plan_tiles(columns, rows, *ROOM, ratio, BOOKLET)
    around, tall = surround(BOOKLET, plan.others), heights(plan)
    for page in plan.pages:
        used = sum(tall[tile.number] for tile in page) + GAP_MM * (len(page) - 1)
        assert used <= ROOM[1] + 1e-6
    for tile in plan.tiles:
        assert tile.columns * plan.cell_width_mm + 2 * around.side <= ROOM[0] + 1e-6


@given(SIZES, SIZES, RATIOS)
def test_pages_hold_every_tile_once_in_order_and_never_two_bands_of_rows(
    columns: int, rows: int, ratio: float
) -> None:
    plan = plan_tiles(columns, rows, *ROOM, ratio, BOOKLET)
    assert tuple(tile for page in plan.pages for tile in page) == plan.tiles
    for page in plan.pages:
        assert len({_rows(tile) for tile in page}) == 1
        assert all(plan.page_of(tile) == page for tile in page)


@given(SIZES, SIZES, RATIOS)
def test_larger_cells_would_take_more_pages(columns: int, rows: int, ratio: float) -> None:
    plan = plan_tiles(columns, rows, *ROOM, ratio, BOOKLET)
    larger = 1 + 0.11 / min(plan.cell_width_mm, plan.cell_height_mm)
    wide, tall = plan.cell_width_mm * larger, plan.cell_height_mm * larger
    assume(max(wide, tall) <= BOOKLET.chart.cell_max_mm)
    around = surround(BOOKLET, plan.others)
    room = around.grid(*ROOM)
    across = tiles_needed(columns, max(3, math.floor(room[0] / wide)), plan.overlap)
    around_mm = around.above + around.below
    page = PageRoom(ROOM[1], around_mm, around_mm)
    bands = [_rows(tile) for tile in plan.tiles[:: plan.across]]
    too_high = any(last - first + 1 > room[1] / tall for first, last in bands)
    pages = sum(pages_of(bands, plan.across, page, tall))
    assert across > plan.across or too_high or pages > len(plan.pages)


@given(SIZES, SIZES, RATIOS)
def test_charts_never_take_more_pages_than_with_one_tile_on_each(
    columns: int, rows: int, ratio: float
) -> None:
    """Nor more tiles across than the smallest cells need."""
    plan = plan_tiles(columns, rows, *ROOM, ratio, BOOKLET)
    assume(len(plan.tiles) > 1)
    room = surround(BOOKLET, "among").grid(*ROOM)
    least = BOOKLET.chart.cell_min_mm
    wide, tall = least * max(1, ratio), least * max(1, 1 / ratio)
    across = tiles_needed(columns, math.floor(room[0] / wide + 1e-6), plan.overlap)
    down = tiles_needed(rows, math.floor(room[1] / tall + 1e-6), plan.overlap)
    assert plan.across == across and len(plan.pages) <= across * down
    assert plan.stacks or plan.down <= down


@pytest.mark.parametrize(
    ("columns", "rows", "ratio", "before", "pages"),
    [
        (200, 10, 1.4, 8, 3),
        (200, 20, 1.4, 8, 6),
        (120, 50, 1.4, 10, 7),  # bands of 42 rows and of 10, of which three share a page
        (48, 64, 1.4, 4, 4),
    ],
)
def test_low_tiles_share_pages(
    columns: int, rows: int, ratio: float, before: int, pages: int
) -> None:
    plan = plan_tiles(columns, rows, *ROOM, ratio, BOOKLET)
    assert len(plan.pages) == pages
    assert (len(plan.tiles) == before == pages) or max(len(page) for page in plan.pages) > 1
    assert plan.cell_height_mm >= BOOKLET.chart.cell_min_mm


def test_tiles_that_share_a_page_say_which_they_are() -> None:
    chart = plan_of(*["A" * 100 + "B" * 100] * 10)
    tiles = tiles_of(chart[0])
    for number in (1, 2, 5):
        figure, view = tile_of(chart, number)
        (name,) = (said for said in texts(figure) if said.text == f"Chart {number}")
        assert name.x == 0 and name.y < view.top
        others = [said for said in texts(figure) if said.y == name.y and said != name]
        style = BOOKLET.type["chart-words"]
        end = name.x + text_width_mm(name.text, "bold", style.size_pt)
        assert others and min(said.x for said in others) > end + 1.0
    alone, _ = tile_of(kingfisher(), 1)
    assert tiles.stacks and not any(said.text.startswith("Chart ") for said in texts(alone))


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


def test_the_words_name_just_the_cords_that_stand_on_both_charts() -> None:
    plan, colours = plan_of(*["AB" * 50] * 12)
    tiles = tiles_of(plan, BOOKLET)
    assert len(tiles.tiles) > 2
    for one, other in pairwise(tiles.tiles):
        both = f"Cords {other.first_cord} and {one.last_cord} are also on chart "
        for here, there in ((one, other), (other, one)):
            figure = draw_chart_tile(plan, colours, tiles, here.number, BOOKLET, words())
            assert f"{both}{there.number}" in [said.text for said in texts(figure)]
