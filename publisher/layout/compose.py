"""Turn a section's blocks into boxes for a column of some width."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from publisher.layout import pictures, rows, tables, text
from publisher.layout.boxes import Box
from publisher.layout.desk import Desk
from publisher.manuscript import blocks
from publisher.manuscript.blocks import Block


def compose(section: tuple[Block, ...], desk: Desk, width: float) -> tuple[Box, ...]:
    """Boxes in reading order."""
    boxes: list[Box] = []
    for block in section:
        boxes += _COMPOSERS[type(block)](block, desk, width)
    return tuple(boxes)


def _beside(block: blocks.Beside, desk: Desk, width: float) -> Iterator[Box]:
    return pictures.beside(block, desk, width, compose)


_COMPOSERS: dict[type, Callable[[Any, Desk, float], Iterator[Box]]] = {
    blocks.Heading: text.heading,
    blocks.Paragraph: text.paragraph,
    blocks.Items: text.items,
    blocks.Facts: text.facts,
    blocks.Contents: text.contents,
    blocks.Rule: text.rule,
    blocks.Caution: text.caution,
    blocks.Table: tables.table,
    blocks.RowEntry: rows.row_entry,
    blocks.ColourLine: rows.colour_line,
    blocks.Picture: pictures.picture,
    blocks.Strip: pictures.strip,
    blocks.Beside: _beside,
}
