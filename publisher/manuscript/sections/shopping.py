"""Turn a shopping list into a table."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.manuscript.blocks import Cell, Column, Table, TableRow
from publisher.manuscript.context import BookContext
from publisher.model import units
from publisher.model.plan import BuyLine


def shopping_table(context: BookContext, shopping: Sequence[BuyLine], *, with_knots: bool) -> Table:
    """One line a colour: knots, length, weight and balls."""
    words = context.words
    balls = any(line.balls is not None for line in shopping)
    number_columns = [
        *([("knots", 18, "")] if with_knots else []),
        *(_length_columns(context)),
        *(_mass_columns(context)),
        *([("balls", 14, "")] if balls else []),
    ]
    columns = (
        Column(words("materials.colour"), 50),
        *(
            Column(words(f"materials.{name}"), share, unit, right=True)
            for name, share, unit in number_columns
        ),
    )
    knots = _knots(context) if with_knots else None
    rows = [
        TableRow(
            (
                Cell(f"{line.colour}  {context.plan.colour(line.colour).name}", swatch=line.colour),
                *([] if knots is None else [Cell(units.whole(knots.get(line.colour, 0)))]),
                *_numbers(context, line, balls=balls),
            )
        )
        for line in shopping
    ]
    rows.append(_together(context, shopping, knots, balls=balls))
    return Table(columns, tuple(rows))


def _length_columns(context: BookContext) -> list[tuple[str, float, str]]:
    m, yd = context.words("materials.unit_m"), context.words("materials.unit_yd")
    order = (m, yd) if context.measures.metric_first else (yd, m)
    return [("length", 18.0, unit) for unit in order]


def _mass_columns(context: BookContext) -> list[tuple[str, float, str]]:
    g, oz = context.words("materials.unit_g"), context.words("materials.unit_oz")
    order = (g, oz) if context.measures.metric_first else (oz, g)
    return [("weight_head", 18.0, unit) for unit in order]


def _knots(context: BookContext) -> dict[str, int]:
    counts: dict[str, int] = {}
    for chart in context.charts:
        for letter, number in chart.knots.items():
            counts[letter] = counts.get(letter, 0) + number * chart.make
    return counts


def _numbers(context: BookContext, line: BuyLine, *, balls: bool) -> list[Cell]:
    lengths = [units.whole(line.length_m), units.whole(line.length_yd)]
    masses = [units.whole(line.mass_g), units.decimal(line.mass_oz, 1)]
    if not context.measures.metric_first:
        lengths.reverse()
        masses.reverse()
    cells = [Cell(text) for text in (*lengths, *masses)]
    if balls:
        cells.append(Cell("" if line.balls is None else units.whole(line.balls)))
    return cells


def _together(
    context: BookContext,
    shopping: Sequence[BuyLine],
    knots: dict[str, int] | None,
    *,
    balls: bool,
) -> TableRow:
    """The sums of the numbers printed above."""
    lengths = [sum(line.length_m for line in shopping), sum(line.length_yd for line in shopping)]
    masses = [
        units.whole(sum(line.mass_g for line in shopping)),
        units.decimal(sum(line.mass_oz for line in shopping), 1),
    ]
    if not context.measures.metric_first:
        lengths.reverse()
        masses.reverse()
    cells = [] if knots is None else [Cell(units.whole(sum(knots.values())))]
    cells += [Cell(units.whole(length)) for length in lengths]
    cells += [Cell(text) for text in masses]
    if balls:
        cells.append(Cell(units.whole(sum(line.balls or 0 for line in shopping))))
    return TableRow((Cell(context.words("materials.together")), *cells), "total")


def price_table(context: BookContext, shopping: Sequence[BuyLine]) -> Table | None:
    """Return what each yarn of a shopping list costs, and all of it where every price is known.

    None where no price is asked for, or none is known.
    """
    words, currency = context.words, context.pattern.currency or ""
    priced: dict[str, list[BuyLine]] = {}
    for line in shopping if context.pattern.prices_as_of else ():
        if line.price is not None:
            priced.setdefault(line.yarn, []).append(line)
    if not priced:
        return None
    yarns = {colour.yarn.key: colour.yarn for colour in context.plan.colours}
    columns = (
        Column(words("materials.yarn"), 74),
        Column(words("materials.ball_price"), 26, currency, right=True),
        Column(words("materials.balls"), 26, right=True),
        Column(words("materials.price"), 26, currency, right=True),
    )
    rows = [
        TableRow(
            (
                Cell(yarns[key].name),
                Cell(units.decimal(yarns[key].price or 0.0, 2)),
                *_cost(lines),
            )
        )
        for key, lines in priced.items()
    ]
    if len(rows) > 1 and all(line.price is not None for line in shopping):
        rows.append(
            TableRow((Cell(words("materials.together")), Cell(""), *_cost(shopping)), "total")
        )
    return Table(columns, tuple(rows))


def _cost(lines: Sequence[BuyLine]) -> tuple[Cell, Cell]:
    """Return how many balls, and what they cost."""
    balls = sum(line.balls or 0 for line in lines)
    return Cell(units.whole(balls)), Cell(
        units.decimal(sum(line.price or 0.0 for line in lines), 2)
    )
