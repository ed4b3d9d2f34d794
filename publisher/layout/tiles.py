"""Compose a chart's pages: each tile with its key, its legend and the map of all tiles."""

from __future__ import annotations

from collections.abc import Iterator

from publisher.drawing import draw_chart_tile, plan_tiles
from publisher.drawing.tiles import Tile, TilePlan
from publisher.frozen import frozen
from publisher.layout.boxes import Placed
from publisher.layout.desk import Desk
from publisher.layout.keys import GAP_MM, Key, placed, short_key
from publisher.manuscript.blocks import Chart

_ALONE_MM = 5.0
"""A chart on one page has no words above it, and stands a little lower."""
_MOST_KEY_SHARE = 0.3
"""A key taller than this share of a page's text gets a page of its own, and the charts a short
one."""


@frozen
class ChartPage:
    """One page: the words over it and in its header; boxes with y from the top of the text."""

    title: str
    running: str
    boxes: tuple[Placed, ...]


def chart_pages(chart: Chart, desk: Desk, room_mm: float) -> Iterator[ChartPage]:
    """Every tile's page. `room_mm` is the height of the text below the title."""
    key = Key.of(chart, desk, shared=True, beside_map=True)
    if key.height_mm > room_mm * _MOST_KEY_SHARE:
        yield from _with_key_page(chart, desk, room_mm)
        return
    tiles = _tiles(chart, desk, room_mm - key.height_mm - GAP_MM)
    if len(tiles.tiles) == 1:
        key = Key.of(chart, desk, shared=False, beside_map=False)
    for tile in tiles.tiles:
        drawn, below = _tile(chart, desk, tiles, tile, room_mm - key.height_mm - GAP_MM)
        boxes = (drawn, *key.below(chart, desk, tiles, tile.number, below))
        yield ChartPage(*_words(chart, tiles, tile), boxes)


def _with_key_page(chart: Chart, desk: Desk, room_mm: float) -> Iterator[ChartPage]:
    """The key on a page before the charts, and its colours under every chart."""
    names = short_key(chart, desk)
    room = room_mm - names.height_mm - names.before_mm
    tiles = _tiles(chart, desk, room)
    key = Key.of(chart, desk, shared=len(tiles.tiles) > 1, beside_map=False)
    title = chart.titles["key"]
    yield ChartPage(title, title, tuple(key.alone(chart, desk, tiles, room_mm)))
    left = desk.look.paper.margins.left_mm
    for tile in tiles.tiles:
        drawn, below = _tile(chart, desk, tiles, tile, room)
        colours = Placed(left, below - GAP_MM + names.before_mm, names)
        yield ChartPage(*_words(chart, tiles, tile), (drawn, colours))


def _tiles(chart: Chart, desk: Desk, room_mm: float) -> TilePlan:
    cell, look = chart.plan.cell, desk.look
    ratio = cell.width_mm / cell.height_mm
    width = look.paper.text_width_mm
    return plan_tiles(chart.plan.columns, chart.plan.rows, width, room_mm, ratio, look)


def _tile(
    chart: Chart, desk: Desk, tiles: TilePlan, tile: Tile, room_mm: float
) -> tuple[Placed, float]:
    """A tile in the middle of the page's width, and where what stands under it begins."""
    look = desk.look
    figure = draw_chart_tile(
        chart.plan, desk.colours, tiles, tile.number, look, chart.words, chart.places
    )
    y = min(_ALONE_MM, room_mm - figure.height_mm) if len(tiles.tiles) == 1 else 0.0
    left = look.paper.margins.left_mm + (look.paper.text_width_mm - figure.width_mm) / 2
    return placed(figure, left, y), y + figure.height_mm + GAP_MM


def _words(chart: Chart, tiles: TilePlan, tile: Tile) -> tuple[str, str]:
    titles, count = chart.titles, len(tiles.tiles)
    if count == 1:
        return titles["title_whole"], titles["running_whole"]
    title = titles["title"].format(
        n=tile.number,
        first_row=tile.first_row,
        last_row=tile.last_row,
        first_cord=tile.first_cord,
        last_cord=tile.last_cord,
    )
    return title, titles["running"].format(n=tile.number, count=count)
