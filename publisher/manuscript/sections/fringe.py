"""Write the template that a shaped fringe is trimmed by."""

from __future__ import annotations

import math
from collections.abc import Iterator

from publisher.drawing import draw_fringe_sheets, draw_fringe_template
from publisher.drawing.piece.fringe import MOST_COPIED
from publisher.manuscript.blocks import Block, Heading, Paragraph, Picture
from publisher.manuscript.context import BookContext
from publisher.model import units
from publisher.model.plan import ChartPlan

_TALLEST_MM = 78.0
_ROUND_MM = 8.0
"""Left free round a drawing that is true to size, so that it is never made smaller."""


def fringe_template(context: BookContext, chart: ChartPlan) -> Iterator[Block]:
    """The curve to scale with the length at each cord; nothing for a straight fringe."""
    if not has_template(context, chart):
        return
    words, metric = context.words, context.measures.metric_first
    write = units.centimetres if metric else units.inches
    lengths = [write(length) for length in chart.fringe_mm]
    look = context.edition.look
    figure, scale = draw_fringe_template(
        chart, lengths, look, look.paper.text_width_mm, _TALLEST_MM, words.under("fringe")
    )
    if scale > MOST_COPIED:
        yield from _sheets(context, chart)
        return
    unit = words("fringe.unit_cm" if metric else "fringe.unit_inch")
    true = "_true" if scale == 1 else ""
    lead = words(f"fringe.lead{true}", scale=scale, unit=unit, percent=100 * scale)
    yield Heading(words("fringe.heading"), lead)
    yield Paragraph(words.say(f"fringe.words{true}"), keep=True)
    yield Picture(figure)


def _sheets(context: BookContext, chart: ChartPlan) -> Iterator[Block]:
    """The template true to size: too large to be copied up from one drawing."""
    words, look = context.words, context.edition.look
    unit = 10.0 if context.measures.metric_first else units.MM_PER_INCH
    edge_mm = max(0.0, math.floor(min(chart.fringe_mm) / unit) - 1) * unit
    frame, paper = look.frame, look.paper
    room = paper.text_bottom_mm - frame.title_mm - frame.title_gap_mm - _ROUND_MM
    figures = draw_fringe_sheets(
        chart, edge_mm, look, paper.text_width_mm, room, words.under("fringe")
    )
    yield Heading(words("fringe.heading"), words("fringe.lead_sheets", n=len(figures)))
    edge = context.measures.metric_or_inch(edge_mm)
    yield Paragraph(words.say("fringe.words_sheets", edge=edge))
    for figure in figures:
        yield Picture(figure)


def has_template(context: BookContext, chart: ChartPlan) -> bool:
    """Is there a curve to draw, and a page to draw it on?"""
    shaped = chart.piece.fringe.shape != "straight" and max(chart.fringe_mm) > 0
    return shaped and chart.columns > 1 and context.on_paper
