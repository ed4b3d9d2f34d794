"""Write the page after the cover: the piece, the contents, and how to read the booklet."""

from __future__ import annotations

from publisher.manuscript.blocks import (
    Block,
    Contents,
    Heading,
    Items,
    Paragraph,
    Section,
    Span,
    Text,
)
from publisher.manuscript.brief import Brief
from publisher.manuscript.markup import page_of
from publisher.plan.values import ChartPlan


def write_about(brief: Brief) -> Section:
    words, pattern = brief.words, brief.pattern
    body: list[Block] = [Paragraph((Span(text),)) for text in pattern.about]
    if pattern.level:
        body += [Heading(words("about.level")), Paragraph((Span(_sentence(pattern.level)),))]
    if brief.on_paper:
        body.append(Heading(words("about.contents")))
        body.append(Contents(_entries(brief)))
    if brief.charts:
        body += [Heading(words("about.begin")), Items(tuple(_guide(brief)))]
    if brief.plan.parts and not brief.charts:
        body += [Heading(words("about.begin")), Items(tuple(_part_guide(brief)))]
    return Section("about", "text", words("about.title"), words("about.running"), tuple(body))


def _sentence(level: str) -> str:
    text = level[0].upper() + level[1:]
    return text if text.endswith((".", "!", "?")) else f"{text}."


def _entries(brief: Brief) -> tuple[tuple[str, str], ...]:
    """The sections that follow, by the words over them."""
    names = brief.edition.sections
    after = names[names.index("about") + 1 :] if "about" in names else names
    return tuple(
        (brief.words(_contents_key(brief, name)), name) for name in after if brief.has_section(name)
    )


def _contents_key(brief: Brief, name: str) -> str:
    alone = name == "finishing" and not brief.charts
    return f"contents.{name}_parts" if alone else f"contents.{name}"


def _guide(brief: Brief) -> list[Text]:
    """How to read charts and rows; of several charts, only what holds for all of them."""
    words, charts = brief.words, brief.charts
    knot = brief.knots[charts[0].knot]
    letter = brief.plan.colours[0].letter
    orders = {_order(brief, chart) for chart in charts}
    cords = "about.cords" if len({chart.columns for chart in charts}) == 1 else "about.cords_each"
    lines = [
        *([words.say("about.print")] if brief.on_paper else []),
        words.say("about.order" if brief.on_paper else "about.order_told"),
        *(orders if len(orders) == 1 else ()),
        words.say("about.cell", knot=knot.title, name=knot.name, page=page_of(f"knot-{knot.name}")),
        words.say(cords, columns=charts[0].columns),
        words.say("about.yarns", letter=letter),
    ]
    if brief.on_paper and len(brief.plan.colours) > 1:
        lines.append(words.say("about.symbols"))
    return lines


def _order(brief: Brief, chart: ChartPlan) -> Text:
    """Which way the rows of a chart go."""
    sides = ("left", "right") if chart.first_row_from == "left" else ("right", "left")
    first, second = (brief.words(f"sides.{side}") for side in sides)
    key = "order_zigzag" if chart.order == "zigzag" else "order_one_way"
    return brief.words.say(f"about.{key}", first=first, second=second)


def _part_guide(brief: Brief) -> list[Text]:
    """How to read a booklet that has no chart."""
    words = brief.words
    keys = ["places", "steps", "quiet", *(["knots"] if brief.used_knots else [])]
    return [words.say(f"about.part_{key}") for key in keys]
