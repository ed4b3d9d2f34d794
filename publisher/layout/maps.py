"""Compose the map of the back: beside what is to be done where it is tall, above it where broad."""

from __future__ import annotations

from collections.abc import Iterator

from publisher.drawing import draw_back_legend, draw_back_maps
from publisher.drawing.figure import Figure
from publisher.layout.boxes import Box, Placed, height, stack
from publisher.layout.compose import compose
from publisher.layout.desk import Desk
from publisher.manuscript.blocks import BackMap

_ASIDE_MM = 48.0
"""The narrowest column for the words beside a map, in type of 10.5 pt."""
_BROAD = 1.15
"""A piece wider than this, for its height, takes the whole width."""
_MOST_ASIDE = 0.4
"""Of the width: words that need more than this stand below."""
_LEGEND_GAP_MM = 6.0


def map_boxes(block: BackMap, desk: Desk, width: float, tall: float) -> Iterator[Box]:
    """The map with the words beside it, or its parts and then the words.

    `tall` is the room that a page has for it.
    """
    gap = desk.look.frame.column_gap_mm
    aside = _ASIDE_MM * desk.style("body").size_pt / 10.5
    broad = block.plan.width_mm > _BROAD * block.plan.height_mm or aside > _MOST_ASIDE * width
    figures = () if broad else _maps(block, desk, width - aside - gap, tall, most=1)
    if not figures:
        figures = _maps(block, desk, width, tall)
        broad = True
    legend = draw_back_legend(block.plan, desk.look, block.words)
    if broad:
        yield from (_figure(figure, gap) for figure in figures)
        yield _figure(legend, _LEGEND_GAP_MM)
        yield from compose(block.beside, desk, width)
        return
    figure = figures[0]
    words = (
        *compose(block.beside, desk, width - figure.width_mm - gap),
        _figure(legend, _LEGEND_GAP_MM),
    )
    children = (Placed(0.0, 0.0, _figure(figure)), *stack(words, figure.width_mm + gap))
    yield Box(max(figure.height_mm, height(words)), children=children)


def _maps(
    block: BackMap, desk: Desk, width: float, tall: float, most: int | None = None
) -> tuple[Figure, ...]:
    return draw_back_maps(block.plan, desk.colours, desk.look, width, tall, block.words, most)


def _figure(figure: Figure, before: float = 0.0) -> Box:
    return Box(figure.height_mm, "pictures.figure", {"figure": figure}, before_mm=before)
