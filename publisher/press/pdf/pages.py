"""Draw a book's pages one by one, with all that is wrong with any told at once."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field

from publisher.compression import deflated
from publisher.errors import FontError, Place, Problem, TemplateError
from publisher.fonts import FACES
from publisher.frozen import frozen
from publisher.model.book import Book, Page, origin_of
from publisher.press.papers import PT_PER_MM
from publisher.press.pdf.canvas import Forms, PageCanvas
from publisher.press.pdf.content import ContentStream, Resources
from publisher.press.pdf.fragments import BodyPlace, Fragment, body_place, draw_body
from publisher.press.pdf.tags import PageInfo, Tagger
from publisher.press.svg.matrix import Matrix
from publisher.press.svg.paths import numbers
from publisher.press.svg.tree import Node, PageError, read_tree
from publisher.store import NO_STORE, Store

_SIZE_TOLERANCE_MM = 0.05
_TEXT_SHOWN = 60


@frozen
class DrawnPage:
    """A page as it goes into the file: its operators, deflated, in one stream or more; what they
    name, and what the page tells. `missing`: (face, character, text) of what has no glyph."""

    streams: tuple[bytes, ...]
    needs: Resources
    told: PageInfo
    missing: list[tuple[str, str, str]]


def draw_pages(book: Book, store: Store = NO_STORE) -> Iterator[tuple[Page, DrawnPage]]:
    """A book's pages, each as it is drawn: those of a long book are never all in memory.

    TemplateError or FontError for what can't be drawn, of all pages, after the last.
    """
    found, forms = _Found(), Forms()
    for page in book.pages:
        try:
            drawn = _draw(page, forms, store)
        except PageError as error:
            found.problems.append(_problem(page, error))
            continue
        found.note(page, drawn)
        yield page, drawn
    found.check(book)


def _draw(page: Page, forms: Forms, store: Store) -> DrawnPage:
    """A page's content. PageError, with the line, if it can't be drawn."""
    if page.origins:
        return _Sheet(page, forms, store, read_tree(page.svg, by_byte=True)).drawn()
    if page.body and "url(#" not in page.body:  # a frame may define what that leads to
        with suppress(PageError):  # it may rest on its frame, and the line is the whole page's
            place = body_place(read_tree(page.frame))
            if place is not None:
                return _Sheet(page, forms, store, place.root, place).drawn()
    return _Sheet(page, forms, store, read_tree(page.svg)).drawn()


class _Sheet:
    """A page that is being drawn. Its body, if it has one, is drawn first, or known already: so
    its marks have the first numbers, whatever stands around it."""

    def __init__(
        self,
        page: Page,
        forms: Forms,
        store: Store,
        root: Node,
        place: BodyPlace | None = None,
    ) -> None:
        self._page, self._forms, self._root = page, forms, root
        self._body: Fragment | None = None
        self._streams: list[bytes] = []
        self._needs, self._told = Resources(), PageInfo()
        self._missing: list[tuple[str, str, str]] = []
        matrix = _page_matrix(page, root)
        if place is not None:
            self._body = draw_body(page.body, place, matrix, forms, store)
            self._needs.add(self._body.needs)
            self._told.marks += self._body.told.marks
            self._missing += self._body.missing
        self._content = ContentStream(self._needs)
        height = page.height_mm * PT_PER_MM
        self._content.push()
        self._content.write_matrix(Matrix(PT_PER_MM, 0.0, 0.0, -PT_PER_MM, 0.0, height))
        self._content.transform(matrix)

    def drawn(self) -> DrawnPage:
        tagger = Tagger(self._content, self._told)
        canvas = PageCanvas(self._content, tagger, self._root, self._forms, self._lay_body)
        canvas.draw_page()
        self._content.pop()
        self._cut()
        missing = [*self._missing, *canvas.setter.missing]
        return DrawnPage(tuple(self._streams), self._needs, self._told, missing)

    def _lay_body(self, canvas: PageCanvas, node: Node) -> None:
        if self._body is not None:
            canvas.tagger.hold(self._body.told, node.line)
            canvas.content.opaque()
            self._cut()
            self._streams.append(self._body.stream)

    def _cut(self) -> None:
        """Make a stream of what was written so far."""
        self._streams.append(deflated(self._content.text().encode("latin-1")))


@dataclass(slots=True)
class _Found:
    """The resources that a book's pages name, and what is wrong with them."""

    problems: list[Problem] = field(default_factory=list)
    twins: list[Problem] = field(default_factory=list)
    places: dict[str, Page] = field(default_factory=dict)
    targets: list[tuple[Page, str, int]] = field(default_factory=list)
    missing: dict[tuple[str, str], Problem] = field(default_factory=dict)
    """By face and character, named where it is met first."""

    def note(self, page: Page, drawn: DrawnPage) -> None:
        for name, line, *_ in drawn.told.places:
            if name in self.places:
                what = f"the place “{name}” is on page {self.places[name].label} too"
                self.twins.append(_problem(page, PageError(what, "rename one", line)))
            self.places[name] = page
        self.targets += [(page, name, line) for name, line in drawn.told.targets]
        for face, character, text in drawn.missing:
            if (face, character) not in self.missing:
                self.missing[face, character] = _without_glyph(page, face, character, text)

    def check(self, book: Book) -> None:
        """Every page is drawn, every link and bookmark leads somewhere, no two places have one
        name, and no text has a character that its font lacks."""
        if not book.pages:
            problem = Problem(Place(book.title), "the book has no page", "give it one")
            self.problems.append(problem)
        if self.problems:
            raise TemplateError(*self.problems)
        astray = [*self.twins, *self._astray(book)]
        if astray:
            raise TemplateError(*astray)
        if self.missing:
            raise FontError(*self.missing.values())

    def _astray(self, book: Book) -> Iterator[Problem]:
        for page, name, line in self.targets:
            if name not in self.places:
                error = PageError(f"a link leads to “{name}”", "no data-dest has that name", line)
                yield _problem(page, error)
        for bookmark in book.bookmarks:
            if bookmark.target not in self.places:
                what = f"the bookmark “{bookmark.title}” leads to “{bookmark.target}”"
                yield Problem(Place(book.title), what, "no data-dest has that name")


