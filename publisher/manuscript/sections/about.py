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
from publisher.manuscript.context import BookContext
from publisher.manuscript.markup import page_of
from publisher.model.plan import ChartPlan


def write_about(context: BookContext) -> Section:
    words, pattern = context.words, context.pattern
    body: list[Block] = [Paragraph((Span(text),)) for text in pattern.about]
    if pattern.level:
        body += [Heading(words("about.level")), Paragraph((Span(_sentence(pattern.level)),))]
    if context.on_paper:
        body.append(Heading(words("about.contents")))
        body.append(Contents(_entries(context)))
    if context.charts:
        body += [Heading(words("about.begin")), Items(tuple(_guide(context)))]
    if context.plan.parts and not context.charts:
        body += [Heading(words("about.begin")), Items(tuple(_part_guide(context)))]
    return Section("about", "text", words("about.title"), words("about.running"), tuple(body))


def _sentence(level: str) -> str:
    text = level[0].upper() + level[1:]
    return text if text.endswith((".", "!", "?")) else f"{text}."


def _entries(context: BookContext) -> tuple[tuple[str, str], ...]:
    """The sections that follow, by the words over them."""
    names = context.edition.sections
    after = names[names.index("about") + 1 :] if "about" in names else names
    return tuple(
        (context.words(_contents_key(context, name)), name)
        for name in after
        if name != "cover" and context.has_section(name)
    )


def _contents_key(context: BookContext, name: str) -> str:
    alone = name == "finishing" and not context.charts
    return f"contents.{name}_parts" if alone else f"contents.{name}"


def _guide(context: BookContext) -> list[Text]:
    """Return how to read charts and rows; of several charts, only what holds for all of them."""
    words, charts = context.words, context.charts
    knot = context.knots[charts[0].piece.knot]
    letter = context.plan.colours[0].letter
    orders = {_order(context, chart) for chart in charts}
    cords = "about.cords" if len({chart.columns for chart in charts}) == 1 else "about.cords_each"
    lines = [
        *([words.say("about.print")] if context.on_paper else []),
        words.say("about.order" if context.on_paper else "about.order_told"),
        *(orders if len(orders) == 1 else ()),
        words.say("about.cell", knot=knot.title, name=knot.name, page=page_of(f"knot-{knot.name}")),
        words.say(cords, columns=charts[0].columns),
        words.say("about.yarns", letter=letter),
    ]
    if context.on_paper and len(context.plan.colours) > 1:
        lines.append(words.say("about.symbols"))
    return lines


def _order(context: BookContext, chart: ChartPlan) -> Text:
    """Return which way the rows of a chart go."""
    sides = ("left", "right") if chart.piece.first_row_from == "left" else ("right", "left")
    first, second = (context.words(f"sides.{side}") for side in sides)
    key = "order_zigzag" if chart.piece.order == "zigzag" else "order_one_way"
    return context.words.say(f"about.{key}", first=first, second=second)


def _part_guide(context: BookContext) -> list[Text]:
    """Return how to read a booklet that has no chart."""
    words = context.words
    keys = ["places", "steps", "quiet", *(["knots"] if context.used_knots else [])]
    return [words.say(f"about.part_{key}") for key in keys]
