"""Compose the map of the back: beside what is to be done where it is tall, above it where broad
or where that is long."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from publisher.drawing import draw_back_legend, draw_back_maps
from publisher.layout.boxes import Box, Placed, height, stack
from publisher.layout.compose import compose
from publisher.layout.context import LayoutContext
from publisher.manuscript.blocks import BackMap, Block
from publisher.model.figure import Figure

_ASIDE_MM = 48.0
"""The narrowest column for the words beside a map, in type of 10.5 pt."""
_BROAD = 1.15
"""A piece wider than this, for its height, takes the whole width."""
_MOST_ASIDE = 0.4
"""Of the width: words that need more than this stand below."""
_LEGEND_GAP_MM = 6.0


def lead_with_legend(
    block: BackMap, lead: tuple[Block, ...], context: LayoutContext, width: float
) -> Box | None:
    """The words over the map with its legend at their right; None where that is too narrow."""
    aside, gap = _aside(context), context.look.frame.column_gap_mm
    legend = draw_back_legend(block.plan, context.look, block.counts)
    if aside > _MOST_ASIDE * width or legend.width_mm > aside:
        return None
    words = compose(lead, context, width - aside - gap)
    children = (*stack(words), Placed(width - aside, 0.0, _figure(legend)))
    return Box(max(height(words), legend.height_mm), children=children)


def _aside(context: LayoutContext) -> float:
    return _ASIDE_MM * context.style("body").size_pt / 10.5


def map_boxes(
    block: BackMap, context: LayoutContext, width: float, tall: float, *, legend: bool
) -> Iterator[Box]:
    """The map with the words beside it, or its parts and then the words.

    `tall` is the room that a page has for it. `legend`: it stands with the map.
    """
    gap, aside = context.look.frame.column_gap_mm, _aside(context)
    signs = (
        (_figure(draw_back_legend(block.plan, context.look, block.counts), _LEGEND_GAP_MM),)
        if legend
        else ()
    )
    signs_mm = sum(box.before_mm + box.height_mm for box in signs)
    broad = block.plan.width_mm > _BROAD * block.plan.height_mm or aside > _MOST_ASIDE * width

    def words(map_mm: float) -> tuple[Box, ...]:
        return (*compose(block.beside, context, width - map_mm - gap), *signs)

    def beside(map_mm: float) -> bool:
        return height(words(map_mm)) <= tall

    for figure in () if broad else _maps(block, context, width - aside - gap, tall, beside):
        said = words(figure.width_mm)
        children = (Placed(0.0, 0.0, _figure(figure)), *stack(said, figure.width_mm + gap))
        yield Box(max(figure.height_mm, height(said)), children=children)
        return
    figures = _maps(block, context, width, tall - signs_mm)
    *others, last = (replace(_figure(figure, gap), opening=True) for figure in figures)
    yield from (*others, replace(last, keep=legend), *signs)
    yield from compose(block.beside, context, width)


def _maps(
    block: BackMap,
    context: LayoutContext,
    width: float,
    tall: float,
    whole: Callable[[float], bool] | None = None,
) -> tuple[Figure, ...]:
    colours, look, store = context.colours, context.look, context.store
    return draw_back_maps(block.plan, colours, look, width, tall, block.words, whole, store)


def _figure(figure: Figure, before: float = 0.0) -> Box:
    return Box(figure.height_mm, "pictures.figure", {"figure": figure}, before_mm=before)
