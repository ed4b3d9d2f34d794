"""Draw a book's pages one by one, with all that is wrong with any told at once."""

from __future__ import annotations

from dataclasses import dataclass, field

from publisher.book import Book, Page
from publisher.errors import FontError, Place, Problem, TemplateError
from publisher.fonts import FACES
from publisher.press.canvas import Canvas
from publisher.press.content import Content, Needs
from publisher.press.matrix import Matrix
from publisher.press.papers import PT_PER_MM
from publisher.press.paths import numbers
from publisher.press.tags import Tagger, Told
from publisher.press.tree import Node, PageError, read_tree

_SIZE_TOLERANCE_MM = 0.05
_TEXT_SHOWN = 60


@dataclass(frozen=True, slots=True)
class Drawn:
    """A page as it goes into the file: its operators, what they name, and what it tells.
    `missing`: (face, character, text) of what has no glyph."""

    operators: bytes
    needs: Needs
    told: Told
    missing: list[tuple[str, str, str]] = field(default_factory=list)


def draw_pages(book: Book) -> list[Drawn]:
    """A book's pages. TemplateError or FontError for what can't be drawn."""
    drawn, problems = [], []
    for page in book.pages:
        try:
            drawn.append(_draw(page))
        except PageError as error:
            problems.append(_problem(page, error))
    if not book.pages:
        problems.append(Problem(Place(book.title), "the book has no page", "give it one"))
    if problems:
        raise TemplateError(*problems)
    _check_places(book, drawn)
    _check_glyphs(book, drawn)
    return drawn


def _draw(page: Page) -> Drawn:
    """A page's content. PageError, with the line, if it can't be drawn."""
    root = read_tree(page.svg)
    needs, told = Needs(), Told()
    content = Content(needs)
    to_points = Matrix(PT_PER_MM, 0.0, 0.0, -PT_PER_MM, 0.0, page.height_mm * PT_PER_MM)
    content.push()
    content.write_matrix(to_points)
    content.transform(_page_matrix(page, root))
    canvas = Canvas(content, Tagger(content, told), root)
    canvas.draw_page()
    content.pop()
    return Drawn(content.text().encode("latin-1"), needs, told, canvas.setter.missing)


def _check_places(book: Book, drawn: list[Drawn]) -> None:
    """Every link and bookmark leads somewhere, and no two places have one name."""
    places: dict[str, Page] = {}
    problems = []
    for page, found in zip(book.pages, drawn, strict=True):
        for name, line, *_ in found.told.places:
            if name in places:
                what = f"the place “{name}” is on page {places[name].label} too"
                problems.append(_problem(page, PageError(what, "rename one", line)))
            places[name] = page
    for page, found in zip(book.pages, drawn, strict=True):
        for name, line in found.told.targets:
            if name not in places:
                error = PageError(f"a link leads to “{name}”", "no data-dest has that name", line)
                problems.append(_problem(page, error))
    for bookmark in book.bookmarks:
        if bookmark.target not in places:
            what = f"the bookmark “{bookmark.title}” leads to “{bookmark.target}”"
            problems.append(Problem(Place(book.title), what, "no data-dest has that name"))
    if problems:
        raise TemplateError(*problems)


def _check_glyphs(book: Book, drawn: list[Drawn]) -> None:
    """No text has a character that its font lacks; each such character is named at its first."""
    problems: dict[tuple[str, str], Problem] = {}
    for page, found in zip(book.pages, drawn, strict=True):
        for face, character, text in found.missing:
            problem = _without_glyph(page, face, character, text)
            problems.setdefault((face, character), problem)
    if problems:
        raise FontError(*problems.values())


def _without_glyph(page: Page, face: str, character: str, text: str) -> Problem:
    shown_text = text if len(text) <= _TEXT_SHOWN else text[:_TEXT_SHOWN] + "…"
    shown = character.encode("utf-8", "replace").decode()
    what = f"{FACES[face].family} has no “{shown}” (U+{ord(character):04X}) for “{shown_text}”"
    return Problem(Place(f"page {page.label}"), what, "write it with other characters")


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
    return Problem(Place(f"page {page.label}", error.line or None), error.message, error.hint)
