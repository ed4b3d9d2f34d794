"""Write the terms of use as a text of their own, for a release."""

from __future__ import annotations

import datetime

from publisher.manuscript.blocks import Block, Manuscript, Paragraph, Section, Span
from publisher.manuscript.edition import read_errata_edition
from publisher.manuscript.sections.terms import terms_paragraphs
from publisher.manuscript.words import read_words
from publisher.model.pattern import Pattern
from publisher.templates import Templates


def write_licence(pattern: Pattern, templates: Templates, date: datetime.datetime) -> Manuscript:
    """The terms, and what they are for. TemplateError where there is no such text."""
    words = read_words(templates)
    edition = read_errata_edition(templates, "a4", "text")
    values = {"title": pattern.title, "version": pattern.version, "designer": pattern.designer}
    key = "licence.designed" if pattern.designer else "licence.untold"
    body: list[Block] = [Paragraph(words.say(key, **values))]
    body += [Paragraph((Span(text),)) for text in terms_paragraphs(pattern, templates)]
    if pattern.contact:
        body.append(Paragraph(words.say("licence.contact", contact=pattern.contact)))
    title = words("terms.title")
    return Manuscript(
        title=pattern.title,
        author=pattern.designer,
        subject=title,
        keywords=(),
        language=words.language,
        date=date,
        version=pattern.version,
        edition=title,
        house=pattern.designer,
        sections=(Section("terms", "text", title, title, tuple(body)),),
        colours=(),
        look=edition.look,
        words=words.under("frame"),
    )
