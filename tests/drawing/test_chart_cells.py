"""Every cell shows its own colour and symbol, on every tile and in every edition."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.drawing import draw_chart_tile
from publisher.drawing.base.symbols import BLANK, assign_symbols, symbol_ink
from publisher.drawing.chart.cells import FADED
from publisher.drawing.chart.view import View
from publisher.model.colour import WHITE, Colour, contrast
from tests.support.charts import (
    Shot,
    kingfisher,
    look,
    near,
    nodes,
    plan_of,
    sign_rows,
    tile_of,
    tiles_of,
    words,
)

BOOKLET, MONO, LARGE = look(), look("ink-saver"), look("large-print")
PLAIN = look(run_length_from=0, yarn_marks=False)
WORDS = words()


@st.composite
def grids(draw: st.DrawFn) -> tuple[str, ...]:
    columns, rows = draw(st.integers(1, 45)), draw(st.integers(1, 60))
    return tuple(draw(st.text("ABC", min_size=columns, max_size=columns)) for _ in range(rows))


@pytest.mark.parametrize("number", [1, 4])
def test_the_colour_of_every_cell_is_its_yarns_paler_where_it_is_worked_elsewhere(
    number: int,
) -> None:
    plan, colours = kingfisher()
    chosen = replace(PLAIN, chart=replace(PLAIN.chart, grid_line_mm=0.01, five_line_mm=0.01))
    figure, view = tile_of((plan, colours), number, chosen)
    paints = {one.letter: one.srgb for one in colours}
    shot = Shot(figure, 300)
    cords, rows = view.tiles.own_cords(view.tile), view.tiles.own_rows(view.tile)
    for row in view.row_numbers:
        for cord in view.cords:
            own = cord <= cords[1] and row <= rows[1]
            paint = paints[plan.cells[row - 1][cord - 1]]
            expected = paint if own else paint.mix(WHITE, FADED)
            shown = shot.at(view.x(cord + 0.09), view.y(row + 0.13))
            assert near(shown, expected), (row, cord, shown, expected)


def test_the_middle_of_a_cell_shows_its_symbols_ink() -> None:
    plan, colours = plan_of("ABABAB", "BABABA")
    figure, view = tile_of((plan, colours), 1, PLAIN)
    symbols = assign_symbols(colours)
    assert (symbols["A"].name, symbols["B"].name) == ("dot", "window")
    shot = Shot(figure, 400)
    for row in view.row_numbers:
        for cord in view.cords:
            letter = plan.cells[row - 1][cord - 1]
            paint = next(one.srgb for one in colours if one.letter == letter)
            middle = shot.at(view.x(cord + 0.5), view.y(row + 0.5))
            rim = shot.at(view.x(cord + 0.5), view.y(row + 0.5) - 0.25 * view.unit)
            inked, bare = (middle, rim) if letter == "A" else (rim, middle)
            assert near(inked, symbol_ink(paint)) and near(bare, paint), (row, cord)


def test_a_symbol_is_as_wide_as_high_however_flat_its_cell() -> None:
    """Signs stand a cell apart, but keep the size of the shorter side."""
    figure, view = tile_of(plan_of("AAAA", "AAAA"), 1, PLAIN)
    assert view.cell_width / view.cell_height > 1.1
    rows = list(sign_rows(figure))
    assert all(row.advance == pytest.approx(view.cell_width, abs=1e-3) for row in rows)
    sizes = {
        node.get("font-size") for node in nodes(figure) if node.get("font-family") == "Knot Signs"
    }
    assert [float(size or 0) for size in sizes] == [pytest.approx(view.unit, abs=1e-3)]
    for row in rows:
        middle = row.x + view.unit / 2
        assert middle == pytest.approx(view.x(1.5), abs=0.02)


@settings(max_examples=25, deadline=None)
@given(grids())
def test_every_cell_of_every_tile_has_its_colours_symbol(cells: tuple[str, ...]) -> None:
    plan, colours = plan_of(*cells)
    symbols = assign_symbols(colours)
    tiles = tiles_of(plan, PLAIN, (100.0, 120.0))
    for tile in tiles.tiles:
        figure = draw_chart_tile(plan, colours, tiles, tile.number, PLAIN, WORDS)
        view = View.of(plan, tiles, tile.number, PLAIN)
        shown: dict[tuple[int, int], str] = {}
        for row in sign_rows(figure):
            number = view.tile.first_row + int((row.y - view.top) / view.cell_height)
            column = round(
                (row.x - view.left) / view.cell_width - 0.5 + 0.5 * view.unit / view.cell_width
            )
            for at, character in enumerate(row.text):
                if character != BLANK:
                    place = number, tile.first_cord + column + at
                    assert place not in shown, "two symbols on one cell"
                    shown[place] = character
        expected = {
            (row, cord): symbols[cells[row - 1][cord - 1]].character
            for row in view.row_numbers
            for cord in view.cords
        }
        assert shown == expected


def test_without_colour_nothing_on_the_page_is_coloured() -> None:
    figure, _ = tile_of(kingfisher(), 4, MONO)
    pixels = Shot(figure, 60).pixels.astype(int)
    spread = pixels.max(axis=2) - pixels.min(axis=2)
    assert spread.max() <= 12, "ink and band are near-neutral; anything more is a colour"


def test_more_colours_than_signs_are_told_by_letters_that_show_on_their_cells() -> None:
    letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz01234567"
    palette = {
        letter: f"#{index * 4:02x}{index * 3 + 40:02x}{255 - index * 4:02x}"
        for index, letter in enumerate(letters)
    }
    plan, colours = plan_of(letters[:30], letters[30:], palette=palette)
    assert len(colours) == 60
    figure, view = tile_of((plan, colours), 1, PLAIN)
    shown = "".join(row.text for row in sign_rows(figure)).replace(BLANK, "")
    visible = {plan.cells[row - 1][cord - 1] for row in view.row_numbers for cord in view.cords}
    assert set(shown) == visible


def test_the_faded_cells_ink_shows_on_all_of_them() -> None:
    plan, colours = kingfisher()
    figure, view = tile_of((plan, colours), 1, PLAIN)
    own = view.tiles.own_cords(view.tile)[1] - view.tile.first_cord + 1
    faded = {row.fill for row in sign_rows(figure) if row.x > view.left + own * view.cell_width}
    assert len(faded) == 1
    ink = Colour.from_hex(faded.pop())
    assert all(contrast(ink, one.srgb.mix(WHITE, FADED)) >= 3 for one in colours)
