"""Say in a line what changed: for a writer at her terminal."""

from __future__ import annotations

from collections.abc import Iterator

from publisher.errata.compare.changes import ChartChange, ColourChange, Errata, PieceName
from publisher.manuscript.phrases import listed, ranges
from publisher.manuscript.words import Words

_MOST_ROWS = 12


def changes_in_brief(errata: Errata, words: Words) -> str:
    """`row 12 of the panel, what to cut and the title`; "" where nothing changed."""
    return listed(words, [*_changes(errata, words)])


def _changes(errata: Errata, words: Words) -> Iterator[str]:
    table = "errata.brief"
    if errata.cautions_added or errata.cautions_removed:
        yield words(f"{table}.cautions")
    for kind, pieces in (("added", errata.pieces_added), ("removed", errata.pieces_removed)):
        for piece in pieces:
            yield words(f"{table}.piece_{kind}", piece=_name(piece))
    for chart in errata.charts:
        yield from _chart(chart, words)
    yield from _colours(errata, words)
    for part in errata.parts:
        yield words(f"{table}.part", piece=part.piece.replace("-", " "))
    for key in ("assembly", "cutting", "shopping", "knots", "order"):
        if getattr(errata, key):
            yield words(f"{table}.{key}")
    for change in errata.words:
        yield words(f"{table}.{change.name}")


def _colours(errata: Errata, words: Words) -> Iterator[str]:
    """Each colour and yarn of which something changed, and what that is."""
    table = "errata.brief"
    for colour in errata.colours:
        told = colour.after or colour.before
        if told:
            what = [words(f"{table}.colour.{name}") for name in colour.changed or _fate(colour)]
            yield f"{told.letter} {told.name} ({listed(words, what)})"
    for yarn in errata.yarns:
        if yarn.after and yarn.changed:
            what = [words(f"{table}.yarn.{name}") for name in yarn.changed]
            yield f"{yarn.after.name} ({listed(words, what)})"


def _fate(change: ColourChange) -> tuple[str]:
    return ("added",) if change.before is None else ("removed",)


def _name(piece: PieceName) -> str:
    return piece.id.replace("-", " ")


def _chart(chart: ChartChange, words: Words) -> Iterator[str]:
    table, piece = "errata.brief", chart.piece.replace("-", " ")
    rows = chart.rows_changed
    if chart.redrawn:
        yield words(f"{table}.redrawn", piece=piece)
    elif rows:
        key = "row" if len(rows) == 1 else "rows"
        told = ranges(words, rows)
        if len(rows) > _MOST_ROWS and told.count(",") > _MOST_ROWS:
            told = str(len(rows))
            key = "many_rows"
        yield words(f"{table}.{key}", rows=told, piece=piece)
    if chart.removed:
        yield words.count(f"{table}.removed", len(chart.removed), piece=piece)
    facts = [fact.name for fact in chart.facts]
    more = {"lengths": chart.lengths, "renamed": chart.renamed, "ties": chart.ties and not rows}
    for name in (*facts, *(name for name, told in more.items() if told)):
        yield words(f"{table}.fact.{name}", piece=piece)
