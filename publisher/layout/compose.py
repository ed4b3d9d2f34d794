"""Turn a section's blocks into boxes for a column of some width."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

from publisher.layout import cards, pictures, rows, tables, text
from publisher.layout.boxes import Box
from publisher.layout.context import LayoutContext
from publisher.manuscript import blocks
from publisher.manuscript.blocks import Block


def compose(section: tuple[Block, ...], context: LayoutContext, width: float) -> tuple[Box, ...]:
    """Boxes in reading order."""
    boxes: list[Box] = []
    after_heading = False
    for block in section:
        own = list(_COMPOSERS[type(block)](block, context, width))
        if after_heading and own and isinstance(block, _CLOSE_TO_HEADING):
            own[0] = replace(own[0], before_mm=0.0)
        after_heading = isinstance(block, blocks.Heading)
        boxes += own
    return tuple(boxes)


_CLOSE_TO_HEADING = (blocks.Paragraph, blocks.Items, blocks.Facts, blocks.Contents)
"""Words stand right below their heading; figures and tables keep their own room."""


def _beside(block: blocks.Beside, context: LayoutContext, width: float) -> Iterator[Box]:
    return pictures.beside(block, context, width, compose)


_COMPOSERS: dict[type, Callable[[Any, LayoutContext, float], Iterator[Box]]] = {
    blocks.Heading: text.heading,
    blocks.Paragraph: text.paragraph,
    blocks.Items: text.items,
    blocks.Facts: text.facts,
    blocks.Contents: text.contents,
    blocks.Rule: text.rule,
    blocks.NoteLines: text.note_lines,
    blocks.Caution: text.caution,
    blocks.Table: tables.table,
    blocks.RowEntry: rows.row_entry,
    blocks.ColourLine: rows.colour_line,
    blocks.Picture: pictures.picture,
    blocks.Strip: pictures.strip,
    blocks.Beside: _beside,
    blocks.Cards: cards.cards,
}
