"""Compose headings, paragraphs, lists, facts and contents into boxes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from publisher.fonts.shaping import MM_PER_PT
from publisher.layout.boxes import Box, height, stack
from publisher.layout.context import LayoutContext
from publisher.layout.lines import Line, break_lines, one_line, text_width
from publisher.manuscript.blocks import (
    Caution,
    Contents,
    Facts,
    Heading,
    Items,
    NoteLines,
    Paragraph,
    Rule,
    Text,
)

_PARAGRAPH_GAP = 0.5  # of a line
_MARK_MM = 5.0  # from a list's mark to its words
_NUMBER_MM = 6.0
_TERM_GAP = 0.8  # of the type's size, from the longest term to its value
_TOGETHER = 12.5  # lines: a list of facts no longer than this is never parted


def heading(block: Heading, context: LayoutContext, width: float) -> Iterator[Box]:
    style = context.style("heading")
    lead_in = context.style("lead-in")
    scale = style.size_pt / 12
    title = break_lines(context.spans(block.text), style, width)
    title_mm = title[-1].width_mm + 4.0 * scale if title else 0.0  # its words may be left out
    after = title_mm + (9.0 * scale if block.arrow else 0.0)
    beside = break_lines(context.spans(block.lead_in), lead_in, max(width - after, 20.0))
    below = len(beside) > 1 or after + (beside[0].width_mm if beside else 0.0) > width
    if below:
        beside = break_lines(context.spans(block.lead_in), lead_in, width)
    args = {
        "title": title,
        "lead_in": beside,
        "lead_in_x": 0.0 if below else after,
        "below": below,
        "arrow": block.arrow,
        "arrow_x": title_mm,
        "target": block.target,
    }
    tall = style.lead_mm * max(1, len(title)) + (lead_in.lead_mm * len(beside) if below else 0.0)
    yield Box(
        tall + 0.4 * style.lead_mm,
        "text.heading",
        args,
        before_mm=1.5 * style.lead_mm,
        keep=True,
        target=block.target,
    )


def paragraph(block: Paragraph, context: LayoutContext, width: float) -> Iterator[Box]:
    """One box where it is short; else the first two and last two lines stay together."""
    style = context.style(block.role)
    lines = break_lines(block.text, style, min(width, context.measure_mm(style)))
    before = _PARAGRAPH_GAP * style.lead_mm
    parts = (lines,) if block.whole else tuple(_parts(lines))
    yield from _line_boxes(parts, context, block.role, before, keep=block.keep)


def _line_boxes(
    parts: tuple[tuple[Line, ...], ...],
    context: LayoutContext,
    role: str,
    before: float,
    *,
    keep: bool,
) -> Iterator[Box]:
    lead = context.style(role).lead_mm
    group = context.group("P")
    for index, part in enumerate(parts):
        args = {"lines": part, "role": role, "dx": 0.0}
        above = before if index == 0 else 0.0
        yield Box(lead * len(part), "text.lines", args, above, keep, group=group)


def _parts(lines: tuple[Line, ...]) -> Iterator[tuple[Line, ...]]:
    """Yield where a paragraph may be parted: never after its first or before its last line."""
    if len(lines) < 4:
        yield lines
        return
    yield lines[:2]
    for line in lines[2:-2]:
        yield (line,)
    yield lines[-2:]


def items(block: Items, context: LayoutContext, width: float) -> Iterator[Box]:
    style = context.style(block.role)
    group = context.group("L")
    indent = _NUMBER_MM if block.numbered else _MARK_MM
    indent *= style.size_pt / 10.5
    for number, text in enumerate(block.items, 1):
        lines = break_lines(text, style, min(width - indent, context.measure_mm(style)))
        label = one_line(f"{number}", style, strong=True) if block.numbered else None
        args = {"lines": lines, "label": label, "role": block.role, "indent": indent}
        before = (0.5 if block.numbered else 0.0) * style.lead_mm
        yield Box(style.lead_mm * len(lines), "text.item", args, before, group=group)


def facts(block: Facts, context: LayoutContext, width: float) -> Iterator[Box]:
    style = context.style("body")
    widest = max(text_width(term, style) for term, _ in block.facts)
    indent = max(block.term_mm, widest + _TERM_GAP * style.size_pt * MM_PER_PT)
    boxes = list(_fact_boxes(block, context, width, indent))
    together = sum(box.height_mm for box in boxes) <= _TOGETHER * style.lead_mm
    for index, box in enumerate(boxes[:-1]):
        yield replace(box, keep=together or index in (0, len(boxes) - 2))
    yield replace(boxes[-1], keep=block.keep)


def _fact_boxes(block: Facts, context: LayoutContext, width: float, indent: float) -> Iterator[Box]:
    style = context.style("body")
    group = context.group("L")
    for term, values in block.facts:
        lines = tuple(
            line
            for value in values
            for line in break_lines(context.spans(value), style, width - indent)
        )
        args = {"term": one_line(term, style), "lines": lines, "indent": indent}
        yield Box(style.lead_mm * max(1, len(lines)), "text.fact", args, group=group)


def contents(block: Contents, context: LayoutContext, width: float) -> Iterator[Box]:
    """A line a section, all on one page."""
    style = context.style("body")
    group = context.group("TOC")
    for number, (title, target) in enumerate(block.entries, 1):
        args = {"title": one_line(title, style), "target": target, "width": width}
        keep = number < len(block.entries)
        yield Box(style.lead_mm, "text.contents", args, group=group, keep=keep)


def rule(block: Rule, context: LayoutContext, width: float) -> Iterator[Box]:
    yield Box(2.5, "text.hairline", {"width": width}, before_mm=2.5)


def note_lines(block: NoteLines, context: LayoutContext, width: float) -> Iterator[Box]:
    lead = 2 * context.style("body").lead_mm
    for _ in range(block.count):
        yield Box(0.0, "text.hairline", {"width": width}, before_mm=lead)


def caution(block: Caution, context: LayoutContext, width: float) -> Iterator[Box]:
    """A tinted box as wide as the column; it is never parted."""
    style = context.style("body")
    scale = style.size_pt / 10.5
    left, pad = 20.0 * scale, 8.0 * scale
    inner: list[Box] = []
    for text in block.items:
        inner += _caution_item(text, context, width - left - pad)
    boxes = tuple(inner)
    tall = height(boxes) + 18.0 * scale
    args = {
        "title": one_line(block.heading, context.style("heading")),
        "width": width,
        "height": tall,
        "left": left,
        "scale": scale,
    }
    children = stack(boxes, left, 11.0 * scale)
    yield Box(tall, "text.caution", args, before_mm=2 * style.lead_mm, children=children)


def _caution_item(text: Text, context: LayoutContext, width: float) -> Iterator[Box]:
    style = context.style("body")
    lines = break_lines(text, style, width)
    args = {"lines": lines, "role": "body", "dx": 0.0}
    yield Box(
        style.lead_mm * len(lines),
        "text.lines",
        args,
        0.3 * style.lead_mm,
        group=context.group("P"),
    )
