"""Say which way round a book draws its knots, and for which rows that is."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.knots import Knot
from publisher.manuscript.context import BookContext
from publisher.manuscript.options import Hand
from publisher.model.plan import ChartPlan


def worked_hands(chart: ChartPlan) -> tuple[Hand, ...]:
    """The ways that a chart's knot is worked, that of the first row first."""
    first: Hand = "right" if chart.piece.first_row_from == "left" else "left"
    if chart.piece.order == "one-way":
        return (first,)
    return (first, "left" if first == "right" else "right")


def drawn_hands(context: BookContext, name: str) -> tuple[Hand, ...]:
    """The ways round that the glossary draws a knot."""
    chart = next((chart for chart in context.charts if chart.piece.knot == name), None)
    if chart is None:
        return (context.edition.hand,)
    hands = worked_hands(chart)
    return hands[:1] if context.edition.option("knots_in_brief") else hands


def procedure_hand(charts: Sequence[ChartPlan], knot: Knot, usual: Hand) -> Hand:
    """The way round that handling is drawn: with the first row, where it depends on rows."""
    return worked_hands(charts[0])[0] if knot.way and charts else usual


def rows_drawn(context: BookContext, knot: Knot) -> str:
    """For which rows a drawing of handling is; "" where it is the same in all of them.

    `knot`: as it is drawn.
    """
    if not knot.way or all(chart.rows == 1 for chart in context.charts):
        return ""
    if all(chart.piece.order == "one-way" for chart in context.charts):
        return context.words("knots.every_row")
    firsts = {(chart.piece.order, chart.piece.first_row_from) for chart in context.charts}
    if len(firsts) > 1:
        return context.words("knots.drawn_way", way=knot.way)
    to_right = knot.sides[1] in knot.way
    odd = to_right == (context.charts[0].piece.first_row_from == "left")
    return context.words("knots.drawn_odd" if odd else "knots.drawn_even")
