"""Write the cover: the piece as it will hang, and what a buyer looks for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from publisher.drawing import place_parts
from publisher.drawing.part.picture import PartPicture, lay_out_part
from publisher.manuscript.blocks import Cover, Section
from publisher.manuscript.context import BookContext
from publisher.manuscript.markup import page_of
from publisher.manuscript.phrases import listed
from publisher.manuscript.sections.weights import hung
from publisher.model.plan import ChartPlan
from publisher.model.reach import finished_size

Fact = tuple[str, tuple[str, ...]]

_MOST_SIZES = 5
"""Pieces named with their sizes; of more, the list of what is needed has all."""


def write_cover(context: BookContext) -> Section:
    words, pattern = context.words, context.pattern
    chart = context.charts[0] if context.charts else None
    cover = Cover(
        title=pattern.title,
        subtitle=pattern.subtitle,
        facts=tuple(_facts(context, chart)),
        plan=chart,
        alt=_alt(context, chart),
        house=pattern.designer,
        line=words.say("cover.terms", page=page_of("terms")) if _has_terms(context) else (),
        placed=place_parts(context.plan, chart.id, context.knots.__getitem__) if chart else (),
        part=_part(context) if chart is None else None,
    )
    return Section("cover", "cover", "", "", (cover,))


def _has_terms(context: BookContext) -> bool:
    return "terms" in context.edition.sections


def _alt(context: BookContext, chart: ChartPlan | None) -> str:
    if chart is None:
        return context.words("cover.alt_part", title=context.pattern.title)
    return context.words(
        "cover.alt", title=context.pattern.title, columns=chart.columns, rows=chart.rows
    )


def _facts(context: BookContext, chart: ChartPlan | None) -> list[Fact]:
    words, pattern = context.words, context.pattern
    facts: list[Fact] = []
    if pattern.designer:
        facts.append((words("cover.designer"), (pattern.designer,)))
    if context.plan.pieces:
        facts += _piece_facts(context)
    if pattern.level:
        facts.append((words("cover.level"), (short_level(pattern.level),)))
    dated = context.dated
    key = "cover.version_dated" if dated else "cover.version"
    version = words(key, version=pattern.version, date=dated) if dated else pattern.version
    facts.append((words("cover.version"), (version,)))
    return facts


def _part(context: BookContext) -> PartPicture | None:
    """The first part, where it is the whole work."""
    parts = context.plan.parts
    return lay_out_part(parts[0], context.knots.__getitem__) if parts else None


def _piece_facts(context: BookContext) -> list[Fact]:
    words, charts = context.words, context.charts
    cords = listed(words, [f"{columns:,}" for columns in _each(c.columns for c in charts)])
    on_cords = words.count("cover.cords", charts[0].columns) if len(charts) == 1 else ""
    if len(charts) > 1:
        on_cords = words("cover.cords.many", n=cords)
    worked = (_yarns(context), on_cords) if charts else (_yarns(context),)
    return [
        (
            words("cover.size_chart" if charts else "cover.size"),
            (*_sizes(context), *_with(context)),
        ),
        (words("cover.yarn"), worked),
        (words("cover.knots"), (_knots(context),)),
    ]


def _each(numbers: Iterable[int]) -> tuple[int, ...]:
    """Every number once, in their order."""
    return tuple(dict.fromkeys(numbers))


def _sizes(context: BookContext) -> Iterator[str]:
    """Width and height of what hangs in the end: of one piece in two lines, of several by name, of
    many only the first few."""
    words, pieces = context.words, hung(context) or context.plan.pieces
    named = pieces if len(pieces) <= _MOST_SIZES else pieces[: _MOST_SIZES - 1]
    for piece in named:
        size = context.measures.size(*finished_size(context.plan, piece))
        if len(pieces) > 1:
            both = words("units.both", first=size[0], second=size[1])
            yield words("cover.size_of", piece=context.piece_title(piece.id), size=both)
        else:
            yield from size
        if piece.make > 1:
            yield words("cover.size_each", n=piece.make)
    if len(pieces) > len(named):
        yield words("cover.size_more", n=len(pieces) - len(named))


def _with(context: BookContext) -> Iterator[str]:
    """Yield what the size has in it, and of parts, what it leaves out; of charts the heading says
    it."""
    words = context.words
    if context.charts:
        if any(max(chart.fringe_mm) for chart in context.charts):
            yield words("cover.size_fringe")
        return
    parts = context.plan.parts
    ends = "ends" if any(part.ends_mm for part in parts) else "no_ends"
    bars = dict.fromkeys(part.piece.bar.name for part in parts if part.piece.bar)
    if bars:
        yield words(f"cover.size_{ends}_bar", bar=listed(words, list(bars)))
    elif ends == "ends":
        yield words("cover.size_ends")


def _knots(context: BookContext) -> str:
    """Return how many knots of how many kinds there are in everything that is made."""
    words, charts, parts = context.words, context.charts, context.plan.parts
    count = sum(chart.total_knots * chart.make for chart in charts)
    count += sum(part.total_knots * part.make for part in parts)
    kinds = {chart.piece.knot for chart in charts} | {name for part in parts for name in part.knots}
    if not parts:
        return words.count("cover.knots_one_kind", count)
    return words("cover.knots_kinds", n=f"{count:,}", kinds=words.count("cover.kinds", len(kinds)))


def _yarns(context: BookContext) -> str:
    names = context.yarn_names()
    count = len(context.plan.colours)
    if len(names) == 1:
        return context.words.count("cover.colours", count, yarn=names[0])
    return context.words.count("cover.colours_mixed", count)


def short_level(level: str) -> str:
    """The level's first words, up to a colon: the rest is for the page inside."""
    return level.partition(":")[0].strip()
