"""Compose a chart's pages: each tile with its key, its legend and the map of all tiles."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from publisher.drawing import draw_chart_tile, plan_tiles
from publisher.drawing.chart.strips import GAP_MM as STRIP_GAP_MM
from publisher.drawing.chart.tiles import Tile, TilePlan
from publisher.frozen import frozen
from publisher.layout.boxes import Placed
from publisher.layout.context import LayoutContext
from publisher.layout.flow import title_lines
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


def chart_pages(chart: Chart, context: LayoutContext, room_mm: float) -> Iterator[ChartPage]:
    """The pages of all tiles. `room_mm` is the height of the text below the title."""
    key = Key.of(chart, context, shared=True, beside_map=True)
    if key.height_mm > room_mm * _MOST_KEY_SHARE:
        yield from _with_key_page(chart, context, room_mm)
        return
    tiles = _tiles(chart, context, room_mm - key.height_mm - GAP_MM)
    if len(tiles.tiles) == 1:
        key = Key.of(chart, context, shared=False, beside_map=False)
    for page in tiles.pages:
        drawn, below = _tiles_of(chart, context, tiles, page, room_mm - key.height_mm - GAP_MM)
        boxes = (*drawn, *key.below(chart, context, tiles, page, below))
        yield ChartPage(*_words(chart, context, tiles, page), boxes)


def _with_key_page(chart: Chart, context: LayoutContext, room_mm: float) -> Iterator[ChartPage]:
    """The key on a page before the charts, and its colours under every chart."""
    names = short_key(chart, context)
    room = room_mm - names.height_mm - names.before_mm
    tiles = _tiles(chart, context, room)
    key = Key.of(chart, context, shared=len(tiles.tiles) > 1, beside_map=False)
    title = chart.titles["key"]
    yield ChartPage(title, title, tuple(key.alone(chart, context, tiles, room_mm)))
    left = context.look.paper.margins.left_mm
    for page in tiles.pages:
        drawn, below = _tiles_of(chart, context, tiles, page, room)
        colours = Placed(left, below - GAP_MM + names.before_mm, names)
        yield ChartPage(*_words(chart, context, tiles, page), (*drawn, colours))


def _tiles(chart: Chart, context: LayoutContext, room_mm: float) -> TilePlan:
    plan, look = chart.plan, context.look
    ratio = plan.cell.width_mm / plan.cell.height_mm
    room = look.paper.text_width_mm, room_mm
    return plan_tiles(plan.columns, plan.rows, *room, ratio, look, plan.piece.first_row_from)


def _tiles_of(
    chart: Chart, context: LayoutContext, tiles: TilePlan, page: Sequence[Tile], room_mm: float
) -> tuple[tuple[Placed, ...], float]:
    """A page's tiles under one another, in the middle of its width, and where what stands under
    them begins."""
    look = context.look
    figures = [
        draw_chart_tile(
            chart.plan,
            context.colours,
            tiles,
            tile.number,
            look,
            chart.words,
            chart.places,
            context.store,
        )
        for tile in page
    ]
    widest = max(figure.width_mm for figure in figures)
    left = look.paper.margins.left_mm + (look.paper.text_width_mm - widest) / 2
    alone = len(tiles.tiles) == 1
    y = min(_ALONE_MM, room_mm - figures[0].height_mm) if alone else 0.0
    boxes = []
    for figure in figures:
        boxes.append(placed(figure, left, y))
        y += figure.height_mm + STRIP_GAP_MM
    return tuple(boxes), y - STRIP_GAP_MM + GAP_MM


def _words(
    chart: Chart, context: LayoutContext, tiles: TilePlan, page: Sequence[Tile]
) -> tuple[str, str]:
    """A page's title, in one line if it can be, and what its header says."""
    titles, count = chart.titles, len(tiles.tiles)
    if count == 1:
        return titles["title_whole"], titles["running_whole"]
    kind = ("", "_pair", "_several")[min(3, len(page)) - 1]
    told = {
        "first": page[0].number,
        "last": page[-1].number,
        "first_row": page[0].first_row,
        "last_row": page[-1].last_row,
        "first_cord": min(tile.first_cord for tile in page),
        "last_cord": max(tile.last_cord for tile in page),
        "count": count,
    }
    choices = (titles[f"title{kind}{brief}"].format(**told) for brief in ("", "_brief"))
    fitting = (title for title in choices if len(title_lines(title, context)) == 1)
    shortest = titles[f"title{kind}_brief"].format(**told)
    return next(fitting, shortest), titles[f"running{kind}"].format(**told)
