"""Write a whole book: the sections that an edition asks for, in its order."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from importlib import import_module
from types import MappingProxyType
from typing import Any

from publisher.errors import Problem, TemplateError
from publisher.knots import KnotLibrary
from publisher.manuscript.blocks import Manuscript, Section
from publisher.manuscript.context import BookContext
from publisher.manuscript.edition import read_edition
from publisher.manuscript.measures import Measures
from publisher.manuscript.options import WRITERS
from publisher.manuscript.references import without_lost_references
from publisher.manuscript.words import read_words
from publisher.model.pattern import Pattern
from publisher.model.plan import Plan
from publisher.store import NO_STORE, Store
from publisher.templates import Templates

_Writer = Callable[[BookContext], Section | Sequence[Section]]


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
    store: Store = NO_STORE,
) -> Manuscript:
    """The content of one edition in reading order. TemplateError says what a template lacks.

    `options` take the place of those in the edition's file (`students`, …). For an edition of
    the left hand, pattern and plan are those of `source.mirror.for_left_hand`.
    """
    words = read_words(templates)
    chosen = read_edition(templates, edition, paper, options)
    measures = Measures(words, pattern.units)
    context = BookContext(pattern, plan, knots, chosen, words, measures, templates, store)
    sections: list[Section] = []
    apart = chosen.option("sections_apart")
    for name in chosen.sections:
        written = _writer(name)(context)
        for section in [written] if isinstance(written, Section) else written:
            sections.append(replace(section, continues=section.continues and not apart))
    file = templates.file(f"editions/{edition}.toml")
    if not sections:
        message = f"none of these sections has anything to say of {pattern.title}"
        hint = "add one that has, such as chart or parts, or leave the pattern out"
        raise TemplateError(Problem(file.place("sections"), message, hint))
    if not file.as_installed:
        sections = list(without_lost_references(sections))
    return Manuscript(
        title=pattern.title,
        author=pattern.designer,
        subject=words("frame.subject", edition=chosen.title),
        keywords=tuple(knot.title for knot in context.used_knots),
        language=words.language,
        date=date,
        version=pattern.version,
        edition=chosen.title,
        house=pattern.designer,
        sections=tuple(sections),
        colours=plan.colours,
        look=chosen.look,
        words=words.under("frame", *(["bench"] if chosen.form == "bench" else [])),
    )


def _writer(section: str) -> _Writer:
    home, _, name = WRITERS[section].partition(".")
    writer: _Writer = getattr(import_module(f"publisher.manuscript.sections.{home}"), name)
    return writer
