"""Write the chart: one section a piece, cut into pages when the page is known."""

from __future__ import annotations

from publisher.manuscript.blocks import Chart, Section
from publisher.manuscript.brief import Brief, knot_target
from publisher.manuscript.markup import page_of
from publisher.manuscript.words import Phrases
from publisher.plan.values import ChartPlan


def write_charts(brief: Brief) -> list[Section]:
    return [_section(brief, chart) for chart in brief.charts]


def _section(brief: Brief, chart: ChartPlan) -> Section:
    words = brief.words
    knot = brief.knots[chart.knot]
    lead = words.say(
        "chart_page.key_lead",
        knot=knot.title[0].lower() + knot.title[1:],
        page=page_of(knot_target(knot.name)),
    )
    places = tuple(
        step.placement
        for step in brief.plan.assembly
        if step.placement and step.placement.piece == chart.id
    )
    heads = {
        key: brief.of_piece(text, chart.id) if key.startswith(("title", "running")) else text
        for key, text in words.under("chart_page").items()
    }
    titles = Phrases(heads, words.file, "chart_page")
    block = Chart(chart, words.under("chart"), titles, lead, places)
    return Section(
        "chart" if chart is brief.charts[0] else f"chart-{chart.id}",
        "text",
        titles["title"],
        titles["running"],
        (block,),
        bookmark=brief.of_piece(words.texts["contents.chart"], chart.id),
    )
