"""Write the cover: the piece as it will hang, and what a buyer looks for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from publisher.drawing import place_parts
from publisher.drawing.part_picture import PartPicture, lay_out_part
from publisher.manuscript.blocks import Cover, Section
from publisher.manuscript.brief import Brief
from publisher.manuscript.markup import page_of
from publisher.manuscript.phrases import listed
from publisher.manuscript.weights import hung
from publisher.plan.reach import finished_size
from publisher.plan.values import ChartPlan

Fact = tuple[str, tuple[str, ...]]


def write_cover(brief: Brief) -> Section:
    words, pattern = brief.words, brief.pattern
    chart = brief.charts[0] if brief.charts else None
    cover = Cover(
        title=pattern.title,
        subtitle=pattern.subtitle,
        facts=tuple(_facts(brief, chart)),
        plan=chart,
        alt=_alt(brief, chart),
        house=pattern.designer,
        line=words.say("cover.terms", page=page_of("terms")) if _has_terms(brief) else (),
        placed=place_parts(brief.plan, chart.id, brief.knots.__getitem__) if chart else (),
        part=_part(brief) if chart is None else None,
    )
    return Section("cover", "cover", "", "", (cover,))


def _has_terms(brief: Brief) -> bool:
    return "terms" in brief.edition.sections


def _alt(brief: Brief, chart: ChartPlan | None) -> str:
    if chart is None:
        return brief.words("cover.alt_part", title=brief.pattern.title)
    return brief.words(
        "cover.alt", title=brief.pattern.title, columns=chart.columns, rows=chart.rows
    )


def _facts(brief: Brief, chart: ChartPlan | None) -> list[Fact]:
    words, pattern = brief.words, brief.pattern
    facts: list[Fact] = []
    if pattern.designer:
        facts.append((words("cover.designer"), (pattern.designer,)))
    if brief.plan.pieces:
        facts += _piece_facts(brief)
    if pattern.level:
        facts.append((words("cover.level"), (short_level(pattern.level),)))
    dated = brief.dated
    key = "cover.version_dated" if dated else "cover.version"
    version = words(key, version=pattern.version, date=dated) if dated else pattern.version
    facts.append((words("cover.version"), (version,)))
    return facts


def _part(brief: Brief) -> PartPicture | None:
    """The first part, where it is the whole work."""
    parts = brief.plan.parts
    return lay_out_part(parts[0], brief.knots.__getitem__) if parts else None


def _piece_facts(brief: Brief) -> list[Fact]:
    words, charts = brief.words, brief.charts
    cords = listed(words, [f"{columns:,}" for columns in _each(c.columns for c in charts)])
    on_cords = words.count("cover.cords", charts[0].columns) if len(charts) == 1 else ""
    if len(charts) > 1:
        on_cords = words("cover.cords.many", n=cords)
    worked = (_yarns(brief), on_cords) if charts else (_yarns(brief),)
    return [
        (words("cover.size_chart" if charts else "cover.size"), (*_sizes(brief), *_with(brief))),
        (words("cover.yarn"), worked),
        (words("cover.knots"), (_knots(brief),)),
    ]


def _each(numbers: Iterable[int]) -> tuple[int, ...]:
    """Every number once, in their order."""
    return tuple(dict.fromkeys(numbers))


def _sizes(brief: Brief) -> Iterator[str]:
    """Width and height of what hangs in the end: of one piece in two lines, of several by name."""
    words, pieces = brief.words, hung(brief) or brief.plan.pieces
    for piece in pieces:
        size = brief.measures.size(*finished_size(brief.plan, piece))
        if len(pieces) > 1:
            both = words("units.both", first=size[0], second=size[1])
            yield words("cover.size_of", piece=brief.piece_title(piece.id), size=both)
        else:
            yield from size
        if piece.make > 1:
            yield words("cover.size_each", n=piece.make)


def _with(brief: Brief) -> Iterator[str]:
    """What the size has in it, and of parts, what it leaves out; of charts the heading says it."""
    words = brief.words
    if brief.charts:
        if any(max(chart.fringe_mm) for chart in brief.charts):
            yield words("cover.size_fringe")
        return
    parts = brief.plan.parts
    ends = "ends" if any(part.ends_mm for part in parts) else "no_ends"
    bars = dict.fromkeys(part.bar.name for part in parts if part.bar)
    if bars:
        yield words(f"cover.size_{ends}_bar", bar=listed(words, list(bars)))
    elif ends == "ends":
        yield words("cover.size_ends")


def _knots(brief: Brief) -> str:
    """How many knots of how many kinds there are in everything that is made."""
    words, charts, parts = brief.words, brief.charts, brief.plan.parts
    count = sum(chart.total_knots * chart.make for chart in charts)
    count += sum(part.total_knots * part.make for part in parts)
    kinds = {chart.knot for chart in charts} | {name for part in parts for name in part.knots}
    if not parts:
        return words.count("cover.knots_one_kind", count)
    return words("cover.knots_kinds", n=f"{count:,}", kinds=words.count("cover.kinds", len(kinds)))


def _yarns(brief: Brief) -> str:
    names = brief.yarn_names()
    count = len(brief.plan.colours)
    if len(names) == 1:
        return brief.words.count("cover.colours", count, yarn=names[0])
    return brief.words.count("cover.colours_mixed", count)


def short_level(level: str) -> str:
    """The level's first words, up to a colon: the rest is for the page inside."""
    return level.partition(":")[0].strip()
