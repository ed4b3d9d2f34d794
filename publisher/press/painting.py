"""Show a book's page as a PNG, as a reader's program shows the printed page."""

from __future__ import annotations

from dataclasses import replace

from publisher.book import Book
from publisher.press.booklet import print_book
from publisher.press.pictures import page_png


def paint_page(book: Book, number: int = 1, dpi: float = 150.0) -> bytes:
    """A page as a PNG, `dpi` pixels to the inch. IndexError where there is none of this number.

    TemplateError and FontError as from `print_book`.
    """
    if not 1 <= number <= len(book.pages):
        raise IndexError(f"there is no such page among {len(book.pages)}")
    alone = replace(book, pages=(book.pages[number - 1],), bookmarks=())
    return page_png(print_book(alone), 1, dpi)
