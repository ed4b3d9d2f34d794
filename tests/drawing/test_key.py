"""The key names every colour with its symbol and knots; the map shows where a tile is."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest

from publisher.drawing import draw_key, draw_key_map, draw_legend, draw_swatch
from publisher.drawing.base.lettering import fitted_lines
from publisher.drawing.base.symbols import symbol_ink
from publisher.fonts import text_width_mm
from publisher.model.colour import Colour
from publisher.model.pattern import Gauge
from publisher.plan import make_plan
from tests.support.charts import (
    Shot,
    chart_of,
    kingfisher,
    look,
    near,
    nodes,
    plan_of,
    texts,
    tiles_of,
    words,
)
from tests.support.shop import demo

BOOKLET, MONO, LARGE = look(), look("ink-saver"), look("large-print")
WORDS = words()
WIDTH = 146.0
SIXTY = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz01234567"


def test_the_key_lists_every_colour_once_and_its_knots_add_up() -> None:
    plan, colours = kingfisher()
    figure = draw_key(plan, colours, BOOKLET, WIDTH, WORDS)
    said = [text.text for text in texts(figure)]
    for colour in colours:
        assert said.count(colour.letter) == 1
        assert colour.name in said
        assert colour.name in figure.alt
    counts = [int(text.split()[0].replace(",", "")) for text in said if text.endswith("knots")]
    assert sum(counts) == plan.total_knots


@pytest.mark.parametrize(("wide_mm", "high_mm"), [(9.0, 5.0), (5.0, 9.0)])
def test_the_keys_cells_have_the_proportion_of_the_knots(wide_mm: float, high_mm: float) -> None:
    """Nothing else in the key of one colour is orange."""
    plan, colours = plan_of("CCCC", gauge=Gauge(1, wide_mm, 1, high_mm, 60.0))
    pixels = Shot(draw_key(plan, colours, BOOKLET, WIDTH, WORDS), 400).pixels.astype(int)
    found = np.argwhere(np.abs(pixels - (0xC4, 0x60, 0x2A)).max(axis=2) < 8)
    down, across = found.max(axis=0) - found.min(axis=0)
    assert across / down == pytest.approx(wide_mm / high_mm, rel=0.05)


def test_the_key_has_the_order_of_the_file_as_lists_and_rows_have() -> None:
    plan, colours = kingfisher()
    said = [text.text for text in texts(draw_key(plan, colours, BOOKLET, WIDTH, WORDS))]
    letters = [text for text in said if len(text) == 1]
    assert letters == [colour.letter for colour in colours]


def test_a_colour_of_another_piece_is_not_in_this_ones_key() -> None:
    plan, colours = plan_of("AAB", "ABB")
    _, more = plan_of("ABC")
    figure = draw_key(plan, more, BOOKLET, WIDTH, WORDS)
    assert len(more) == len(colours) + 1
    assert {text.text for text in texts(figure) if len(text.text) == 1} == {"A", "B"}


def test_sixty_colours_fit_a_page_and_all_are_there() -> None:
    palette = {letter: f"#{4 * index:02x}8040" for index, letter in enumerate(SIXTY)}
    plan, colours = plan_of(SIXTY, palette=palette)
    figure = draw_key(plan, colours, BOOKLET, WIDTH, WORDS)
    assert figure.height_mm <= 230
    assert figure.alt.count(";") == 59


def test_names_stay_in_their_column_however_long_they_are() -> None:
    plan, colours = plan_of("ABC")
    named = tuple(replace(one, name="bleached driftwood " * 20 + "x" * 200) for one in colours)
    figure = draw_key(plan, named, BOOKLET, WIDTH, WORDS)
    style = BOOKLET.type["key"]
    column = (WIDTH + 4.0) / BOOKLET.chart.key_columns
    for text in texts(figure):
        end = text.x + text_width_mm(text.text, style.face, style.size_pt)
        assert int(text.x / column) == int((end - 0.01) / column)


def test_a_word_too_long_for_a_line_is_cut_and_says_so() -> None:
    lines = fitted_lines("a reed-green-and-river-mist-marl yarn", "sans", 10, 20.0, 2)
    assert len(lines) == 2 and lines[-1].endswith("…")
    assert all(text_width_mm(line, "sans", 10) <= 20.0 for line in lines)
    assert fitted_lines("reed green", "sans", 10, 40.0, 2) == ["reed green"]
    assert fitted_lines("", "sans", 10, 40.0, 2) == []


def test_a_swatch_shows_yarn_and_symbol_and_without_colour_only_the_symbol() -> None:
    _, colours = plan_of("AB")
    navy = next(one for one in colours if one.letter == "B")
    shot = Shot(draw_swatch(navy, colours, BOOKLET, 8.0, 6.0), 400)
    assert near(shot.at(0.9, 0.7), navy.srgb)
    assert near(shot.at(4.0, 4.2), symbol_ink(navy.srgb))
    mono = Shot(draw_swatch(navy, colours, MONO, 8.0, 6.0), 400)
    assert near(mono.at(0.9, 0.7), Colour(255, 255, 255))
    assert near(mono.at(4.0, 4.2), MONO.colours["ink"])


def test_the_legend_explains_just_what_the_chart_shows() -> None:
    plan, _ = plan_of("AAAA")
    said = {text.text for text in texts(draw_legend(plan, BOOKLET, WIDTH, WORDS, shared=False))}
    assert WORDS["legend_start"] in said and WORDS["legend_leave"] in said
    assert WORDS["legend_join"] not in said
    assert WORDS["legend_run"] not in said and WORDS["legend_shared"] not in said
    plan, _ = kingfisher()
    said = {text.text for text in texts(draw_legend(plan, BOOKLET, WIDTH, WORDS))}
    keys = ("legend_run", "legend_shared", "legend_join", "legend_pick_up", "legend_leave")
    assert all(WORDS[key] in said for key in keys)


def test_the_legend_keeps_to_its_width() -> None:
    plan, _ = kingfisher()
    for chosen, width in ((BOOKLET, WIDTH), (LARGE, 123.0)):
        style = chosen.type["legend"]
        for text in texts(draw_legend(plan, chosen, width, WORDS)):
            if len(text.text) > 3:
                assert text.x + text_width_mm(text.text, style.face, style.size_pt) <= width


def test_the_map_frames_this_tile_and_shows_the_picture() -> None:
    plan, colours = kingfisher()
    tiles = tiles_of(plan)
    figure = draw_key_map(plan, colours, tiles, (tiles.tile(4),), BOOKLET, WORDS)
    accent = str(BOOKLET.colours["accent"])
    frames = [node.get("d", "") for node in nodes(figure) if node.get("stroke") == accent]
    tile = tiles.tile(4)
    across = figure.width_mm / plan.columns
    down = figure.height_mm / plan.rows
    place = re.match(r"M(\S+) ([\d.]+)H", frames[0])
    assert place and len(frames) == 1
    assert abs(float(place[1]) - (tile.first_cord - 1) * across) < 0.01
    assert abs(float(place[2]) - (tile.first_row - 1) * down) < 0.01
    assert figure.height_mm / figure.width_mm == plan.height_mm / plan.width_mm
    shot = Shot(figure, 600)
    for row, cord in ((3, 30), (20, 10), (45, 20), (36, 12)):
        paint = next(one.srgb for one in colours if one.letter == plan.cells[row - 1][cord - 1])
        assert near(shot.at((cord - 0.5) * across, (row - 0.5) * down), paint, 12), (row, cord)


def test_the_map_frames_all_tiles_of_a_page_as_one() -> None:
    plan, colours = plan_of(*["A" * 100 + "B" * 100] * 10)
    tiles = tiles_of(plan)
    page = tiles.pages[1]
    figure = draw_key_map(plan, colours, tiles, page, BOOKLET, WORDS)
    accent = str(BOOKLET.colours["accent"])
    (frame,) = (node.get("d", "") for node in nodes(figure) if node.get("stroke") == accent)
    across = figure.width_mm / plan.columns
    left, right = map(float, re.match(r"M(\S+) [\d.]+H([\d.]+)", frame).groups())  # type: ignore[union-attr]
    assert left == pytest.approx((page[0].first_cord - 1) * across, abs=0.01)
    assert right == pytest.approx(page[-1].last_cord * across, abs=0.01)
    assert str(page[0].number) in figure.alt and str(page[-1].number) in figure.alt


def test_the_map_of_a_huge_chart_is_small_and_still_shows_the_tile() -> None:
    rows = ["".join("ABCDEF"[(x * y + x // 3) % 6] for x in range(400)) for y in range(600)]
    plan, colours = plan_of("AB")
    _, colours = plan_of("ABCDEF")
    piece = replace(plan.piece, cells=tuple(rows))
    huge = replace(plan, piece=piece, width_mm=3000, height_mm=4000)
    tiles = tiles_of(huge)
    figure = draw_key_map(huge, colours, tiles, (tiles.tile(100),), BOOKLET, WORDS)
    assert len(figure.svg) < 60_000
    assert "data:image/png;base64," in figure.svg
    assert str(BOOKLET.colours["accent"]) in figure.svg


def test_a_tall_chart_does_not_make_the_map_run_down_the_page() -> None:
    plan, colours = plan_of(*["A"] * 300)
    tiles = tiles_of(plan)
    figure = draw_key_map(plan, colours, tiles, tiles.pages[0], BOOKLET, WORDS)
    assert figure.height_mm <= 1.4 * BOOKLET.chart.key_map_mm


def test_the_map_of_a_wide_chart_keeps_its_numbers_legible_or_leaves_them_out() -> None:
    plan, colours = chart_of(make_plan(demo("boats-at-the-weir")))
    for chosen in (BOOKLET, LARGE):
        tiles = tiles_of(plan, chosen)
        figure = draw_key_map(plan, colours, tiles, tiles.pages[1], chosen, WORDS)
        least = chosen.type["map-number"].size_pt * 25.4 / 72
        sizes = [float(node.get("font-size", 0)) for node in nodes(figure) if node.tag == "text"]
        assert all(size >= least - 0.01 for size in sizes)
