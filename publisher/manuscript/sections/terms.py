"""Write the last page, and the terms of use as a text of their own: terms, version, whom to ask."""

from __future__ import annotations

import datetime

from publisher.manuscript.blocks import Block, Heading, Manuscript, Paragraph, Section, Span
from publisher.manuscript.context import BookContext
from publisher.manuscript.edition import read_errata_edition
from publisher.manuscript.words import read_words
from publisher.model.pattern import Pattern
from publisher.templates import Templates


def write_terms(context: BookContext) -> Section:
    words, pattern = context.words, context.pattern
    paragraphs = terms_paragraphs(pattern, context.templates)
    body: list[Block] = [Paragraph((Span(paragraph),)) for paragraph in paragraphs]
    dated = context.dated
    values = {"version": pattern.version, "title": pattern.title, "edition": context.edition.title}
    if dated:
        body.append(Paragraph(words.say("terms.version_dated", date=dated, **values)))
    else:
        body.append(Paragraph(words.say("terms.version", **values)))
    if pattern.contact:
        body += [Heading(words("terms.contact")), Paragraph((Span(pattern.contact),))]
    title = words("terms.title")
    return Section("terms", "text", title, words("terms.running"), tuple(body), continues=True)


def terms_paragraphs(pattern: Pattern, templates: Templates) -> tuple[str, ...]:
    """The paragraphs of a pattern's terms of use, each in one line."""
    text = templates.text(f"terms/{pattern.terms}.txt")
    return tuple(" ".join(part.split()) for part in text.split("\n\n") if part.strip())


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
