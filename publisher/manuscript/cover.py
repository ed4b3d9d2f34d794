"""Write the cover: the piece as it will hang, and what a buyer looks for."""

from __future__ import annotations

from publisher.manuscript.blocks import Cover, Section
from publisher.manuscript.brief import Brief
from publisher.manuscript.markup import page_of
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
    )
    return Section("cover", "cover", "", "", (cover,))


def _has_terms(brief: Brief) -> bool:
    return "terms" in brief.edition.sections


def _alt(brief: Brief, chart: ChartPlan | None) -> str:
    if chart is None:
        return brief.pattern.title
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
    if pattern.level:
        facts.append((words("cover.level"), (_short(pattern.level),)))
    dated = brief.dated
    key = "cover.version_dated" if dated else "cover.version"
    version = words(key, version=pattern.version, date=dated) if dated else pattern.version
    facts.append((words("cover.version"), (version,)))
    return facts


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


def _short(level: str) -> str:
    """The level's first words, up to a colon: the rest is for the page inside."""
    return level.partition(":")[0].strip()
