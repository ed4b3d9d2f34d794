"""Compose written rows into boxes: box to tick, number, arrow, runs, and yarn notes below."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from publisher.layout.boxes import Box, Group
from publisher.layout.context import LayoutContext
from publisher.layout.lines import Line, break_lines, one_line
from publisher.manuscript.blocks import ColourLine, RowEntry, Span
from publisher.manuscript.markup import plain

# Measures of the narrow column, for type of 11 pt; they grow with the type.
_TICK_MM = 3.2
_NUMBER_RIGHT_MM = 10.2
_ARROW_MM = 11.8
_RUNS_MM = 20.5
_CORD_RIGHT_MM = 25.4
_NOTE_MM = 28.5
_GAP = 1.2  # lines of runs: a blank one and a hairline between rows
_WHOLE_MM = 120.0  # a row of more than this may be parted between notes, or lines of them
_LARGE = 1.3  # of the type of 11 pt: in larger, a row of many notes may be parted, too
_MANY_NOTES = 6
_LINES = 6  # of notes that follow one another, as one part


_Part = tuple[float, str, dict[str, Any], Group]
"""What a box of a row is made of: its height, macro, arguments and group."""


def row_entry(block: RowEntry, context: LayoutContext, width: float) -> Iterator[Box]:
    scale = context.style("rows").size_pt / 11.0
    runs = _runs(block, context, width, scale)
    notes = (_run_in if block.run_in else _notes)(block, context, width, scale)
    parts = [*runs, *notes]
    gap = _GAP * context.style("rows").lead_mm
    yield Box(gap / 2, "text.hairline", {"width": width}, gap / 2, keep=True, between=True)
    long = sum(part[0] for part in parts) > _WHOLE_MM
    parting = long or (scale > _LARGE and len(notes) >= _MANY_NOTES)
    again = _again(block, context, scale) if parting else None
    for at, part in enumerate(parts):
        first, last = at <= len(runs), at == len(parts) - 1
        keep = not last and (not parting or first or at == len(parts) - 2)
        head = again if at else None
        tall, macro, args, group = part
        yield Box(tall, macro, args, keep=keep, group=group, head=head, row=block.row)


def _again(block: RowEntry, context: LayoutContext, scale: float) -> Box:
    """Return what stands over the notes that did not fit on the page before: which row goes on."""
    number = one_line(str(block.row), context.style("row-number"))
    args = {
        "number": number,
        "number_x": _NUMBER_RIGHT_MM * scale - number.width_mm,
        "start": block.start,
        "arrow_x": _ARROW_MM * scale,
        "runs_x": _RUNS_MM * scale,
        "words": context.words["row_continued"],
        "scale": scale,
    }
    return Box(context.style("rows").lead_mm, "rows.again", args)


def _runs(block: RowEntry, context: LayoutContext, width: float, scale: float) -> list[_Part]:
    style = context.style("rows")
    lines = break_lines(block.runs, style, width - _RUNS_MM * scale, even=False)
    number = one_line(str(block.row), context.style("row-number"))
    group = context.group("P")
    parts: list[_Part] = []
    for index, part in enumerate(_portions(lines, int(_WHOLE_MM / style.lead_mm))):
        args = {
            "lines": part,
            "first": index == 0,
            "number": number,
            "number_x": _NUMBER_RIGHT_MM * scale - number.width_mm,
            "start": block.start,
            "arrow_x": _ARROW_MM * scale,
            "runs_x": _RUNS_MM * scale,
            "tick": _TICK_MM * scale,
            "scale": scale,
        }
        parts.append((style.lead_mm * len(part), "rows.runs", args, group))
    return parts


def _portions(lines: tuple[Line, ...], count: int) -> Iterator[tuple[Line, ...]]:
    """Part lines into portions of so many, none of them alone."""
    while lines:
        taken = count if len(lines) != count + 1 else count + 1
        yield lines[:taken]
        lines = lines[taken:]


def _notes(block: RowEntry, context: LayoutContext, width: float, scale: float) -> list[_Part]:
    style = context.style("note")
    group = context.group("L")
    parts: list[_Part] = []
    for note in block.notes:
        lines = break_lines(note.text, style, width - _NOTE_MM * scale)
        cord = one_line(str(note.cord), style, strong=True)
        args = {
            "cord": cord,
            "cord_x": _CORD_RIGHT_MM * scale - cord.width_mm,
            "lines": lines,
            "note_x": _NOTE_MM * scale,
        }
        parts.append((style.lead_mm * len(lines), "rows.note", args, group))
    return parts


def _run_in(block: RowEntry, context: LayoutContext, width: float, scale: float) -> list[_Part]:
    """Return all notes as one paragraph, lines broken only between them; a few lines a part."""
    style, text = context.style("note"), []
    for note in block.notes:
        words = plain(note.text).replace(" ", "\u00a0")
        between = context.words["between_notes"] if note is not block.notes[-1] else ""
        text += [Span(str(note.cord), strong=True), Span(f"\u00a0{words}{between}")]
    lines = break_lines(tuple(text), style, width - _RUNS_MM * scale, even=False)
    group = context.group("P")
    return [
        (
            style.lead_mm * len(part),
            "text.lines",
            {"lines": part, "role": "note", "dx": _RUNS_MM * scale},
            group,
        )
        for part in _portions(lines, _LINES)
    ]


def colour_line(block: ColourLine, context: LayoutContext, width: float) -> Iterator[Box]:
    """Swatches with letter and name, in as many lines as they need."""
    style = context.style("key")
    scale = style.size_pt / 9.5
    swatch, gap = 6.6 * scale, 5.0 * scale
    entries: list[tuple[float, str, Line]] = []
    rows = [entries]
    x = 0.0
    for letter in block.letters:
        name = next(colour.name for colour in context.colours if colour.letter == letter)
        line = break_lines(context.key_words(letter, name), style, float("inf"))[0]
        if entries and x + swatch + line.width_mm > width:
            entries, x = [], 0.0
            rows.append(entries)
        entries.append((x, letter, line))
        x += swatch + line.width_mm + gap
    lead = 6.0 * scale
    yield Box(
        lead * len(rows),
        "rows.colours",
        {"rows": tuple(tuple(row) for row in rows), "lead": lead, "swatch_mm": swatch},
        before_mm=4.0,
    )
