"""Compose a chart's key: below the chart with the map beside it, or on a page of its own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from publisher.drawing import draw_key, draw_key_map, draw_legend
from publisher.drawing.chart.tiles import Tile, TilePlan
from publisher.frozen import frozen
from publisher.layout.boxes import Box, Placed
from publisher.layout.context import LayoutContext
from publisher.layout.lines import one_line, whole_line
from publisher.layout.rows import colour_line
from publisher.manuscript.blocks import Chart, ColourLine
from publisher.model.figure import Figure
from publisher.model.look import Look
from publisher.model.plan import ChartPlan

GAP_MM = 4.0
_HEAD_MM = 8.0
_MAP_GAP_MM = 6.0
_TALLEST_MAP = 1.35
_BROAD, _WIDEST_MAP = 1.5, 2.0
"""From this width for its height on, a piece's map is wider than usual, up to so many times."""


@frozen
class Key:
    """The key and its legend, as wide as a map beside them leaves."""

    entries: Figure
    legend: Figure

    @classmethod
    def of(cls, chart: Chart, context: LayoutContext, *, shared: bool, beside_map: bool) -> Key:
        """`shared`: the chart is on several pages, and its legend says how they overlap."""
        look = context.look
        width = look.paper.text_width_mm
        if beside_map:
            width -= _map_mm(chart, look) + _MAP_GAP_MM
        entries = draw_key(chart.plan, context.colours, look, width, chart.words)
        legend = draw_legend(
            chart.plan, look, width, chart.words, shared, places=bool(chart.places)
        )
        return cls(entries, legend)

    @property
    def height_mm(self) -> float:
        return _HEAD_MM + self.entries.height_mm + GAP_MM + self.legend.height_mm

    def below(
        self, chart: Chart, context: LayoutContext, tiles: TilePlan, page: Sequence[Tile], y: float
    ) -> Iterator[Placed]:
        """Under a page's tiles, with its words and the map at the right."""
        look = context.look
        left = look.paper.margins.left_mm
        head = {
            "title": one_line(chart.titles["key"], context.style("heading")),
            "lead": whole_line(chart.key_lead, context.style("lead-in")),
        }
        yield Placed(left, y, Box(_HEAD_MM, "pictures.key_head", head))
        yield from self._signs(left, y + _HEAD_MM)
        if len(tiles.tiles) > 1:
            sized = replace(look, chart=replace(look.chart, key_map_mm=_map_mm(chart, look)))
            figure = draw_key_map(chart.plan, context.colours, tiles, page, sized, chart.words)
            yield placed(figure, left + look.paper.text_width_mm - figure.width_mm, y)

    def alone(
        self, chart: Chart, context: LayoutContext, tiles: TilePlan, room_mm: float
    ) -> Iterator[Placed]:
        """On its own page, with a map below it that is as large as the page allows."""
        left = context.look.paper.margins.left_mm
        yield from self._signs(left, GAP_MM)
        y = self.height_mm - _HEAD_MM + GAP_MM + _MAP_GAP_MM
        if len(tiles.tiles) > 1 and room_mm > y + context.look.chart.key_map_mm:
            look = _with_map(context.look, chart.plan, room_mm - y)
            figure = draw_key_map(chart.plan, context.colours, tiles, (), look, chart.words)
            yield placed(figure, left, y)

    def _signs(self, left: float, y: float) -> Iterator[Placed]:
        yield placed(self.entries, left, y)
        yield placed(self.legend, left, y + self.entries.height_mm + GAP_MM)


def short_key(chart: Chart, context: LayoutContext) -> Box:
    """The colours alone, in a line or a few, for every page of a chart whose key is elsewhere."""
    letters = (colour.letter for colour in context.colours)
    line = ColourLine(tuple(letter for letter in letters if chart.plan.knots.get(letter)))
    return next(colour_line(line, context, context.look.paper.text_width_mm))


def placed(figure: Figure, x: float, y: float) -> Placed:
    return Placed(x, y, Box(figure.height_mm, "pictures.figure", {"figure": figure}))


def _map_mm(chart: Chart, look: Look) -> float:
    """The width of the map beside a key: more for a broad piece, whose map would be too low."""
    broad = chart.plan.width_mm / chart.plan.height_mm / _BROAD
    return look.chart.key_map_mm * min(max(broad, 1.0), _WIDEST_MAP)


def _with_map(look: Look, plan: ChartPlan, height_mm: float) -> Look:
    """The look with a key map as wide as the text, or as high as the room for it."""
    tall = min(plan.height_mm / plan.width_mm, _TALLEST_MAP)
    wide = min(look.paper.text_width_mm, height_mm / tall)
    return replace(look, chart=replace(look.chart, key_map_mm=wide))
