"""Compose tables into boxes: a head that comes again, rows, groups and totals."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from publisher.frozen import frozen
from publisher.layout.boxes import Box, Group, stack
from publisher.layout.context import LayoutContext
from publisher.layout.lines import Line, PlacedLine, break_lines, one_line
from publisher.manuscript.blocks import Cell, Column, Table, TableRow

_GUTTER_MM = 4.0
_SWATCH_MM = 7.5
_WHOLE = 0.3  # of a page's text: a table no taller than this is never parted
_ROW_PAD_MM = 2.3  # above and below the words of a row, together


@frozen
class _Slot:
    """The place of a column."""

    left_mm: float
    width_mm: float
    right: bool


def table(block: Table, context: LayoutContext, width: float) -> Iterator[Box]:
    slots = _slots(block.columns, width)
    group = context.group("Table")
    head = _head(block.columns, slots, context, width, group)
    boxes = [head]
    again: Box = head
    for index, row in enumerate(block.rows):
        after = block.rows[index + 1] if index + 1 < len(block.rows) else None
        over = head if row.kind == "group" else again
        boxes.append(_row(row, after, slots, context, width, group, over if index else None))
        if row.kind == "group":
            again = _under(head, boxes[-1], group)
    paper = context.look.paper
    text_mm = paper.text_bottom_mm - paper.margins.top_mm
    yield from _kept(boxes, block.rows, _WHOLE * text_mm)


def _under(head: Box, name: Box, group: Group) -> Box:
    """The head, and under it the name of the rows that go on."""
    inner = (replace(box, group=None, head=None) for box in (head, name))
    return Box(head.height_mm + name.height_mm, group=group, children=stack(tuple(inner)))


def _kept(boxes: Sequence[Box], rows: Sequence[TableRow], whole_mm: float) -> Iterator[Box]:
    """A short table is never parted; no row of a longer one stands alone, nor with the total."""
    whole = sum(box.height_mm for box in boxes) <= whole_mm
    last = len(boxes) - 1
    total = bool(rows) and rows[-1].kind == "total"
    for index, box in enumerate(boxes):
        at_end = index >= last - (2 if total else 1)
        keep = whole or index < 2 or at_end or rows[index - 1].kind == "group"
        yield replace(box, keep=keep and index < last)


def _slots(columns: Sequence[Column], width: float) -> tuple[_Slot, ...]:
    total = sum(column.share for column in columns)
    room = width - _GUTTER_MM * (len(columns) - 1)
    slots = []
    x = 0.0
    for column in columns:
        wide = room * column.share / total
        slots.append(_Slot(x, wide, column.right))
        x += wide + _GUTTER_MM
    return tuple(slots)


def _head(
    columns: Sequence[Column],
    slots: Sequence[_Slot],
    context: LayoutContext,
    width: float,
    group: Group,
) -> Box:
    title, unit = context.style("table-head"), context.style("table-unit")
    units = any(column.unit for column in columns)
    cells = []
    for column, slot in zip(columns, slots, strict=True):
        line = one_line(column.title, title)
        cell = [PlacedLine(_x(slot, line), title.lead_mm, line, "table-head")]
        if column.unit:
            below = one_line(column.unit, unit)
            y = title.lead_mm + unit.lead_mm
            cell.append(PlacedLine(_x(slot, below), y, below, "table-unit"))
        cells.append(tuple(cell))
    tall = title.lead_mm + (unit.lead_mm if units else 0.0) + 2.0
    args = {"cells": tuple(cells), "width": width, "height": tall}
    return Box(tall, "table.head", args, before_mm=1.0, group=group)


def _row(
    row: TableRow,
    after: TableRow | None,
    slots: Sequence[_Slot],
    context: LayoutContext,
    width: float,
    group: Group,
    head: Box | None,
) -> Box:
    if row.kind == "group":
        line = one_line(row.cells[0].text, context.style("table-head"))
        style = context.style("table")
        args = {"line": line, "y_line": style.lead_mm, "width": width, "columns": len(slots)}
        return Box(style.lead_mm + 1.5, "table.group", args, group=group, head=head)
    cells, tall = _cells(row.cells, slots, context, strong=row.kind == "total")
    args = {
        "cells": cells,
        "width": width,
        "height": tall,
        "below": _rule_under(row, after),
    }
    return Box(tall, "table.row", args, group=group, head=head)


def _rule_under(row: TableRow, after: TableRow | None) -> str:
    """The line below a row: strong round a total, none above a group, else a hairline."""
    if row.kind == "total" or after is None or after.kind == "total":
        return "table"
    return "hair"


@frozen
class _DrawnCell:
    words: tuple[PlacedLine, ...]
    swatch: str | None
    x: float
    y: float
    heads_row: bool


def _cells(
    cells: Sequence[Cell], slots: Sequence[_Slot], context: LayoutContext, *, strong: bool
) -> tuple[tuple[_DrawnCell, ...], float]:
    first, second = context.style("table"), context.style("table-second")
    lines = [_lines(cell, slot, context, strong) for cell, slot in zip(cells, slots, strict=True)]
    text_mm = max(len(main) * first.lead_mm + len(small) * second.lead_mm for main, small in lines)
    tall = max(text_mm, first.lead_mm) + _ROW_PAD_MM - 0.4
    drawn = []
    for index, (cell, slot, (main, small)) in enumerate(zip(cells, slots, lines, strict=True)):
        own = len(main) * first.lead_mm + len(small) * second.lead_mm
        top = (tall - own) / 2 - 0.25 * first.lead_mm
        indent = _swatch_mm(context) if cell.swatch else 0.0
        words = [
            PlacedLine(_x(slot, line) + indent, top + (n + 1) * first.lead_mm, line, "table")
            for n, line in enumerate(main)
        ]
        below = top + len(main) * first.lead_mm
        words += [
            PlacedLine(
                _x(slot, line) + indent, below + (n + 1) * second.lead_mm, line, "table-second"
            )
            for n, line in enumerate(small)
        ]
        drawn.append(
            _DrawnCell(tuple(words), cell.swatch, slot.left_mm, tall / 2, heads_row=index == 0)
        )
    return tuple(drawn), tall


def _swatch_mm(context: LayoutContext) -> float:
    return _SWATCH_MM * context.style("table").size_pt / 10.0


def _lines(
    cell: Cell, slot: _Slot, context: LayoutContext, strong: bool
) -> tuple[tuple[Line, ...], tuple[Line, ...]]:
    first, second = context.style("table"), context.style("table-second")
    room = slot.width_mm - (_swatch_mm(context) if cell.swatch else 0.0)
    if strong:
        main: tuple[Line, ...] = (one_line(cell.text, first, strong=True),) if cell.text else ()
    else:
        main = break_lines(context.spans(cell.text), first, room, even=False)
    small = break_lines(context.spans(cell.second), second, room, even=False)
    return main, small


def _x(slot: _Slot, line: Line) -> float:
    return slot.left_mm + (slot.width_mm - line.width_mm if slot.right else 0.0)
