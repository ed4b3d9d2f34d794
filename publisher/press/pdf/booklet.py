"""Print a book: every page's content, tagged, and all that it needs, in one accessible PDF."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager

from publisher.errors import FontError, PublisherError, TemplateError
from publisher.model.book import Book
from publisher.press.pdf.binding import Binder
from publisher.press.pdf.pages import draw_pages
from publisher.store import NO_STORE, Store


def print_book(book: Book, store: Store = NO_STORE) -> bytes:
    """A laid-out book → a PDF, tagged for PDF/UA-1, the same to the byte wherever it is made.

    TemplateError names what is wrong on which page; FontError, the characters no font has.
    """
    with _uncollected():
        return _print(book, store)


@contextmanager
def _uncollected() -> Iterator[None]:
    """Look for no garbage meanwhile: pages are tens of thousands of nodes, none in a ring."""
    collecting = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collecting:
            gc.enable()


def _print(book: Book, store: Store) -> bytes:
    binder = Binder(book)
    try:
        for page, drawn in draw_pages(book, store):
            binder.page(page, drawn)
    except (FontError, TemplateError) as error:
        raise (_traced(book) or error) from None
    return binder.finish()


def _traced(book: Book) -> PublisherError | None:
    """Return what is wrong, told once for each line that it comes from, if that can be found
    out."""
    try:
        for _ in draw_pages(book.traced()) if book.traced else ():
            pass
    except TemplateError as found:
        problems = {problem.place: problem for problem in reversed(found.problems)}
        return TemplateError(*reversed(problems.values()))
    except FontError as found:
        return found
    except Exception:  # templates may write otherwise when they are looked at
        return None
    return None
