"""Turn the plan's cutting list and shopping list into tables."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby, zip_longest

from publisher import units
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
from publisher.manuscript.brief import Brief
from publisher.manuscript.markup import page_of
from publisher.manuscript.phrases import neighbours
from publisher.plan.values import BuyLine, ChartPlan, CutLine

_CORD_COLUMNS, _CORD_ROWS = 3, 26
_PURPOSES = {
    "cords": "cords",
    "working yarn": "working",
    "hanging loop": "hanging_loop",
    "part cords": "part_cords",
}


def cutting_table(brief: Brief) -> Table:
    """One line a colour and use: the commonest length, then the others."""
    words, metric = brief.words, brief.measures.metric_first
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
    many = len({line.piece for line in brief.plan.cutting_list}) > 1
    for (piece, purpose), lines in groupby(
        brief.plan.cutting_list, key=lambda line: (line.piece, line.purpose)
    ):
        name = words(f"materials.{_PURPOSES[purpose]}")
        if many:
            name = words("materials.piece_of", purpose=name, piece=brief.piece_name(piece))
        rows.append(TableRow((Cell(name),), "group"))
        for colour, same in groupby(lines, key=lambda line: line.colour):
            whole = _range_row if purpose == "cords" else _cut_row
            rows.append(whole(brief, colour, tuple(same)))
    total = sum(_printed_total(brief, [line]) for line in brief.plan.cutting_list)
    blank = Cell()
    in_all = Cell(units.decimal(total, 1))
    rows.append(
        TableRow((Cell(words("materials.together")), blank, blank, blank, blank, in_all), "total")
    )
    return Table(columns, tuple(rows))


def _printed_total(brief: Brief, lines: Iterable[CutLine]) -> float:
    """Metres, or yards where inches come first, as they are printed, to tenths: a total is the
    sum of what stands above it."""
    unit_mm = 1000 if brief.measures.metric_first else units.MM_PER_YARD
    return sum(
        units.round_to(line.count * line.length_mm / unit_mm, 0.1, "nearest") for line in lines
    )


def _range_row(brief: Brief, letter: str, lines: Sequence[CutLine]) -> TableRow:
    """Hanging cords of many lengths: how many in all; which is which stands in their own list."""
    if len(lines) == 1:
        return _cut_row(brief, letter, lines)
    count = sum(line.count for line in lines)
    return TableRow(
        (
            Cell(f"{letter}  {brief.plan.colour(letter).name}", swatch=letter),
            Cell(units.whole(count)),
            Cell(),
            Cell(),
            Cell(_by_number(brief, lines[0].piece)),
            Cell(units.decimal(_printed_total(brief, lines), 1)),
        )
    )


def _by_number(brief: Brief, piece: str) -> str:
    """Where the lengths of a piece's hanging cords are told."""
    if not brief.on_paper:
        return brief.words("materials.by_number_told")
    return brief.words("materials.by_number", page=page_of(cords_target(piece)))


def cords_target(piece: str) -> str:
    """Where the list of a piece's hanging cords stands."""
    return f"cords-{piece}"


def cord_tables(brief: Brief, chart: ChartPlan) -> Iterator[tuple[Table, ...]]:
    """The hanging cords by number, where their lengths differ: as even columns as can be, and no
    more than a page can hold side by side."""
    lengths: dict[float, list[int]] = {}
    for cord in chart.hanging_cords:
        lengths.setdefault(cord.length_mm, []).append(cord.columns[0])
    if len(lengths) == 1:
        return
    words, metric = brief.words, brief.measures.metric_first
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


def _cut_row(brief: Brief, letter: str, lines: Sequence[CutLine]) -> TableRow:
    main, *others = sorted(lines, key=lambda line: (-line.count, -line.length_mm))
    others.sort(key=lambda line: -line.length_mm)
    metric = brief.measures.metric_first
    cm = units.centimetres(main.length_mm, "up", fixed=True)
    inch = units.inches(main.length_mm, "up")
    return TableRow(
        (
            Cell(f"{letter}  {brief.plan.colour(letter).name}", swatch=letter),
            Cell(units.whole(main.count)),
            Cell(cm if metric else inch),
            Cell(inch if metric else cm),
            _others(brief, others),
            Cell(units.decimal(_printed_total(brief, lines), 1)),
        )
    )


def _others(brief: Brief, lines: Sequence[CutLine]) -> Cell:
    if not lines:
        return Cell()
    cm = _listed(lines, [units.centimetres(line.length_mm, "up") for line in lines])
    inch = _listed(lines, [units.inches(line.length_mm, "up") for line in lines])
    metric = brief.words("units.cm", n=cm)
    imperial = brief.words("units.inch", n=inch)
    first, second = (metric, imperial) if brief.measures.metric_first else (imperial, metric)
    return Cell(first, second)


