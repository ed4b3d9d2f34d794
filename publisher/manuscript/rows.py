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
from publisher.manuscript.brief import Brief
from publisher.manuscript.notes import NoteWords
from publisher.plan.values import ChartPlan, Row


def write_rows(brief: Brief) -> list[Section]:
    return [_section(brief, chart) for chart in brief.charts]


def _section(brief: Brief, chart: ChartPlan) -> Section:
    words = brief.words
    letters = tuple(colour.letter for colour in brief.plan.colours if colour.letter in chart.knots)
    return Section(
        "rows" if chart is brief.charts[0] else f"rows-{chart.id}",
        "text",
        brief.of_piece(words.texts["rows.title"], chart.id),
        brief.of_piece(words.texts["rows.running"], chart.id),
        tuple(write_row(brief, chart, row) for row in chart.row_list),
        lead=(Paragraph(_intro(brief, chart), "lead-in"),),
        foot=(ColourLine(letters),),
        columns=brief.edition.option("row_columns"),
        bookmark=brief.of_piece(words.texts["contents.rows"], chart.id),
        title_one=brief.of_piece(words.texts["rows.title_one"], chart.id),
    )


def _intro(brief: Brief, chart: ChartPlan) -> Text:
    knots = brief.words.count("rows.knots", chart.columns)
    second = next((yarn for yarn in chart.yarns if yarn.id.endswith("2")), None)
    notes, say = _notes(brief, chart), brief.words.say
    more = say("rows.named_rows", row=notes.named_row) if notes.named_row else ()
    more += say("rows.lengths", full=notes.full) if notes.any_full else ()
    if notes.brief:
        return say("rows.brief.intro", knots=knots, tail=notes.tail) + more
    table = "rows" if brief.on_paper else "rows.told"
    if second is None:
        return say(f"{table}.intro_one_yarn", knots=knots) + more
    colour, key = brief.plan.colour(second.colour), f"{table}.intro"
    return say(key, knots=knots, letter=colour.letter, colour=colour.name) + more


def _notes(brief: Brief, chart: ChartPlan) -> NoteWords:
    in_brief = brief.edition.option("rows_in_brief")
    return NoteWords(brief.words, brief.measures, chart, brief=in_brief)


def write_row(brief: Brief, chart: ChartPlan, row: Row) -> RowEntry:
    """One row in words."""
    words = brief.words
    said = _notes(brief, chart)
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
        run_in=said.brief,
    )


def _glued(text: Text) -> Text:
    """A run's number and letter must not be parted at a line's end."""
    return tuple(Span(span.text.replace(" ", "\u00a0"), span.strong) for span in text)
