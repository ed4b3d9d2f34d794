"""Compose a chart's pages: each tile with its key, its legend and the map of all tiles."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from publisher.drawing import draw_chart_tile, draw_key, draw_key_map, draw_legend, plan_tiles
from publisher.drawing.figure import Figure
from publisher.drawing.tiles import Tile, TilePlan
from publisher.layout.boxes import Box, Placed
from publisher.layout.desk import Desk
from publisher.layout.lines import one_line, whole_line
from publisher.manuscript.blocks import Chart

_GAP_MM = 4.0
_HEAD_MM = 8.0
_ALONE_MM = 5.0
"""A chart on one page has no words above it, and stands a little lower."""
_MAP_GAP_MM = 6.0
_MOST_KEY_SHARE = 0.3
"""A key taller than this share of a page's text gets a page of its own."""


@dataclass(frozen=True, slots=True)
class ChartPage:
    """One page: the words over it and in its header; boxes with y from the top of the text."""

    title: str
    running: str
    boxes: tuple[Placed, ...]


def chart_pages(chart: Chart, desk: Desk, room_mm: float) -> Iterator[ChartPage]:
    """Every tile's page. `room_mm` is the height of the text below the title."""
    look = desk.look
    width = look.paper.text_width_mm
    ratio = chart.plan.cell.width_mm / chart.plan.cell.height_mm
    key = _Key.of(chart, desk, shared=True)
    own_page = key.height_mm > room_mm * _MOST_KEY_SHARE
    room = room_mm - (0.0 if own_page else key.height_mm + _GAP_MM)
    tiles = plan_tiles(chart.plan.columns, chart.plan.rows, width, room, ratio, look)
    if len(tiles.tiles) == 1:
        key = _Key.of(chart, desk, shared=False)
    if own_page:
        title = chart.titles["key"]
        yield ChartPage(title, title, tuple(key.boxes(chart, desk, tiles, None, 0.0)))
    for tile in tiles.tiles:
        figure = draw_chart_tile(chart.plan, desk.colours, tiles, tile.number, look, chart.words)
        below = figure.height_mm + (0.0 if own_page else key.height_mm + _GAP_MM)
        y = min(_ALONE_MM, room_mm - below) if len(tiles.tiles) == 1 else 0.0
        left = look.paper.margins.left_mm + (width - figure.width_mm) / 2
        boxes = [_placed(figure, left, y)]
        if not own_page:
            boxes += key.boxes(chart, desk, tiles, tile.number, y + figure.height_mm + _GAP_MM)
        yield ChartPage(*_words(chart, tiles, tile), tuple(boxes))


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


@dataclass(frozen=True, slots=True)
class _Key:
    """The key and its legend, as wide as the map beside them leaves."""

    entries: Figure
    legend: Figure

    @classmethod
    def of(cls, chart: Chart, desk: Desk, *, shared: bool) -> _Key:
        """`shared`: the chart is on several pages, and its legend says how they overlap."""
        look = desk.look
        width = look.paper.text_width_mm
        if shared:
            width -= look.chart.key_map_mm + _MAP_GAP_MM
        entries = draw_key(chart.plan, desk.colours, look, width, chart.words)
        legend = draw_legend(chart.plan, look, width, chart.words, shared)
        return cls(entries, legend)

    @property
    def height_mm(self) -> float:
        return _HEAD_MM + self.entries.height_mm + _GAP_MM + self.legend.height_mm

    def boxes(
        self, chart: Chart, desk: Desk, tiles: TilePlan, number: int | None, y: float
    ) -> Iterator[Placed]:
        left = desk.look.paper.margins.left_mm
        if number is not None:
            head = {
                "title": one_line(chart.titles["key"], desk.style("heading")),
                "lead": whole_line(chart.key_lead, desk.style("lead-in")),
            }
            yield Placed(left, y, Box(_HEAD_MM, "pictures.key_head", head))
        yield _placed(self.entries, left, y + _HEAD_MM)
        yield _placed(self.legend, left, y + _HEAD_MM + self.entries.height_mm + _GAP_MM)
        if len(tiles.tiles) > 1:
            figure = draw_key_map(chart.plan, desk.colours, tiles, number, desk.look, chart.words)
            yield _placed(figure, left + desk.look.paper.text_width_mm - figure.width_mm, y)


def _placed(figure: Figure, x: float, y: float) -> Placed:
    return Placed(x, y, Box(figure.height_mm, "pictures.figure", {"figure": figure}))