def _listed(lines: Sequence[CutLine], lengths: Sequence[str]) -> str:
    return ", ".join(
        length if line.count == 1 else f"{line.count}\u00a0×\u00a0{length}"
        for line, length in zip(lines, lengths, strict=True)
    )


def shopping_table(brief: Brief, shopping: Sequence[BuyLine], *, with_knots: bool) -> Table:
    """One line a colour: knots, length, weight, balls and, where known, price."""
    words = brief.words
    balls = any(line.balls is not None for line in shopping)
    prices = any(line.price is not None for line in shopping)
    currency = brief.pattern.currency or ""
    number_columns = [
        *([("knots", 18, "")] if with_knots else []),
        *(_length_columns(brief)),
        *(_mass_columns(brief)),
        *([("balls", 14, "")] if balls else []),
        *([("price", 18, currency)] if prices else []),
    ]
    columns = (
        Column(words("materials.colour"), 50),
        *(
            Column(words(f"materials.{name}"), share, unit, right=True)
            for name, share, unit in number_columns
        ),
    )
    knots = _knots(brief) if with_knots else None
    rows = [
        TableRow(
            (
                Cell(f"{line.colour}  {brief.plan.colour(line.colour).name}", swatch=line.colour),
                *([] if knots is None else [Cell(units.whole(knots.get(line.colour, 0)))]),
                *_numbers(brief, line, balls=balls, prices=prices),
            )
        )
        for line in shopping
    ]
    rows.append(_together(brief, shopping, knots, balls=balls, prices=prices))
    return Table(columns, tuple(rows))


def _length_columns(brief: Brief) -> list[tuple[str, float, str]]:
    m, yd = brief.words("materials.unit_m"), brief.words("materials.unit_yd")
    order = (m, yd) if brief.measures.metric_first else (yd, m)
    return [("length", 18.0, unit) for unit in order]


def _mass_columns(brief: Brief) -> list[tuple[str, float, str]]:
    g, oz = brief.words("materials.unit_g"), brief.words("materials.unit_oz")
    order = (g, oz) if brief.measures.metric_first else (oz, g)
    return [("weight_head", 18.0, unit) for unit in order]


def _knots(brief: Brief) -> dict[str, int]:
    counts: dict[str, int] = {}
    for chart in brief.charts:
        for letter, number in chart.knots.items():
            counts[letter] = counts.get(letter, 0) + number * chart.make
    return counts


def _numbers(brief: Brief, line: BuyLine, *, balls: bool, prices: bool) -> list[Cell]:
    length_mm = line.length_m * 1000
    lengths = [units.metres(length_mm), units.yards(length_mm)]
    masses = [units.grams(line.mass_g), units.ounces(line.mass_g)]
    if not brief.measures.metric_first:
        lengths.reverse()
        masses.reverse()
    cells = [Cell(text) for text in (*lengths, *masses)]
    if balls:
        cells.append(Cell("" if line.balls is None else units.whole(line.balls)))
    if prices:
        cells.append(Cell("" if line.price is None else units.decimal(line.price, 2)))
    return cells


def _together(
    brief: Brief,
    shopping: Sequence[BuyLine],
    knots: dict[str, int] | None,
    *,
    balls: bool,
    prices: bool,
) -> TableRow:
    """The sums of the numbers printed above."""
    lengths = [
        sum(units.round_to(line.length_m, 1, "up") for line in shopping),
        sum(units.round_to(line.length_m * 1000 / units.MM_PER_YARD, 1, "up") for line in shopping),
    ]
    masses = [
        units.whole(sum(units.round_to(line.mass_g, 1, "up") for line in shopping)),
        units.decimal(
            sum(
                units.round_to(line.mass_g / units.GRAMS_PER_OUNCE, 0.1, "up") for line in shopping
            ),
            1,
        ),
    ]
    if not brief.measures.metric_first:
        lengths.reverse()
        masses.reverse()
    cells = [] if knots is None else [Cell(units.whole(sum(knots.values())))]
    cells += [Cell(units.whole(length)) for length in lengths]
    cells += [Cell(text) for text in masses]
    if balls:
        cells.append(Cell(units.whole(sum(line.balls or 0 for line in shopping))))
    if prices:
        cells.append(Cell(units.decimal(sum(line.price or 0.0 for line in shopping), 2)))
    return TableRow((Cell(brief.words("materials.together")), *cells), "total")


def as_lists(brief: Brief, table: Table) -> list[Block]:
    """The table itself, or in an edition without tables a list of facts for each of its rows."""
    if not brief.edition.option("tables_as_lists", False):
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
