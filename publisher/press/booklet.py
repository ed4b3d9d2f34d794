"""Print a book: every page on one cairo PDF surface, tagged, then finished to an accessible PDF."""

from __future__ import annotations

import errno
import gc
import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import cairocffi

from publisher.book import Book, Page
from publisher.errors import FontError, OutputError, Place, Problem, TemplateError
from publisher.fonts import FACES
from publisher.press.canvas import Canvas
from publisher.press.finishing import finish
from publisher.press.papers import PT_PER_MM
from publisher.press.paths import numbers
from publisher.press.tags import Tagger, TagRecord, place_name
from publisher.press.text import Run, set_runs
from publisher.press.tree import Node, PageError, read_tree

_SIZE_TOLERANCE_MM = 0.05
_TEXT_SHOWN = 60
_BROKEN = (cairocffi.CairoError, ArithmeticError, MemoryError, OSError)
"""What cairo and its binding raise for a page that is beyond them, or a disk that is full."""


@dataclass(slots=True)
class _Proof:
    """A page that was read: its tree, its texts, the names it defines and those it leads to."""

    page: Page
    root: Node
    runs: dict[Node, list[Run]] = field(default_factory=dict)
    places: list[tuple[str, int]] = field(default_factory=list)
    links: list[tuple[str, int]] = field(default_factory=list)


def print_book(book: Book) -> bytes:
    """A laid-out book → a PDF, tagged for PDF/UA-1, the same to the byte wherever it is made.

    TemplateError names what is wrong on which page; FontError, the characters no font has.
    OutputError if there is no room for the file that cairo draws into.
    """
    with _uncollected():
        proofs = _read(book)
        _check_places(book, proofs)
        _check_glyphs(proofs)
        return _print(book, proofs)


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


def _print(book: Book, proofs: list[_Proof]) -> bytes:
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


def _read(book: Book) -> list[_Proof]:
    """Every page's tree and texts; all that is wrong with any page is raised together."""
    proofs, problems = [], []
    for page in book.pages:
        try:
            proof = _Proof(page, read_tree(page.svg))
            _survey(proof, proof.root)
            proofs.append(proof)
        except PageError as error:
            problems.append(_problem(page, error))
    if not book.pages:
        problems.append(Problem(Place(book.title), "the book has no page", "give it one"))
    if problems:
        raise TemplateError(*problems)
    return proofs


def _survey(proof: _Proof, node: Node) -> None:
    if node.own:
        if "data-dest" in node.own:
            proof.places.append((node.own["data-dest"], node.line))
        target = node.own.get("data-href", "")
        if target.startswith("#"):
            proof.links.append((target[1:], node.line))
    if node.name == "text":
        try:
            proof.runs[node] = set_runs(node)
        except PageError as error:
            error.line = error.line or node.line
            raise
    for child in node.children:
        _survey(proof, child)


def _check_places(book: Book, proofs: list[_Proof]) -> None:
    """Every link and bookmark leads somewhere, and no two places have one name."""
    places: dict[str, Page] = {}
    problems = []
    for proof in proofs:
        for name, line in proof.places:
            if name in places:
                what = f"the place “{name}” is on page {places[name].label} too"
                problems.append(_problem(proof.page, PageError(what, "rename one", line)))
            places[name] = proof.page
    for proof in proofs:
        for name, line in proof.links:
            if name not in places:
                error = PageError(f"a link leads to “{name}”", "no data-dest has that name", line)
                problems.append(_problem(proof.page, error))
    for bookmark in book.bookmarks:
        if bookmark.target not in places:
            what = f"the bookmark “{bookmark.title}” leads to “{bookmark.target}”"
            problems.append(Problem(Place(book.title), what, "no data-dest has that name"))
    if problems:
        raise TemplateError(*problems)


