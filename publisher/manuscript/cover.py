"""Write the cover: the piece as it will hang, and what a buyer looks for."""

from __future__ import annotations

from publisher.drawing import place_parts
from publisher.drawing.part_picture import PartPicture, lay_out_part
from publisher.manuscript.blocks import Cover, Section
from publisher.manuscript.brief import Brief
from publisher.manuscript.markup import page_of
from publisher.plan.part_values import StepsPlan
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
    if chart:
        facts += _chart_facts(brief, chart)
    elif brief.plan.parts:
        facts += _part_facts(brief, brief.plan.parts[0])
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


def _part_facts(brief: Brief, part: StepsPlan) -> list[Fact]:
    words = brief.words
    size = brief.measures.size(part.width_mm, part.height_mm + part.ends_mm)
    ends = (words("cover.size_ends"),) if part.ends_mm else ()
    kinds = words.count("cover.kinds", len(part.knots))
    return [
        (words("cover.size"), (*size, *ends)),
        (words("cover.yarn"), (_yarns(brief),)),
        (words("cover.knots"), (words("cover.knots_kinds", n=part.total_knots, kinds=kinds),)),
    ]


def _chart_facts(brief: Brief, chart: ChartPlan) -> list[Fact]:
    words = brief.words
    longest = max(chart.fringe_mm)
    size = brief.measures.size(chart.width_mm, chart.height_mm + longest)
    fringe = (words("cover.size_fringe"),) if longest else ()
    cords = words.count("cover.cords", chart.columns)
    return [
        (words("cover.size"), (*size, *fringe)),
        (words("cover.yarn"), (_yarns(brief), cords)),
        (words("cover.knots"), (words.count("cover.knots_one_kind", chart.total_knots),)),
    ]


def _yarns(brief: Brief) -> str:
    names = brief.yarn_names()
    count = len(brief.plan.colours)
    if len(names) == 1:
        return brief.words.count("cover.colours", count, yarn=names[0])
    return brief.words.count("cover.colours_mixed", count)


def short_level(level: str) -> str:
    """The level's first words, up to a colon: the rest is for the page inside."""
    return level.partition(":")[0].strip()
