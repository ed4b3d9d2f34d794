"""Print a book: every page on one cairo PDF surface, tagged, then finished to an accessible PDF."""

from __future__ import annotations

import errno
import gc
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from publisher.book import Book
from publisher.errors import OutputError, Place, Problem, TemplateError
from publisher.press.binding import cairocffi
from publisher.press.canvas import Canvas
from publisher.press.finishing import finish
from publisher.press.papers import PT_PER_MM
from publisher.press.proofs import (
    BROKEN,
    Proof,
    broken_page,
    problem_of,
    read_proofs,
    set_up,
    to_scale,
)
from publisher.press.tags import Tagger, TagRecord, place_name
from publisher.press.tree import PageError

_PLAIN_STREAMS = "CAIRO_DEBUG_PDF"
"""With this in the environment cairo does not compress: the finishing does, once for all."""


def print_book(book: Book) -> bytes:
    """A laid-out book → a PDF, tagged for PDF/UA-1, the same to the byte wherever it is made.

    TemplateError names what is wrong on which page; FontError, the characters no font has.
    OutputError if there is no room for the file that cairo draws into.
    """
    with _uncollected():
        return _print(book, read_proofs(book))


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


def _print(book: Book, proofs: list[Proof]) -> bytes:
    try:
        with TemporaryDirectory(prefix="publisher-") as folder:
            drawn = Path(folder, "drawn.pdf")  # cairo fills a file faster than a Python buffer
            records = _draw(book, proofs, drawn)
            _check_whole(drawn)
            return finish(drawn, book, records)
    except OSError as error:
        place = Place(error.filename or "the folder for temporary files")
        raise OutputError(Problem(place, str(error), "make room for the PDF")) from None


def _check_whole(drawn: Path) -> None:
    """OSError if cairo, which says nothing of it, could not write all of its file."""
    if not drawn.read_bytes().endswith(b"%%EOF\n"):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), str(drawn.parent))


def _draw(book: Book, proofs: list[Proof], output: Path) -> list[TagRecord]:
    """All pages on one surface. Past a page that can't be drawn the rest is only tried out."""
    problems: list[Problem] = []
    press = _Press(str(output))
    for proof in proofs:
        try:
            press.page(proof)
        except PageError as error:
            problems.append(problem_of(proof.page, error))
            press = _Press(None)
        except BROKEN as error:
            press.abandon()
            if isinstance(error, OSError):
                raise
            problems.append(broken_page(proof.page, error))
            press = _Press(None)
    if problems:
        raise TemplateError(*problems)
    return _bind(book, press)


def _bind(book: Book, press: _Press) -> list[TagRecord]:
    """Add the outline and close the file."""
    try:
        press.bookmarks(book)
        press.finish()
    except BROKEN as error:
        press.abandon()
        if isinstance(error, OSError):
            raise
        what = f"the pages can't be put together: {error}"
        raise TemplateError(Problem(Place(book.title), what, "look at the tags")) from None
    return press.tagger.records


class _Press:
    """A cairo PDF surface with its one context, on which page follows page."""

    def __init__(self, output: str | None) -> None:
        self.surface = _surface(output)
        self.context = cairocffi.Context(self.surface)
        set_up(self.context)
        self.tagger = Tagger(self.context)
        self.begun = False

    def page(self, proof: Proof) -> None:
        page, context = proof.page, self.context
        self.surface.set_size(page.width_mm * PT_PER_MM, page.height_mm * PT_PER_MM)
        if not self.begun:  # a size set later would take the tag away again
            context.tag_begin("Document")
            self.begun = True
        self.surface.set_page_label(page.label)
        context.save()
        to_scale(context, proof, PT_PER_MM)
        Canvas(context, self.tagger, proof.root, proof.runs).draw_page()
        context.restore()
        context.show_page()

    def bookmarks(self, book: Book) -> None:
        """The outline: each line stands under the last one of a lower level."""
        above = [(0, cairocffi.PDF_OUTLINE_ROOT)]
        for bookmark in book.bookmarks:
            level = max(bookmark.level, 1)
            while above[-1][0] >= level:
                above.pop()
            target = f"dest='{place_name(bookmark.target)}'"
            flags = cairocffi.PDF_OUTLINE_FLAG_OPEN if len(above) == 1 else 0
            parent = above[-1][1]
            line = self.surface.add_outline(parent, bookmark.title, target, flags)
            above.append((level, line))

    def abandon(self) -> None:
        """Leave the surface as it is: cairo 1.16 can crash when it takes down a broken one."""
        for owned in (self.context, self.surface):
            cairocffi.ffi.gc(owned._pointer, None)

    def finish(self) -> None:
        self.context.tag_end("Document")
        self.surface.finish()


def _surface(output: str | None) -> Any:
    """A PDF surface that writes its streams as they are."""
    before = os.environ.get(_PLAIN_STREAMS)
    os.environ[_PLAIN_STREAMS] = "1"
    try:
        return cairocffi.PDFSurface(output, 1, 1)
    finally:
        if before is None:
            del os.environ[_PLAIN_STREAMS]
        else:
            os.environ[_PLAIN_STREAMS] = before
