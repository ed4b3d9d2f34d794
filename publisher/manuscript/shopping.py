"""Turn a shopping list into a table."""

from __future__ import annotations

from collections.abc import Sequence

from publisher import units
from publisher.manuscript.blocks import Cell, Column, Table, TableRow
from publisher.manuscript.brief import Brief
from publisher.plan.values import BuyLine


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
