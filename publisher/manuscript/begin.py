"""Write what comes before row 1: cords cut, mounted and numbered, yarn laid ready, the start."""

from __future__ import annotations

from collections.abc import Iterator

from publisher.manuscript.blocks import Block, Heading, Items, Section, Text
from publisher.manuscript.brief import Brief, knot_target
from publisher.manuscript.cutting import cords_target
from publisher.manuscript.markup import page_of
from publisher.manuscript.notes import NoteWords
from publisher.plan.values import ChartPlan

_TAGGED = 5
"""How many cords on the next one with a tag is."""


def write_begin(brief: Brief) -> list[Section]:
    """A list for each chart; nothing where there is none."""
    words, charts = brief.words, brief.charts
    if not charts:
        return []
    body: list[Block] = []
    for chart in charts:
        many = brief.words.count("begin.for_one", chart.make) if chart.make > 1 else ""
        if len(charts) > 1 or many:
            body.append(Heading(brief.piece_title(chart.id), many))
        body.append(Items(tuple(_steps(brief, chart)), numbered=True))
    title, running = words("begin.title"), words("begin.running")
    return [Section("begin", "text", title, running, tuple(body), continues=True)]


def _steps(brief: Brief, chart: ChartPlan) -> Iterator[Text]:
    yield _cut(brief, chart)
    yield _mount(brief, chart)
    if chart.columns >= _TAGGED:
        yield _number(brief, chart)
    yield brief.words.say("begin.hang")
    yield _yarn(brief, chart)
    yield _start(brief, chart)


def _cut(brief: Brief, chart: ChartPlan) -> Text:
    """The cords; where they are not alike, by number."""
    lengths = {cord.length_mm for cord in chart.hanging_cords}
    count = brief.words.count("begin.cords", len(chart.hanging_cords))
    if len(lengths) > 1:
        target = cords_target(chart.id)
        values = {"count": count, "target": target, "page": page_of(target)}
        return brief.words.say("begin.cut_by_number", **values)
    length = brief.measures.length(lengths.pop(), "up")
    return brief.words.say("begin.cut", count=count, length=length, page=page_of("cutting-list"))


def _mount(brief: Brief, chart: ChartPlan) -> Text:
    """How they hang, and which of what hangs is a cord of the chart."""
    say, knot = brief.words.say, brief.knots[chart.mount.knot]
    page = page_of(knot_target(knot.name))
    said = say("begin.mount", knot=knot.title, name=knot.name, page=page)
    if chart.cord_strands > 1:
        return said + say("begin.both_ends")
    return said + say("begin.each_end" if chart.columns % 2 == 0 else "begin.each_end_but_one")


def _number(brief: Brief, chart: ChartPlan) -> Text:
    """Paper tags with numbers: nobody counts to 37 again and again."""
    tags = range(_TAGGED, chart.columns + 1, _TAGGED)
    key = ("one", "two", "three")[len(tags) - 1] if len(tags) < 4 else "many"
    values = {"first": tags[0], "second": tags[1 % len(tags)], "last": tags[-1]}
    return brief.words.say(f"begin.tags.{key}", columns=chart.columns, **values)


def _yarn(brief: Brief, chart: ChartPlan) -> Text:
    say, notes = brief.words.say, NoteWords(brief.words, brief.measures, chart)
    page = page_of("cutting-list")
    if notes.all_full:
        return say("begin.yarn_full", full=notes.full, page=page)
    lengths = say("rows.lengths", full=notes.full) if notes.any_full else ()
    return say("begin.yarn", page=page) + lengths


def _start(brief: Brief, chart: ChartPlan) -> Text:
    """The first yarn, and the way that the first rows go."""
    words, row = brief.words, chart.row_list[0]
    first = row.notes[0]
    notes = NoteWords(words, brief.measures, chart)
    side = words(f"sides.{row.start}")
    other = words("sides.left" if row.start == "right" else "sides.right")
    said = words.say(
        "begin.start",
        side=side,
        other=other,
        cord=first.cord,
        yarn=first.yarn,
        colour=brief.plan.colour(row.runs[0].colour).name,
        length=notes.length(first),
        tail=notes.tail,
    )
    if not brief.edition.option("knots_in_brief"):  # else it is not drawn
        said += words.say("begin.start_page", page=page_of(knot_target("starting-a-yarn")))
    said += words.say("begin.start_stop")
    if chart.rows == 1:
        return said
    return said + words.say(f"begin.{chart.order.replace('-', '_')}", side=side, other=other)
