"""Word the cautions that a plan sets off, from the texts in templates/cautions."""

from __future__ import annotations

from collections.abc import Iterable

from publisher.errors import Place, Problem, TemplateError
from publisher.manuscript.blocks import Text
from publisher.manuscript.brief import Brief
from publisher.manuscript.markup import read_marks


def caution_words(brief: Brief, codes: Iterable[str]) -> tuple[Text, ...]:
    """The texts of those of `codes` that this plan sets off, in the plan's order."""
    wanted = set(codes)
    return tuple(_text(brief, code) for code in brief.plan.cautions if code in wanted)


def _text(brief: Brief, code: str) -> Text:
    file = brief.templates.file(f"cautions/{code}.txt")
    try:
        return read_marks(" ".join(file.text.split()), **_values(brief))
    except (KeyError, IndexError, ValueError) as error:
        known = ", ".join("{" + name + "}" for name in _values(brief))
        raise TemplateError(
            Problem(Place(file.path), f"it can't be filled in ({error})", f"use only {known}")
        ) from None


def _values(brief: Brief) -> dict[str, str]:
    """What a caution may name."""
    charts = brief.charts
    free = max((max(*chart.fringe_mm, chart.hanging_loop_mm) for chart in charts), default=0.0)
    dowel = max((chart.dowel_length_mm for chart in charts), default=0.0)
    knots = sum(chart.total_knots * chart.make for chart in charts)
    return {
        "free_cord": brief.measures.length(free, "up"),
        "dowel": brief.measures.length(dowel, "up"),
        "mass": brief.measures.mass(brief.plan.finished_mass_g),
        "knots": brief.words.count("rows.knots", knots),
    }
