"""Word the cautions that a plan sets off, from the texts in templates/cautions, and gather them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from itertools import pairwise

from publisher.errors import Place, Problem, TemplateError
from publisher.manuscript.blocks import Caution, Section, Text
from publisher.manuscript.context import BookContext
from publisher.manuscript.markup import fill, read_marks
from publisher.manuscript.sections.weights import weight_sentences
from publisher.manuscript.words import UNFILLED
from publisher.plan.parts.lists import fastened, is_small


def write_cautions(context: BookContext) -> list[Section]:
    """Write all cautions on one page; in large type, in as many boxes as pages can hold."""
    words = context.words
    texts = caution_words(context, context.plan.cautions)
    if not texts:
        return []
    most = context.edition.option("cautions_in_a_box") or len(texts)
    count = -(-len(texts) // most)
    ends = [round(len(texts) * k / count) for k in range(count + 1)]
    boxes = tuple(
        Caution(words("cautions.gathered"), texts[start:end]) for start, end in pairwise(ends)
    )
    title, running = words("cautions.title"), words("cautions.running")
    return [Section("cautions", "text", title, running, boxes, continues=True)]


def caution_words(context: BookContext, codes: Iterable[str]) -> tuple[Text, ...]:
    """The texts of those of `codes` that this plan sets off, in the plan's order."""
    wanted = set(codes)
    return tuple(_text(context, code) for code in context.plan.cautions if code in wanted)


def _text(context: BookContext, code: str) -> Text:
    file, values = context.templates.file(f"cautions/{code}.txt"), _values(context)
    try:
        return read_marks(re.sub(r"[ \t\r\n]+", " ", file.text).strip(), **values)
    except UNFILLED as error:
        known = ", ".join("{" + name + "}" for name in values)
        place = Place(file.path, _unfilled_line(file.text, values))
        message = f"it can't be filled in ({error})"
        raise TemplateError(Problem(place, message, f"use only {known}")) from None


def _unfilled_line(text: str, values: Mapping[str, str]) -> int:
    """The first line that can't be filled in by itself."""
    for number, line in enumerate(text.splitlines(), 1):
        try:
            fill(line, **values)
        except UNFILLED:
            return number
    return 1


def _values(context: BookContext) -> dict[str, str]:
    """Return what a caution may name."""
    charts, parts = context.charts, context.plan.parts
    held = fastened(context.plan.assembly)
    small = [context.piece_name(part.id) for part in parts if held[part.id] and is_small(part)]
    dowel = max((chart.dowel_length_mm for chart in charts), default=0.0)
    knots = sum(chart.total_knots * chart.make for chart in charts)
    knots += sum(part.total_knots * part.make for part in parts)
    longest = max((line.length_mm for line in context.plan.cutting_list), default=0.0)
    return {
        "free_cord": context.measures.length(context.plan.free_cord_mm, "up"),
        "longest_cut": context.measures.length(longest, "up"),
        "dowel": context.measures.length(dowel, "up"),
        "mass": context.measures.mass(max(context.plan.masses_g.values(), default=0.0)),
        "weights": weight_sentences(context),
        "parts": ", ".join(small),
        "knots": context.words.count("rows.knots", knots),
    }
