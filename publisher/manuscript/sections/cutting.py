"""Turn the plan's cutting list into tables: what to cut, and the hanging cords by number."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from publisher.manuscript.blocks import Cell, Column, Table, TableRow
from publisher.manuscript.context import BookContext
from publisher.manuscript.markup import page_of
from publisher.manuscript.phrases import neighbours
from publisher.model import units
from publisher.model.plan import ChartPlan, CutLine
from publisher.plan.lists.cutting import CutRow, cut_rows

_CORD_COLUMNS, _CORD_ROWS = 3, 26
_PURPOSES = {
    "cords": "cords",
    "working yarn": "working",
    "hanging loop": "hanging_loop",
    "part cords": "part_cords",
}


def cutting_table(context: BookContext) -> Table:
    """One line a colour and use: the commonest length, then the others."""
    words, metric = context.words, context.measures.metric_first
    cm, inch = words("materials.unit_cm"), words("materials.unit_inch")
    unit = "m" if metric else "yd"
    columns = (
        Column(words("materials.colour"), 48),
        Column(words("materials.count"), 17, right=True),
        Column(words("materials.length"), 15, cm if metric else inch, right=True),
        Column(words("materials.length"), 15, inch if metric else cm, right=True),
        Column(words("materials.others"), 62, words("materials.others_unit")),
        Column(words("materials.in_all"), 16, words(f"materials.unit_{unit}"), right=True),
    )
    rows: list[TableRow] = []
    cut = list(cut_rows(context.plan.cutting_list))
    many = len({row.piece for row in cut}) > 1
    for (piece, purpose), same in groupby(cut, key=lambda row: (row.piece, row.purpose)):
        rows.append(TableRow((Cell(use_words(context, purpose, piece if many else "")),), "group"))
        for row in same:
            by_number = purpose == "cords" and len(row.lines) > 1
            rows.append((_range_row if by_number else _cut_row)(context, row))
    in_all = Cell(units.decimal(sum(_in_all(context, row) for row in cut), 2))
    blank = Cell()
    rows.append(
        TableRow((Cell(words("materials.together")), blank, blank, blank, blank, in_all), "total")
    )
    return Table(columns, tuple(rows))


def _in_all(context: BookContext, row: CutRow) -> float:
    """Return what a row's lengths come to, in the unit that stands first."""
    return row.metres if context.measures.metric_first else row.yards


def _range_row(context: BookContext, row: CutRow) -> TableRow:
    """Hanging cords of many lengths: how many in all; which is which stands in their own list."""
    return TableRow(
        (
            _colour_cell(context, row),
            Cell(units.whole(sum(line.count for line in row.lines))),
            Cell(),
            Cell(),
            Cell(_by_number(context, row.piece)),
            Cell(units.decimal(_in_all(context, row), 2)),
        )
    )


def _colour_cell(context: BookContext, row: CutRow) -> Cell:
    return Cell(f"{row.colour}  {context.plan.colour(row.colour).name}", swatch=row.colour)


def _by_number(context: BookContext, piece: str) -> str:
    """Return where the lengths of a piece's hanging cords are told."""
    if not context.on_paper:
        return context.words("materials.by_number_told")
    return context.words("materials.by_number", page=page_of(cords_target(piece)))


def cords_target(piece: str) -> str:
    """Return where the list of a piece's hanging cords stands."""
    return f"cords-{piece}"


def cord_tables(context: BookContext, chart: ChartPlan) -> Iterator[tuple[Table, ...]]:
    """The hanging cords by number, where their lengths differ: as even columns as can be, and no
    more than a page can hold side by side."""
    lengths: dict[float, list[int]] = {}
    for cord in chart.hanging_cords:
        lengths.setdefault(cord.length_mm, []).append(cord.columns[0])
    if len(lengths) == 1:
        return
    words, metric = context.words, context.measures.metric_first
    cm, inch = words("materials.unit_cm"), words("materials.unit_inch")
    columns = (
        Column(words("materials.cords_head"), 30),
        Column(words("materials.length"), 13, cm if metric else inch, right=True),
        Column(words("materials.length"), 13, inch if metric else cm, right=True),
    )
    every = [_cord_row(length, cords, metric) for length, cords in lengths.items()]
    most = _CORD_COLUMNS * _CORD_ROWS
    for rows in (every[start : start + most] for start in range(0, len(every), most)):
        size = -(-len(rows) // min(_CORD_COLUMNS, len(rows)))
        yield tuple(
            Table(columns, tuple(rows[start : start + size])) for start in range(0, len(rows), size)
        )


def _cord_row(length_mm: float, cords: Sequence[int], metric: bool) -> TableRow:
    cm = units.centimetres(length_mm, "up", fixed=True)
    inch = units.inches(length_mm, "up")
    first, second = (cm, inch) if metric else (inch, cm)
    return TableRow((Cell(_numbers_in_words(cords)), Cell(first), Cell(second)))


def _numbers_in_words(numbers: Sequence[int]) -> str:
    """`3`, `3, 46`, `55–66`: neighbours as a range."""
    return ", ".join(
        str(first) if first == last else f"{first}–{last}" for first, last in neighbours(numbers)
    )


def _cut_row(context: BookContext, row: CutRow) -> TableRow:
    main, *others = sorted(row.lines, key=lambda line: (-line.count, -line.length_mm))
    others.sort(key=lambda line: -line.length_mm)
    metric = context.measures.metric_first
    cm = units.centimetres(main.length_mm, "up", fixed=True)
    inch = units.inches(main.length_mm, "up")
    return TableRow(
        (
            _colour_cell(context, row),
            Cell(units.whole(main.count)),
            Cell(cm if metric else inch),
            Cell(inch if metric else cm),
            _others(context, others),
            Cell(units.decimal(_in_all(context, row), 2)),
        )
    )


def _others(context: BookContext, lines: Sequence[CutLine]) -> Cell:
    if not lines:
        return Cell()
    counts = [line.count for line in lines]
    cm = counted(counts, [units.centimetres(line.length_mm, "up") for line in lines])
    inch = counted(counts, [units.inches(line.length_mm, "up") for line in lines])
    metric = context.words("units.cm", n=cm)
    imperial = context.words("units.inch", n=inch)
    first, second = (metric, imperial) if context.measures.metric_first else (imperial, metric)
    return Cell(first, second)


def use_words(context: BookContext, purpose: str, piece: str = "") -> str:
    """Return what lengths are cut for, and for which piece if that is to be said."""
    use = context.words(f"materials.{_PURPOSES[purpose]}")
    if not piece:
        return use
    return context.words("materials.piece_of", purpose=use, piece=context.piece_name(piece))


def counted(counts: Iterable[int], lengths: Iterable[str]) -> str:
    """`12 × 300, 89`."""
    return ", ".join(
        length if count == 1 else f"{count}\u00a0×\u00a0{length}"
        for count, length in zip(counts, lengths, strict=True)
    )
