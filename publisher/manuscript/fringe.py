"""Write the template that a shaped fringe is trimmed by."""

from __future__ import annotations

from collections.abc import Iterator

from publisher import units
from publisher.drawing import draw_fringe_template
from publisher.manuscript.blocks import Block, Heading, Paragraph, Picture
from publisher.manuscript.brief import Brief
from publisher.plan.values import ChartPlan

_TALLEST_MM = 78.0


def fringe_template(brief: Brief, chart: ChartPlan) -> Iterator[Block]:
    """The curve to scale with the length at each cord; nothing for a straight fringe."""
    if not has_template(brief, chart):
        return
    words, metric = brief.words, brief.measures.metric_first
    write = units.centimetres if metric else units.inches
    lengths = [write(length) for length in chart.fringe_mm]
    look = brief.edition.look
    figure, scale = draw_fringe_template(
        chart, lengths, look, look.paper.text_width_mm, _TALLEST_MM, words.under("fringe")
    )
    unit = words("fringe.unit_cm" if metric else "fringe.unit_inch")
    true = "_true" if scale == 1 else ""
    lead = words(f"fringe.lead{true}", scale=scale, unit=unit, percent=100 * scale)
    yield Heading(words("fringe.heading"), lead)
    yield Paragraph(words.say(f"fringe.words{true}"), keep=True)
    yield Picture(figure)


def has_template(brief: Brief, chart: ChartPlan) -> bool:
    """Is there a curve to draw, and a page to draw it on?"""
    shaped = chart.fringe_shape != "straight" and max(chart.fringe_mm) > 0
    return shaped and chart.columns > 1 and brief.on_paper
