"""Write the last page: terms of use, version, whom to ask."""

from __future__ import annotations

from publisher.manuscript.blocks import Block, Heading, Paragraph, Section, Span
from publisher.manuscript.context import BookContext
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
