"""Read a knot file: TOML text to a checked Knot, every mistake with its line."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from publisher.errors import Problem, SourceError
from publisher.knots.derive import derived
from publisher.knots.format import (
    FileTable,
    KnotTable,
    OwnKnotTable,
    OwnTurnedTable,
    StrandTable,
    TurnedTable,
    WordsTable,
)
from publisher.knots.model import Knot, KnotForm, Strand, ViewBox
from publisher.knots.points import read_points
from publisher.knots.reader import Reader, read_cords, read_measures, read_tying
from publisher.knots.stages import read_stages
from publisher.knots.words import NO_WORDS, mirror_words, worded
from publisher.tables.locate import locate
from publisher.tables.reader import read_table
from publisher.tables.syntax import parse
from publisher.templates import TemplateFile

MARGIN = 1.6


def read_knot(
    text: str,
    file: str,
    name: str,
    library: Callable[[str], Knot],
    words: TemplateFile = NO_WORDS,
    *,
    own: bool = True,
) -> tuple[Knot | None, list[Problem]]:
    """The knot in a file's text, and every problem; the knot is None if there is any.

    `library` gives another knot by name (KeyError if there is none), for a file that says `of`.
    `words`: the list that says which words change places in a mirror; one of our own knots (not
    `own`) has all its words there.
    """
    reader = Reader(file, library)
    try:
        data = parse(text, file)
    except SourceError as error:
        return None, [*error.problems]
    knot: Knot | None = None
    kinds = ((KnotTable, TurnedTable), (OwnKnotTable, OwnTurnedTable))
    table = read_table(kinds[own]["of" in data], data, file, reader.findings)
    if isinstance(table, TurnedTable):
        knot = derived(reader, table)
    elif isinstance(table, KnotTable):
        knot = _drawn(reader, table, name, words)
    if knot and table:
        knot = _as_said(reader, table, replace(knot, name=name))
    problems = locate(reader.findings, {file: text})
    return (None if problems else knot), problems


def _as_said(reader: Reader, table: FileTable, knot: Knot) -> Knot:
    """A drawing with what its file says of tying and measuring it, and with its words."""
    cords_in, cords_out = read_cords(reader, table, knot.loose.strands)
    knot = replace(
        knot,
        cords_in=cords_in,
        cords_out=cords_out,
        tying=read_tying(reader, table, cords_in, cords_out),
        measures=read_measures(reader, table.measures),
    )
    return worded(knot, table) if isinstance(table, WordsTable) else knot


def _drawn(reader: Reader, table: KnotTable, name: str, words: TemplateFile) -> Knot:
    strands = {key: _strand(reader, key, strand) for key, strand in table.strands.items()}
    tight = {
        key: _strand(reader, key, strand, tight=strand.tight)
        for key, strand in table.strands.items()
        if strand.tight is not None
    }
    view = table.view or _view_of(strands)
    tight_form = KnotForm(tight, table.tight_view or _view_of(tight)) if tight else None
    if table.fillers_vary and not any(strand.role == "filler" for strand in strands.values()):
        reader.problem(("fillers_vary",), "there is no filler to vary", "leave it out")
    sides, faces = mirror_words(words)
    return Knot(
        name=name,
        kind=table.kind,
        titles=(name,),
        loose=KnotForm(strands, view),
        tight=tight_form,
        stages=read_stages(reader, table.stages, strands, tight_form is not None),
        fillers_vary=table.fillers_vary,
        sides=tuple(table.sides or sides),
        faces=faces,
    )


def _strand(reader: Reader, name: str, table: StrandTable, *, tight: str | None = None) -> Strand:
    """A strand, or its tight form."""
    key, label_at = ("points", table.label_at) if tight is None else ("tight", table.tight_label_at)
    text = table.points if tight is None else tight
    points = read_points(reader, text, ("strands", name, key), least=2)
    return Strand(name, table.role, points, table.diameter, table.label, label_at)


def _view_of(strands: Mapping[str, Strand]) -> ViewBox:
    """A box round all points, with room for an arrow head."""
    places = [point.xy for strand in strands.values() for point in strand.points] or [0j]
    xs, ys = [place.real for place in places], [place.imag for place in places]
    return ViewBox(min(xs) - MARGIN, min(ys) - MARGIN, max(xs) + MARGIN, max(ys) + MARGIN)
