"""Write what comes before row 1: cords cut, mounted and numbered, yarn laid ready, the start."""

from __future__ import annotations

from collections.abc import Iterator

from publisher.knots.defaults import defaults
from publisher.manuscript.blocks import Block, Heading, Items, Section, Text
from publisher.manuscript.context import BookContext, knot_target
from publisher.manuscript.markup import page_of
from publisher.manuscript.notes import NoteWords
from publisher.manuscript.sections.cutting import cords_target
from publisher.model.plan import ChartPlan

_TAGGED = 5
"""How many cords on the next one with a tag is."""


def write_begin(context: BookContext) -> list[Section]:
    """A list for each chart; nothing where there is none."""
    words, charts = context.words, context.charts
    if not charts:
        return []
    body: list[Block] = []
    for chart in charts:
        many = context.words.count("begin.for_one", chart.make) if chart.make > 1 else ""
        if len(charts) > 1 or many:
            body.append(Heading(context.piece_title(chart.id), many))
        body.append(Items(tuple(_steps(context, chart)), numbered=True))
    title, running = words("begin.title"), words("begin.running")
    return [Section("begin", "text", title, running, tuple(body), continues=True)]


def _steps(context: BookContext, chart: ChartPlan) -> Iterator[Text]:
    yield _cut(context, chart)
    yield _mount(context, chart)
    if chart.columns >= _TAGGED:
        yield _number(context, chart)
    yield context.words.say("begin.hang")
    yield _yarn(context, chart)
    yield _start(context, chart)


def _cut(context: BookContext, chart: ChartPlan) -> Text:
    """The cords; where they are not alike, by number."""
    lengths = {cord.length_mm for cord in chart.hanging_cords}
    count = context.words.count("begin.cords", len(chart.hanging_cords))
    if len(lengths) > 1:
        target = cords_target(chart.id)
        values = {"count": count, "target": target, "page": page_of(target)}
        return context.words.say("begin.cut_by_number", **values)
    length = context.measures.length(lengths.pop(), "up")
    return context.words.say("begin.cut", count=count, length=length, page=page_of("cutting-list"))


def _mount(context: BookContext, chart: ChartPlan) -> Text:
    """Return how they hang, and which of what hangs is a cord of the chart."""
    say, knot = context.words.say, context.knots[chart.piece.mount.knot]
    page = page_of(knot_target(knot.name))
    said = say("begin.mount", knot=knot.title, name=knot.name, page=page)
    if chart.piece.cords.strands > 1:
        return said + say("begin.both_ends")
    return said + say("begin.each_end" if chart.columns % 2 == 0 else "begin.each_end_but_one")


def _number(context: BookContext, chart: ChartPlan) -> Text:
    """Paper tags with numbers: nobody counts to 37 again and again."""
    tags = range(_TAGGED, chart.columns + 1, _TAGGED)
    key = ("one", "two", "three")[len(tags) - 1] if len(tags) < 4 else "many"
    values = {"first": tags[0], "second": tags[1 % len(tags)], "last": tags[-1]}
    return context.words.say(f"begin.tags.{key}", columns=chart.columns, **values)


def _yarn(context: BookContext, chart: ChartPlan) -> Text:
    say, notes = context.words.say, NoteWords(context.words, context.measures, chart)
    page = page_of("cutting-list")
    if notes.all_full:
        return say("begin.yarn_full", full=notes.full, page=page)
    lengths = say("rows.lengths", full=notes.full) if notes.any_full else ()
    return say("begin.yarn", page=page) + lengths


def _start(context: BookContext, chart: ChartPlan) -> Text:
    """The first yarn, and the way that the first rows go."""
    words, row = context.words, chart.row_list[0]
    first = row.notes[0]
    notes = NoteWords(words, context.measures, chart)
    side = words(f"sides.{row.start}")
    other = words("sides.left" if row.start == "right" else "sides.right")
    said = words.say(
        "begin.start",
        side=side,
        other=other,
        cord=first.cord,
        yarn=first.yarn,
        colour=context.plan.colour(row.runs[0].colour).name,
        length=notes.length(first),
        tail=notes.tail,
    )
    if not context.edition.option("knots_in_brief"):  # else it is not drawn
        said += words.say(
            "begin.start_page", page=page_of(knot_target(defaults().handling["start"]))
        )
    said += words.say("begin.start_stop")
    if chart.rows == 1:
        return said
    return said + words.say(f"begin.{chart.piece.order.replace('-', '_')}", side=side, other=other)
