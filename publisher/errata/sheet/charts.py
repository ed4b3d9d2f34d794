"""Tell what changed in the charts: knots in a table and in pictures, rows in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from itertools import groupby

from publisher.errata.compare.changes import CellRun, ChartChange
from publisher.errata.pictures import (
    Knots,
    Window,
    change_windows,
    draw_change_map,
    draw_changed_part,
)
from publisher.errata.sheet.context import ErrataSheet
from publisher.errata.sheet.facts import fact_words
from publisher.errata.sheet.rows import row_blocks
from publisher.manuscript.blocks import (
    Beside,
    Block,
    Cell,
    Column,
    Heading,
    Paragraph,
    Picture,
    Table,
    TableRow,
    Text,
)
from publisher.manuscript.phrases import ranges
from publisher.model import units
from publisher.model.plan import ChartPlan

_MOST_RUNS = 40
_MAP_MM = (60.0, 80.0)


def chart_blocks(sheet: ErrataSheet) -> Iterator[Block]:
    for change in sheet.errata.charts:
        yield from _chart(sheet, change)


def _chart(sheet: ErrataSheet, change: ChartChange) -> Iterator[Block]:
    chart = _plan(sheet, change)
    yield Heading(_title(sheet, change), _lead(sheet, change))
    if change.runs and len(change.runs) <= _MOST_RUNS:
        yield _runs(sheet, change)
    if change.picture_changed and not change.redrawn and sheet.context.on_paper:
        yield from _pictures(sheet, change, chart)
    for text in (*_sayings(sheet, change), *fact_words(sheet, change.facts, change.piece)):
        yield Paragraph(text)
    if not sheet.context.on_paper:
        yield from row_blocks(sheet, change, chart)


def _plan(sheet: ErrataSheet, change: ChartChange) -> ChartPlan:
    return next(chart for chart in sheet.context.charts if chart.id == change.piece)


def _title(sheet: ErrataSheet, change: ChartChange) -> str:
    if len(sheet.context.charts) > 1:
        return sheet("chart_of", piece=sheet.context.piece_title(change.piece))
    return sheet("chart")


def _lead(sheet: ErrataSheet, change: ChartChange) -> str:
    """Return how much of it changed."""
    if change.redrawn or not change.runs:
        return ""
    knots = sum(run.knots for run in change.runs)
    return sheet.count("knots_changed", knots)


def _sayings(sheet: ErrataSheet, change: ChartChange) -> Iterator[Text]:
    in_words = partial(ranges, sheet.words)
    if change.redrawn:
        columns, rows = change.size
        was = change.size_before
        key = "redrawn_size" if was != change.size else "redrawn"
        yield sheet.say(key, columns=columns, rows=rows, old_columns=was[0], old_rows=was[1])
        return
    added = [row for row, _ in change.added]
    for key, found in (("removed", list(change.removed)), ("added", added)):
        if found:
            one = "one" if len(found) == 1 else "many"
            yield sheet.say(f"rows_{key}.{one}", rows=in_words(found))
    for move in change.moved:
        key = "moved_turned" if move.turned else "moved"
        one = "one" if move.first == move.last else "many"
        yield sheet.say(
            f"{key}.{one}",
            old_first=move.first_before,
            old_last=move.last_before,
            first=move.first,
            last=move.last,
        )
    if len(change.runs) > _MOST_RUNS:
        yield sheet.say("many_rows", rows=in_words([run.row for run in change.runs]))
    if change.notes:
        one = "one" if len(change.notes) == 1 else "many"
        yield sheet.say(f"notes.{one}", rows=in_words(change.notes))
    if change.lengths:
        one = "one" if len(change.lengths) == 1 else "many"
        yield sheet.say(f"cut_anew.{one}", rows=in_words(change.lengths))
    if change.renamed:
        yield sheet.say("renamed")
    if change.ties:
        yield sheet.say("ties")


def _runs(sheet: ErrataSheet, change: ChartChange) -> Table:
    moved = any(run.row != run.row_before for run in change.runs)
    columns = (
        Column(sheet.words("assembly.row"), 14),
        *([Column(sheet("row_old"), 22)] if moved else []),
        Column(sheet("cords"), 30),
        Column(sheet("version_old"), 50),
        Column(sheet("version_new"), 50),
        Column(sheet("knots"), 16, right=True),
    )
    alike = groupby(
        sorted(change.runs, key=lambda run: (run.row, run.before, run.after)),
        key=lambda run: (run.row, run.before, run.after),
    )
    rows = (_runs_alike(sheet, list(runs), moved=moved) for _, runs in alike)
    return Table(columns, tuple(rows))


def _runs_alike(sheet: ErrataSheet, runs: Sequence[CellRun], *, moved: bool) -> TableRow:
    """Return what changed in a row from one colour to another."""
    first = runs[0]
    cords = [cord for run in runs for cord in range(run.first_cord, run.last_cord + 1)]
    return TableRow(
        (
            Cell(f"{first.row}"),
            *([Cell(f"{first.row_before}")] if moved else []),
            Cell(ranges(sheet.words, cords)),
            _old_colour(sheet, first.before),
            sheet.colour_cell(first.after),
            Cell(units.whole(len(cords))),
        )
    )


def _old_colour(sheet: ErrataSheet, letter: str) -> Cell:
    """A colour by its old letter; with a swatch only if it is today what it was."""
    for change in sheet.errata.colours:
        if change.before and change.before.letter == letter:
            return Cell(f"{letter}  {change.before.name}")
    return sheet.colour_cell(letter)


def _pictures(sheet: ErrataSheet, change: ChartChange, chart: ChartPlan) -> Iterator[Block]:
    """Parts of the chart where few knots changed, and always the whole picture."""
    knots = {
        (run.row, cord) for run in change.runs for cord in range(run.first_cord, run.last_cord + 1)
    }
    fresh = {(row, cord) for row, _ in change.added for cord in range(1, chart.columns + 1)}
    if not knots | fresh:
        return
    colours, look = sheet.context.plan.colours, sheet.context.edition.look
    windows = change_windows(chart, knots)
    alt = sheet("map_alt", n=len(knots | fresh))
    whole = draw_change_map(
        chart, colours, windows, fresh if windows else knots | fresh, look, _MAP_MM, alt
    )
    parts = [_part(sheet, chart, window, knots | fresh) for window in windows]
    if not parts:
        yield Picture(whole, sheet.say("map_words_knots"))
        return
    parts[-1] = Picture(parts[-1].figure, sheet.say("part_words"))
    picture = Picture(whole, _map_words(sheet, windows, fresh))
    wide = max(part.figure.width_mm for part in parts)
    rest = look.paper.text_width_mm - look.frame.column_gap_mm - wide
    if rest >= whole.width_mm:
        yield Beside((tuple(parts), (picture,)), (wide, rest))
    else:
        yield from (*parts, picture)


def _map_words(sheet: ErrataSheet, windows: Sequence[Window], fresh: Knots) -> Text:
    if fresh:
        return sheet.say("map_words_rows")
    return sheet.say(f"map_words.{'one' if len(windows) == 1 else 'many'}")


def _part(sheet: ErrataSheet, chart: ChartPlan, window: Window, knots: Knots) -> Picture:
    alt = sheet(
        "part_alt",
        first_row=window.first_row,
        last_row=window.last_row,
        first_cord=window.first_cord,
        last_cord=window.last_cord,
    )
    look, words = sheet.context.edition.look, sheet.words.under("chart")
    colours = sheet.context.plan.colours
    return Picture(draw_changed_part(chart, colours, window, knots, look, words, alt))
