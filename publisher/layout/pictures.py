"""Compose figures into boxes: alone, in strips with words below, and blocks side by side."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import inf

from publisher.fonts.shaping import MM_PER_PT
from publisher.layout.boxes import Box, Placed, height, stack
from publisher.layout.context import LayoutContext
from publisher.layout.lines import Line, break_lines
from publisher.manuscript.blocks import FIGURE_GAP, Beside, Block, Picture, Strip
from publisher.model.look import TypeStyle

_WORDS_GAP_MM = 0.8
_ROUNDING_MM = 0.1
_LEAST_LEAD_MM = 5.0
_BESIDE_MM = 3.0
"""Above blocks that stand side by side."""
_NARROWEST_EM = 10.2
"""About 20 characters: words in a narrower column stand beside their figure, not under it."""

_TALLEST = 0.75
"""Of a page's text: no line of figures with their words below is taller, where words can stand
beside them."""
_FEW = 3
"""Figures that a line has room for, unless there are not so many."""

Compose = Callable[[tuple[Block, ...], LayoutContext, float], tuple[Box, ...]]


def picture(block: Picture, context: LayoutContext, width: float) -> Iterator[Box]:
    yield _captioned(block, context, width)


def strip(block: Strip, context: LayoutContext, width: float) -> Iterator[Box]:
    """Figures side by side as far as the width goes, then the next line of them.

    Where words would be in too narrow a column, figures have wider columns, as many in each line;
    in large type they stand under one another, each with its words beside it, as they do where the
    words below would be too long for a page.
    """
    gap, narrowest = context.look.frame.column_gap_mm, _narrowest(context)
    wide = max(block.pictures[0].figure.width_mm, block.column_mm)
    per_line = max(1, int((width + gap + _ROUNDING_MM) / (wide + gap)))
    room_beside = not block.in_line and narrowest < width - wide - gap
    if room_beside and wide < narrowest:
        per_line = _evenly(len(block.pictures), int((width + gap) / (narrowest + gap)))
        wide = (width + gap) / per_line - gap if per_line else wide
    boxes = _lines_of(block, context, wide, per_line, width) if per_line else []
    paper = context.look.paper
    tallest = _TALLEST * (paper.text_bottom_mm - paper.margins.top_mm)
    if room_beside and max((box.height_mm for box in boxes), default=inf) > tallest:
        boxes = [_beside_words(one, context, width) for one in block.pictures]
    yield from boxes[:-1]
    yield replace(boxes[-1], keep=block.keep)


def _lines_of(
    block: Strip, context: LayoutContext, wide: float, per_line: int, width: float
) -> list[Box]:
    """Lines of figures. Words may use some of the gap to the next figure, but none of a margin."""
    gap = context.look.frame.column_gap_mm
    boxes = []
    for start in range(0, len(block.pictures), per_line):
        line = block.pictures[start : start + per_line]
        xs = [index * (wide + gap) for index in range(len(line))]
        placed = tuple(
            Placed(x, 0.0, _captioned(one, context, min(wide + gap / 3, width - x)))
            for x, one in zip(xs, line, strict=True)
        )
        tall = max(item.box.height_mm for item in placed)
        boxes.append(Box(tall, before_mm=_above(context, FIGURE_GAP), children=placed))
    return boxes


def _evenly(figures: int, most: int) -> int:
    """Return how many stand in each line, so that the last has about as many; 0 where a few are too
    many for a line."""
    if most < min(figures, _FEW):
        return 0
    lines = -(-figures // most)
    return -(-figures // lines)


def _narrowest(context: LayoutContext) -> float:
    return _NARROWEST_EM * context.style("figure-words").size_pt * MM_PER_PT


def _lines(block: Picture, style: TypeStyle, width: float) -> tuple[Line, ...]:
    """A figure's words, paragraph under paragraph."""
    paragraphs = (block.words, *block.more)
    return tuple(line for text in paragraphs for line in break_lines(text, style, width))


def _beside_words(block: Picture, context: LayoutContext, width: float) -> Box:
    style = context.style("figure-words")
    figure = block.figure
    x = figure.width_mm + context.look.frame.column_gap_mm
    lines = _lines(block, style, width - x)
    drawn = Box(figure.height_mm, "pictures.figure", {"figure": figure})
    args = {"lines": lines, "role": "figure-words", "dx": 0.0}
    words = Box(style.lead_mm * len(lines), "text.lines", args, group=context.group("P"))
    children = (Placed(0.0, 0.0, drawn), Placed(x, 0.0, words))
    tall = max(figure.height_mm, words.height_mm)
    return Box(tall, before_mm=FIGURE_GAP * style.lead_mm, children=children)


def _captioned(block: Picture, context: LayoutContext, width: float) -> Box:
    style = context.style("figure-words")
    figure = block.figure
    lines = _lines(block, style, width)
    drawn = Box(figure.height_mm, "pictures.figure", {"figure": figure})
    children = [Placed(0.0, 0.0, drawn)]
    tall = figure.height_mm
    if lines:
        args = {"lines": lines, "role": "figure-words", "dx": 0.0}
        words = Box(style.lead_mm * len(lines), "text.lines", args, group=context.group("P"))
        children.append(Placed(0.0, tall + _WORDS_GAP_MM, words))
        tall += _WORDS_GAP_MM + words.height_mm + 1.0
    return Box(tall, before_mm=_above(context, 0.4), children=tuple(children))


def _above(context: LayoutContext, lines: float) -> float:
    """Room above figures in lines of their words; in small type it is no less than in 10 pt."""
    return lines * max(context.style("figure-words").lead_mm, _LEAST_LEAD_MM)


def beside(block: Beside, context: LayoutContext, width: float, compose: Compose) -> Iterator[Box]:
    gap = context.look.frame.column_gap_mm
    room = width - gap * (len(block.parts) - 1)
    total = sum(block.shares)
    placed: list[Placed] = []
    tall, x = 0.0, 0.0
    for part, share in zip(block.parts, block.shares, strict=True):
        wide = room * share / total
        boxes = compose(part, context, wide)
        placed += stack(boxes, x)
        tall = max(tall, height(boxes))
        x += wide + gap
    yield Box(tall, before_mm=_BESIDE_MM, children=tuple(placed))
