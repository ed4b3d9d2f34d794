"""Write the rows that changed, to be read as in the booklet: down a column, then the next one.

To be heard, they follow their chart. On paper they come after all else: a few below it, more on
pages of their own, as columns go on from page to page only there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate

from publisher.errata.compare.changes import ChartChange
from publisher.errata.sheet.context import ErrataSheet
from publisher.manuscript.blocks import Beside, Block, ColourLine, Heading, RowEntry, Section
from publisher.manuscript.sections.rows import write_row
from publisher.model.plan import ChartPlan

_MOST_ROWS = 24
_LETTERS_A_LINE = 44
_FEW_LINES = 70
"""About as many as stand in both columns of two thirds of a page."""


def row_blocks(sheet: ErrataSheet, change: ChartChange, chart: ChartPlan) -> Iterator[Block]:
    """The rows of a chart, unless they have pages of their own."""
    rows = _changed(sheet, change, chart)
    if rows and not _has_pages(sheet, rows):
        yield Heading(sheet("rows"), _note(sheet, chart))
        yield Beside(_in_columns(rows), (1.0, 1.0))


def last_row_blocks(sheet: ErrataSheet) -> Iterator[Block]:
    """The few rows of each chart, at the end of a sheet of paper."""
    charts = {chart.id: chart for chart in sheet.context.charts}
    for change in sheet.errata.charts if sheet.context.on_paper else ():
        yield from row_blocks(sheet, change, charts[change.piece])


def row_sections(sheet: ErrataSheet) -> Iterator[Section]:
    """Pages of rows, for each chart with more than a few."""
    context = sheet.context
    charts = {chart.id: chart for chart in context.charts}
    for change in sheet.errata.charts:
        chart = charts[change.piece]
        rows = _changed(sheet, change, chart)
        if not _has_pages(sheet, rows):
            continue
        letters = tuple(one.letter for one in context.plan.colours if one.letter in chart.knots)
        yield Section(
            f"errata-rows-{chart.id}",
            "text",
            sheet("rows"),
            sheet("running"),
            tuple(rows),
            note=_note(sheet, chart),
            foot=(ColourLine(letters),),
            columns=2,
            bookmark=sheet("rows"),
        )


def _note(sheet: ErrataSheet, chart: ChartPlan) -> str:
    """Return what stands beside the title: of several charts, which one it is."""
    several = len(sheet.context.charts) > 1 and sheet.context.on_paper
    return sheet.context.piece_title(chart.id) if several else sheet("rows_lead")


def _changed(sheet: ErrataSheet, change: ChartChange, chart: ChartPlan) -> list[RowEntry]:
    """The rows that are told anew; none where they are too many for that."""
    rows = sorted({*change.rows_changed, *change.lengths})
    if len(rows) > _MOST_ROWS:
        return []
    return [write_row(sheet.context, chart, chart.row_list[row - 1]) for row in rows]


def _has_pages(sheet: ErrataSheet, rows: Sequence[RowEntry]) -> bool:
    return sheet.context.on_paper and sum(map(_lines, rows)) > _FEW_LINES and len(rows) > 1


def _in_columns(rows: Sequence[RowEntry]) -> tuple[tuple[RowEntry, ...], tuple[RowEntry, ...]]:
    """The rows in their order, in two columns of about the same length."""
    lines = [_lines(row) for row in rows]
    middles = [end - own / 2 for end, own in zip(accumulate(lines), lines, strict=True)]
    left = sum(2 * middle <= sum(lines) for middle in middles)
    return tuple(rows[:left]), tuple(rows[left:])


def _lines(row: RowEntry) -> int:
    """About how many lines a row takes, with the room below it."""
    texts = (row.runs, *(note.text for note in row.notes))
    lengths = (sum(len(span.text) for span in text) for text in texts)
    return 1 + sum(1 + length // _LETTERS_A_LINE for length in lengths)
