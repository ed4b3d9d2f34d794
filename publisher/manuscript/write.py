"""Write a whole book: the sections that an edition asks for, in its order."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType
from typing import Any

from publisher.errors import Place, Problem, TemplateError
from publisher.knots import KnotLibrary
from publisher.manuscript.about import write_about
from publisher.manuscript.assembly import write_assembly
from publisher.manuscript.blocks import Heading, Manuscript, Section
from publisher.manuscript.brief import Brief
from publisher.manuscript.cautions import write_cautions
from publisher.manuscript.charts import write_charts
from publisher.manuscript.cover import write_cover
from publisher.manuscript.edition import read_edition
from publisher.manuscript.finishing import write_finishing
from publisher.manuscript.glossary import write_glossary
from publisher.manuscript.kit import write_class_notes, write_kit
from publisher.manuscript.materials import write_materials
from publisher.manuscript.measures import Measures
from publisher.manuscript.parts import write_parts
from publisher.manuscript.rows import write_rows
from publisher.manuscript.terms import write_terms
from publisher.manuscript.words import read_words
from publisher.plan.values import Plan
from publisher.source.pattern import Pattern
from publisher.templates import Templates

_Writer = Callable[[Brief], Section | Sequence[Section]]

_WRITERS: dict[str, _Writer] = {
    "cover": write_cover,
    "about": write_about,
    "materials": write_materials,
    "chart": write_charts,
    "rows": write_rows,
    "knots": write_glossary,
    "parts": write_parts,
    "assembly": write_assembly,
    "finishing": write_finishing,
    "cautions": write_cautions,
    "kit": write_kit,
    "class-notes": write_class_notes,
    "terms": write_terms,
}


def write_manuscript(
    pattern: Pattern,
    plan: Plan,
    knots: KnotLibrary,
    templates: Templates,
    edition: str,
    paper: str,
    *,
    date: datetime.datetime,
    options: Mapping[str, Any] = MappingProxyType({}),
) -> Manuscript:
    """The content of one edition in reading order. TemplateError says what a template lacks.

    `options` take the place of those in the edition's file (`students`, …). For an edition of
    the left hand, pattern and plan are those of `Pattern.for_left_hand`.
    """
    words = read_words(templates)
    chosen = read_edition(templates, edition, paper, options)
    measures = Measures(words, pattern.units)
    brief = Brief(pattern, plan, knots, chosen, words, measures, templates)
    sections: list[Section] = []
    for name in chosen.sections:
        writer = _WRITERS.get(name)
        if writer is None:
            known = ", ".join(_WRITERS)
            problem = Problem(Place(chosen.path), f"there is no section {name}", f"choose {known}")
            raise TemplateError(problem)
        written = writer(brief)
        for section in [written] if isinstance(written, Section) else written:
            if section.continues and sections and not chosen.option("sections_apart", False):
                sections[-1] = _joined(sections[-1], section)
            else:
                sections.append(section)
    return Manuscript(
        title=pattern.title,
        author=pattern.designer,
        subject=words("frame.subject", edition=chosen.title),
        keywords=tuple(knot.title for knot in brief.used_knots),
        language=words.language,
        date=date,
        version=pattern.version,
        edition=chosen.title,
        house=pattern.designer,
        sections=tuple(sections),
        colours=plan.colours,
        look=chosen.look,
        words=words.under("frame"),
    )


def _joined(before: Section, section: Section) -> Section:
    """A section with the next one under a heading of its own."""
    heading = Heading(section.title, target=section.name)
    own = ((section.title, section.name),)
    return replace(
        before,
        body=(*before.body, heading, *section.body),
        bookmarks=before.bookmarks + own + section.bookmarks,
    )
