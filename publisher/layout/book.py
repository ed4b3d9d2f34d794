"""Lay a manuscript out as a book."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from publisher.layout.pages import lay_out_pages
from publisher.layout.tracing import trace
from publisher.manuscript.blocks import Manuscript
from publisher.model.book import Book
from publisher.store import NO_STORE, Store
from publisher.templates import Templates


def lay_out(manuscript: Manuscript, templates: Templates, store: Store = NO_STORE) -> Book:
    """Lay out the whole book. TemplateError where a template is wrong."""
    book = lay_out_pages(manuscript, templates, store=store)
    return replace(book, traced=partial(trace, manuscript, templates))
