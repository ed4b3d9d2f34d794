"""Round every tile: numbers, arrows, boxes and beats are where they belong."""

from __future__ import annotations

import itertools
import re

import pytest

from publisher.drawing import draw_chart_tile
from publisher.drawing.chart.tiles import Tile
from publisher.drawing.chart.view import View
from publisher.fonts import text_width_mm
from publisher.model.figure import Figure
from publisher.model.look import Look
from publisher.model.pattern import Gauge
from tests.support.charts import (
    kingfisher,
    look,
    nodes,
    plan_of,
    texts,
    tile_of,
    tiles_of,
    words,
)

BOOKLET, MONO, LARGE = look(), look("ink-saver"), look("large-print")
PLAIN = look(run_length_from=0, yarn_marks=False)
WORDS = words()


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("order", ["zigzag", "one-way"])
def test_each_row_has_its_number_and_arrow_where_it_starts_and_a_box_where_it_ends(
    side: str, order: str
) -> None:
    plan, colours = plan_of(*["AB" * 30] * 70, first_row_from=side, order=order)
    tiles = tiles_of(plan)
    assert len(tiles.tiles) >= 4
    for tile in tiles.tiles:
        figure = draw_chart_tile(plan, colours, tiles, tile.number, PLAIN, WORDS)
        view = View.of(plan, tiles, tile.number, PLAIN)
        arrows, boxes = _row_paths(figure, view)
        for row in view.rows:
            y = view.y(row.row + 0.5)
            from_left = row.start == "left"
            outside = -1 if from_left else 1
            start = view.left if from_left else view.right
            end = view.right if from_left else view.left
            numbers = [said for said in texts(figure) if said.text == str(row.row)]
            beside = [said for said in numbers if abs(said.y - y) < view.cell_height / 2]
            assert len(beside) == 1, f"row {row.row} on tile {tile.number}"
            assert (beside[0].x - start) * outside > 0
            if not (row.row == 1 and _has_first_cell(tile, from_left)):
                tips = [x for x, tip_y in arrows if abs(tip_y - y) < 0.02]
                assert tips == [
                    pytest.approx(start + outside * BOOKLET.chart.arrow_gap_mm, abs=0.02)
                ]
            ticks = [x for x, top in boxes if abs(top + BOOKLET.chart.tick_mm / 2 - y) < 0.02]
            assert len(ticks) == 1
            nearer = ticks[0] + (BOOKLET.chart.tick_mm if end == view.left else 0.0)
            gap_mm = (nearer - end) * -outside
            assert gap_mm == pytest.approx(BOOKLET.chart.tick_gap_mm, abs=0.02), "off the cells"


def _has_first_cell(tile: Tile, from_left: bool) -> bool:
    return tile.left is None if from_left else tile.right is None


def _row_paths(figure: Figure, view: View) -> tuple[list, list]:
    """Arrow tips and the corners of tick boxes."""
    arrows, boxes = [], []
    for node in nodes(figure):
        path = node.get("d", "")
        places = [
            tuple(map(float, place)) for place in re.findall(r"M(\S+) ([\d.]+)(?=[lh])", path)
        ]
        if "l-1.6 -0.95" in path or "l1.6 -0.95" in path:
            arrows += places
        elif f"h{view.look.chart.tick_mm:g}v{view.look.chart.tick_mm:g}h" in path:
            boxes += places
    return arrows, boxes


def test_the_start_is_tagged_once_where_the_first_cell_is() -> None:
    for side, expected in (("left", 1), ("right", 2)):
        plan, colours = plan_of(*["AB" * 30] * 20, first_row_from=side)
        tiles = tiles_of(plan)
        tagged = [
            tile.number
            for tile in tiles.tiles
            if any(
                said.text == WORDS["start"]
                for said in texts(
                    draw_chart_tile(plan, colours, tiles, tile.number, BOOKLET, WORDS)
                )
            )
        ]
        assert tiles.across == 3 and tagged == [1 if expected == 1 else 3]


def test_every_cord_is_numbered_above_and_below_over_its_own_cells() -> None:
    figure, view = tile_of(kingfisher(), 2, PLAIN)
    for cord in view.cords:
        named = [said for said in texts(figure) if said.text == str(cord)]
        inside = [said for said in named if view.x(cord) < said.x < view.x(cord + 1)]
        assert sorted(said.y < view.top for said in inside) == [False, True], cord


def test_large_numbers_do_not_touch_where_cells_are_narrow() -> None:
    square = {"columns": 10, "width_mm": 80, "rows": 10, "height_mm": 80}
    plan, colours = plan_of("A" * 260, gauge=Gauge(**square))
    tiles = tiles_of(plan)
    for tile in tiles.tiles:
        figure = draw_chart_tile(plan, colours, tiles, tile.number, BOOKLET, WORDS)
        view = View.of(plan, tiles, tile.number, BOOKLET)
        above = sorted(
            (*said[1:], said.text)
            for said in texts(figure)
            if abs(said.y - (view.top - view.room.cord_above)) < 0.01 and said.text.isdigit()
        )
        assert len(above) == tile.columns
        for (x, _, text), (following, _, _) in itertools.pairwise(above):
            assert x + text_width_mm(text, "sans", 8) < following
        for cord, (_, _, text) in zip(view.cords, above, strict=True):
            whole = cord < 100 or cord % 5 == 0 or cord == tile.first_cord
            assert text == (str(cord) if whole else f"{cord % 100:02}")


def test_beats_count_from_cord_one_and_row_one_on_every_tile() -> None:
    plan, colours = plan_of(*["A" * 60] * 70)
    tiles = tiles_of(plan)
    for number in (1, len(tiles.tiles)):
        figure = draw_chart_tile(plan, colours, tiles, number, PLAIN, WORDS)
        view = View.of(plan, tiles, number, PLAIN)
        heavy = next(
            node.get("d", "")
            for node in nodes(figure)
            if node.get("stroke-width") == f"{PLAIN.chart.ten_line_mm:g}"
        )
        xs = {round(float(x), 2) for x in re.findall(r"M([\d.]+) [\d.]+V", heavy)}
        expected = {round(view.x(cord + 1), 2) for cord in view.cords[:-1] if cord % 10 == 0}
        assert xs == expected and expected


@pytest.mark.parametrize("chosen", [BOOKLET, LARGE], ids=["booklet", "large print"])
def test_the_words_on_shared_cells_name_the_right_chart_and_never_run_into_each_other(
    chosen: Look,
) -> None:
    plan, colours = kingfisher()
    tiles = tiles_of(plan, chosen)
    style = chosen.type[chosen.chart.overlap_words]
    for tile in tiles.tiles:
        figure = draw_chart_tile(plan, colours, tiles, tile.number, chosen, WORDS)
        said = [text for text in texts(figure) if "chart" in text.text]
        named = sorted(int(re.findall(r"\d+", text.text)[-1]) for text in said)
        expected = [tile.left, tile.right, tile.above, tile.below]
        assert named == sorted(number for number in expected if number)
        for y in {text.y for text in said}:
            line = sorted(text for text in said if text.y == y)
            line.sort(key=lambda text: text.x)
            for one, other in itertools.pairwise(line):
                assert one.x + text_width_mm(one.text, style.face, style.size_pt) < other.x