def _check_glyphs(proofs: list[_Proof]) -> None:
    """No text has a character that its font lacks; each such character is named at its first."""
    problems: dict[tuple[str, str], Problem] = {}
    for proof in proofs:
        for runs in proof.runs.values():
            for run in runs:
                for character in run.missing:
                    problem = _without_glyph(proof.page, run, character)
                    problems.setdefault((run.face, character), problem)
    if problems:
        raise FontError(*problems.values())


def _without_glyph(page: Page, run: Run, character: str) -> Problem:
    text = run.text if len(run.text) <= _TEXT_SHOWN else run.text[:_TEXT_SHOWN] + "…"
    shown = character.encode("utf-8", "replace").decode()
    what = f"{FACES[run.face].family} has no “{shown}” (U+{ord(character):04X}) for “{text}”"
    return Problem(Place(f"page {page.label}"), what, "write it with other characters")


def _draw(book: Book, proofs: list[_Proof], output: Path) -> list[TagRecord]:
    """All pages on one surface. Past a page that can't be drawn the rest is only tried out."""
    problems: list[Problem] = []
    press = _Press(str(output))
    for proof in proofs:
        try:
            press.page(proof)
        except PageError as error:
            problems.append(_problem(proof.page, error))
            press = _Press(None)
        except _BROKEN as error:
            press.abandon()
            if isinstance(error, OSError):
                raise
            what = f"it can't be drawn: {error}"
            problems.append(_problem(proof.page, PageError(what, "look for numbers out of bounds")))
            press = _Press(None)
    if problems:
        raise TemplateError(*problems)
    return _bind(book, press)


def _bind(book: Book, press: _Press) -> list[TagRecord]:
    """Add the outline and close the file."""
    try:
        press.bookmarks(book)
        press.finish()
    except _BROKEN as error:
        press.abandon()
        if isinstance(error, OSError):
            raise
        what = f"the pages can't be put together: {error}"
        raise TemplateError(Problem(Place(book.title), what, "look at the tags")) from None
    return press.tagger.records


class _Press:
    """A cairo PDF surface with its one context, on which page follows page."""

    def __init__(self, output: str | None) -> None:
        self.surface = cairocffi.PDFSurface(output, 1, 1)
        self.context = cairocffi.Context(self.surface)
        options = cairocffi.FontOptions()
        options.set_hint_metrics(cairocffi.HINT_METRICS_OFF)
        options.set_hint_style(cairocffi.HINT_STYLE_NONE)
        self.context.set_font_options(options)
        self.context.set_miter_limit(4)  # SVG's own, where cairo's is 10
        self.tagger = Tagger(self.context)
        self.begun = False

    def page(self, proof: _Proof) -> None:
        page, context = proof.page, self.context
        self.surface.set_size(page.width_mm * PT_PER_MM, page.height_mm * PT_PER_MM)
        if not self.begun:  # a size set later would take the tag away again
            context.tag_begin("Document")
            self.begun = True
        self.surface.set_page_label(page.label)
        context.save()
        context.scale(PT_PER_MM, PT_PER_MM)
        _fit(context, proof.root, page)
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


def _fit(context: Any, root: Node, page: Page) -> None:
    """Scale the SVG's viewBox to the page."""
    box = numbers(root.own.get("viewBox", f"0 0 {page.width_mm} {page.height_mm}"))
    if len(box) != 4 or box[2] <= 0 or box[3] <= 0:
        raise PageError("the viewBox is not four numbers", "write 0 0 WIDTH HEIGHT", root.line)
    left, top, width, height = box
    scale = page.width_mm / width
    if abs(height * scale - page.height_mm) > _SIZE_TOLERANCE_MM:
        what = f"the viewBox is {width:g} × {height:g}"
        hint = f"make it {page.width_mm:g} × {page.height_mm:g}, as the paper is"
        raise PageError(what, hint, root.line)
    context.scale(scale, scale)
    context.translate(-left, -top)


def _problem(page: Page, error: PageError) -> Problem:
    return Problem(Place(f"page {page.label}", error.line or None), error.message, error.hint)
