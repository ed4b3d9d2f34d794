"""Compose an index's cards: pictures hang from one line, and the words below stand in lines too."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from publisher.frozen import frozen
from publisher.layout.boxes import Box, Placed
from publisher.layout.context import LayoutContext
from publisher.layout.lines import Line, break_lines, one_line
from publisher.manuscript.blocks import Card, Cards

_BETWEEN_MM = 9.0
_UNDER_PICTURE_MM = 2.5
_CHIP_MM, _CHIP_GAP_MM = 3.6, 0.9


@frozen
class _Broken:
    """A card's words in lines. `chips`: x, y and colour of each, from the first."""

    card: Card
    title: tuple[Line, ...]
    subtitle: tuple[Line, ...]
    facts: tuple[Line, ...]
    head: Line
    chips: tuple[tuple[float, float, str], ...]
    names: tuple[Line, ...]


def cards(block: Cards, context: LayoutContext, width: float) -> Iterator[Box]:
    """A box a row of cards."""
    gap = context.look.frame.column_gap_mm
    wide = (width - gap * (block.across - 1)) / block.across
    for start in range(0, len(block.cards), block.across):
        row = [_broken(card, context, wide) for card in block.cards[start : start + block.across]]
        boxes = _row(row, context)
        placed = tuple(Placed(index * (wide + gap), 0.0, box) for index, box in enumerate(boxes))
        tall = max(box.height_mm for box in boxes)
        yield Box(tall, before_mm=_BETWEEN_MM, children=placed)


def _broken(card: Card, context: LayoutContext, width: float) -> _Broken:
    fact = context.style("key")
    names = ", ".join(name for name, _ in card.colours)
    facts = tuple(
        line
        for text in card.lines
        if text
        for line in break_lines(context.spans(text), fact, width)
    )
    return _Broken(
        card,
        break_lines(context.spans(card.title), context.style("heading"), width),
        break_lines(context.spans(card.subtitle), context.style("lead-in"), width),
        facts,
        one_line(card.colours_head, fact),
        tuple(_chips(card, width)),
        break_lines(context.spans(names), context.style("table-second"), width),
    )


def _chips(card: Card, width: float) -> Iterator[tuple[float, float, str]]:
    step = _CHIP_MM + _CHIP_GAP_MM
    across = max(1, int((width + _CHIP_GAP_MM) / step))
    for index, (_, colour) in enumerate(card.colours):
        yield index % across * step, index // across * step, colour


def _row(row: Sequence[_Broken], context: LayoutContext) -> list[Box]:
    """The cards of a row, each kind of words on the same line in all of them."""
    lead = {role: context.style(role).lead_mm for role in _ROLES}
    hang = max((one.card.figure.height_mm for one in row if one.card.figure), default=0.0)
    words = hang + _UNDER_PICTURE_MM
    subtitle = words + lead["heading"] * max(len(one.title) for one in row)
    facts = subtitle + lead["lead-in"] * max(len(one.subtitle) for one in row) + 1.0
    head = facts + lead["key"] * max(len(one.facts) for one in row) + 1.2
    chips = head + lead["key"] + 1.8
    below = max((one.chips[-1][1] for one in row if one.chips), default=0.0)
    names = chips + below + _CHIP_MM + 0.6
    boxes = []
    for one in row:
        args = {
            "figure": one.card.figure,
            "target": one.card.target,
            "title": one.title,
            "title_y": words,
            "subtitle": one.subtitle,
            "subtitle_y": subtitle,
            "facts": one.facts,
            "facts_y": facts,
            "head": one.head,
            "head_y": head,
            "chips": one.chips,
            "chips_y": chips,
            "chip": _CHIP_MM,
            "names": one.names,
            "names_y": names,
        }
        tall = names + lead["table-second"] * len(one.names)
        boxes.append(Box(tall, "index.card", args, target=one.card.target))
    return boxes


_ROLES = ("heading", "lead-in", "key", "table-second")
