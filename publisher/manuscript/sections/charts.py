"""Write the chart: one section a piece, cut into pages when the page is known."""

from __future__ import annotations

from publisher.manuscript.blocks import Chart, Section
from publisher.manuscript.context import BookContext, knot_target
from publisher.manuscript.markup import page_of
from publisher.manuscript.words import Phrases
from publisher.model.plan import ChartPlan


def write_charts(context: BookContext) -> list[Section]:
    return [_section(context, chart) for chart in context.charts]


def _section(context: BookContext, chart: ChartPlan) -> Section:
    words = context.words
    knot = context.knots[chart.piece.knot]
    lead = words.say(
        "chart_page.key_lead",
        knot=knot.title[0].lower() + knot.title[1:],
        page=page_of(knot_target(knot.name)),
    )
    places = tuple(
        step.placement
        for step in context.plan.assembly
        if step.placement and step.placement.piece == chart.id
    )
    heads = {
        key: context.of_piece(text, chart.id) if key.startswith(("title", "running")) else text
        for key, text in words.under("chart_page").items()
    }
    titles = Phrases(heads, words.file, "chart_page")
    block = Chart(chart, words.under("chart"), titles, lead, places)
    return Section(
        "chart" if chart is context.charts[0] else f"chart-{chart.id}",
        "text",
        titles["title"],
        titles["running"],
        (block,),
        bookmark=context.of_piece(words.texts["contents.chart"], chart.id),
    )
