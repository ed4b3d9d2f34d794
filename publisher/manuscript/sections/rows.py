"""Write every row in words, in working order, with the yarn notes that belong to it."""

from __future__ import annotations

from publisher.manuscript.blocks import (
    ColourLine,
    Paragraph,
    RowEntry,
    Section,
    Span,
    Text,
)
from publisher.manuscript.context import BookContext
from publisher.manuscript.notes import NoteWords
from publisher.model.plan import ChartPlan, Row


def write_rows(context: BookContext) -> list[Section]:
    return [_section(context, chart) for chart in context.charts]


def _section(context: BookContext, chart: ChartPlan) -> Section:
    words = context.words
    letters = tuple(
        colour.letter for colour in context.plan.colours if colour.letter in chart.knots
    )
    return Section(
        "rows" if chart is context.charts[0] else f"rows-{chart.id}",
        "text",
        context.of_piece(words.texts["rows.title"], chart.id),
        context.of_piece(words.texts["rows.running"], chart.id),
        tuple(write_row(context, chart, row) for row in chart.row_list),
        lead=(Paragraph(_intro(context, chart), "lead-in"),),
        foot=(ColourLine(letters),),
        columns=context.edition.option("row_columns"),
        bookmark=context.of_piece(words.texts["contents.rows"], chart.id),
        title_one=context.of_piece(words.texts["rows.title_one"], chart.id),
    )


def _intro(context: BookContext, chart: ChartPlan) -> Text:
    knots = context.words.count("rows.knots", chart.columns)
    second = next((yarn for yarn in chart.yarns if yarn.id.endswith("2")), None)
    notes, say = _notes(context, chart), context.words.say
    more = say("rows.named_rows", row=notes.named_row) if notes.named_row else ()
    more += say("rows.lengths", full=notes.full) if notes.any_full else ()
    if notes.context:
        return say("rows.brief.intro", knots=knots, tail=notes.tail) + more
    table = "rows" if context.on_paper else "rows.told"
    if second is None:
        return say(f"{table}.intro_one_yarn", knots=knots) + more
    colour, key = context.plan.colour(second.colour), f"{table}.intro"
    return say(key, knots=knots, letter=colour.letter, colour=colour.name) + more


def _notes(context: BookContext, chart: ChartPlan) -> NoteWords:
    in_brief = context.edition.option("rows_in_brief")
    return NoteWords(context.words, context.measures, chart, context=in_brief)


def write_row(context: BookContext, chart: ChartPlan, row: Row) -> RowEntry:
    """One row in words."""
    words = context.words
    said = _notes(context, chart)
    runs: list[Span] = []
    between = words("rows.between")
    for run in row.runs:
        if runs:
            runs.append(Span(between))
        runs += _glued(words.say("rows.run", knots=run.knots, letter=run.colour))
    return RowEntry(
        row=row.row,
        start=row.start,
        runs=tuple(runs),
        notes=said.say(row),
        spoken=words("rows.spoken", row=row.row, side=words(f"sides.{row.start}")),
        run_in=said.context,
    )


def _glued(text: Text) -> Text:
    """A run's number and letter must not be parted at a line's end."""
    return tuple(Span(span.text.replace(" ", "\u00a0"), span.strong) for span in text)
