"""A long book is never all in memory while it is printed: its pages are let go one by one."""

from __future__ import annotations

import gc
import io
from collections.abc import Iterator

import pikepdf
import pytest

from publisher.model.book import Book
from publisher.press import print_book
from publisher.press.pdf.pages import draw_pages
from publisher.press.pdf.tags import Element
from tests.support.svg_books import RICH, numbered


@pytest.fixture
def no_collecting() -> Iterator[None]:
    """What stays in memory now is in a ring, or held."""
    gc.collect()
    gc.disable()
    yield
    gc.enable()


@pytest.mark.usefixtures("no_collecting")
def test_a_page_is_let_go_when_the_next_is_drawn() -> None:
    drawn = draw_pages(Book(RICH.pages[:1] * 3, (), *_SAID))
    alive = []
    for _ in range(3):
        next(drawn)
        alive.append(sum(isinstance(held, Element) for held in gc.get_objects()))
    assert alive[0] == alive[1] == alive[2] > 0


@pytest.mark.usefixtures("no_collecting")
def test_printing_leaves_nothing_in_rings() -> None:
    print_book(RICH)
    gc.collect()
    print_book(RICH)
    assert gc.collect() == 0


def test_a_file_of_many_objects_is_read_as_it_was_written() -> None:
    """More than a few packs of them, with numbers given long before what they are for."""
    pages = numbered(400)
    with pikepdf.open(io.BytesIO(print_book(pages))) as pdf:
        assert not pdf.check_pdf_syntax()
        assert len(pdf.pages) == 400
        kids = pdf.Root.StructTreeRoot.K[0].K
        assert [kid.S for kid in kids] == ["/H1"] * 400
        assert [kid.Pg.objgen for kid in kids] == [page.objgen for page in pdf.pages]


_SAID = ("Reeds", "Reedbank Knot Room", "", (), "en-GB", RICH.date)