def _without_glyph(page: Page, face: str, character: str, text: str) -> Problem:
    shown_text = text if len(text) <= _TEXT_SHOWN else text[:_TEXT_SHOWN] + "…"
    shown = character.encode("utf-8", "replace").decode()
    what = f"{FACES[face].family} has no “{shown}” (U+{ord(character):04X}) for “{shown_text}”"
    written = (origin.place for origin in page.origins if character in origin.written)
    place = next(filter(None, written), Place(f"page {page.label}"))
    return Problem(place, what, "write it with other characters")


def _page_matrix(page: Page, root: Node) -> Matrix:
    """From the units of the SVG's viewBox to mm from the page's top left."""
    box = numbers(root.own.get("viewBox", f"0 0 {page.width_mm} {page.height_mm}"))
    if len(box) != 4 or box[2] <= 0 or box[3] <= 0:
        raise PageError("the viewBox is not four numbers", "write 0 0 WIDTH HEIGHT", root.line)
    left, top, width, height = box
    scale = page.width_mm / width
    if abs(height * scale - page.height_mm) > _SIZE_TOLERANCE_MM:
        what = f"the viewBox is {width:g} × {height:g}"
        hint = f"make it {page.width_mm:g} × {page.height_mm:g}, as the paper is"
        raise PageError(what, hint, root.line)
    return Matrix(scale, 0.0, 0.0, scale, -left * scale, -top * scale)


def _problem(page: Page, error: PageError) -> Problem:
    """Return where it is wrong: the line of the template if the page knows it, else that of the
    page."""
    place, line = origin_of(page.origins, error.line), error.line
    if page.origins:
        line = page.svg.encode("utf-8", "surrogatepass").count(b"\n", 0, error.line) + 1
    return Problem(place or Place(f"page {page.label}", line or None), error.message, error.hint)
