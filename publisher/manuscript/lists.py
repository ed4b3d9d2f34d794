"""Turn tables into lists of facts, for an edition without tables."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby, zip_longest

from publisher.manuscript.blocks import (
    Block,
    Cell,
    Column,
    Facts,
    Paragraph,
    Span,
    Table,
    TableRow,
)
from publisher.manuscript.context import BookContext


def as_lists(context: BookContext, table: Table) -> list[Block]:
    """The table itself, or in an edition without tables a list of facts for each of its rows."""
    if not context.edition.option("tables_as_lists"):
        return [table]
    if len({column.title for column in table.columns[1:]}) == 1:
        return [Facts(tuple(_one_fact(table.columns, row) for row in table.rows), term_mm=60.0)]
    blocks: list[Block] = []
    for row, after in zip_longest(table.rows, table.rows[1:]):
        name = Paragraph((Span(row.cells[0].text, strong=True),), keep=True)
        if row.kind == "group":
            blocks.append(Paragraph((Span(row.cells[0].text),), "lead-in", keep=True))
            continue
        total = after is not None and after.kind == "total"  # it never stands alone
        blocks += [name, Facts(tuple(_row_facts(table.columns, row)), term_mm=60.0, keep=total)]
    return blocks


def _one_fact(columns: Sequence[Column], row: TableRow) -> tuple[str, tuple[str, ...]]:
    """A row of one measure in two units: what it is of, and the measure."""
    return row.cells[0].text, next(_row_facts(columns, row))[1]


def _row_facts(columns: Sequence[Column], row: TableRow) -> Iterator[tuple[str, tuple[str, ...]]]:
    """A row's cells by their heads; a measure in two units is one fact: `3 m (118 in)`."""
    cells = [pair for pair in zip(columns[1:], row.cells[1:], strict=True) if pair[1].text]
    for title, pairs in groupby(cells, key=lambda pair: pair[0].title):
        same = list(pairs)
        first, *others = (_with_unit(column, cell) for column, cell in same)
        value = " ".join([first, *(f"({other})" for other in others)])
        yield title, (value, *(cell.second for _, cell in same if cell.second))


def _with_unit(column: Column, cell: Cell) -> str:
    unit = column.unit if column.right else ""
    return f"{cell.text}\u00a0{unit}" if unit else cell.text
