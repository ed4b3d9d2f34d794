"""Compose the map of the back: beside what is to be done where it is tall, above it where broad."""

from __future__ import annotations

from collections.abc import Iterator

from publisher.drawing import draw_back_map
from publisher.layout.boxes import Box, Placed, height, stack
from publisher.layout.compose import compose
from publisher.layout.desk import Desk
from publisher.manuscript.blocks import BackMap

_ASIDE_MM = 48.0  # the narrowest column for the words beside a map
_BROAD = 1.15  # a piece wider than this, for its height, takes the whole width


def map_boxes(block: BackMap, desk: Desk, width: float, tall: float) -> Iterator[Box]:
    """One box with the map and the words beside it; or more, one for each part of a large map."""
    gap = desk.look.frame.column_gap_mm
    aside = _ASIDE_MM * desk.style("body").size_pt / 10.5
    plan = block.plan
    if plan.width_mm > _BROAD * plan.height_mm or aside > width / 2:
        yield from _above(block, desk, width, tall)
        return
    figures = draw_back_map(plan, desk.colours, desk.look, width - aside - gap, tall, block.words)
    first, *others = figures
    words = compose(block.beside, desk, width - first.width_mm - gap)
    children = [
        Placed(0.0, 0.0, Box(first.height_mm, "pictures.figure", {"figure": first})),
        *stack(words, first.width_mm + gap),
    ]
    yield Box(max(first.height_mm, height(words)), children=tuple(children))
    for figure in others:
        yield Box(figure.height_mm, "pictures.figure", {"figure": figure}, before_mm=gap)


def _above(block: BackMap, desk: Desk, width: float, tall: float) -> Iterator[Box]:
    figures = draw_back_map(block.plan, desk.colours, desk.look, width, tall, block.words)
    for figure in figures:
        yield Box(figure.height_mm, "pictures.figure", {"figure": figure}, before_mm=4.0)
    yield from compose(block.beside, desk, width)
