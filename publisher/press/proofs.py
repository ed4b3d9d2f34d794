"""Read a book's pages for printing: trees and texts, with all that is wrong told at once."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from publisher.book import Book, Page
from publisher.errors import FontError, Place, Problem, TemplateError
from publisher.fonts import FACES
from publisher.press.binding import cairocffi
from publisher.press.paths import numbers
from publisher.press.text import Run, set_runs
from publisher.press.tree import Node, PageError, read_tree

_SIZE_TOLERANCE_MM = 0.05
_TEXT_SHOWN = 60
BROKEN = (cairocffi.CairoError, ArithmeticError, MemoryError, OSError)
"""What cairo and its binding raise for a page that is beyond them, or a disk that is full."""


@dataclass(slots=True)
class Proof:
    """A page that was read: its tree, its texts, the names it defines and those it leads to."""

    page: Page
    root: Node
    runs: dict[Node, list[Run]] = field(default_factory=dict)
    places: list[tuple[str, int]] = field(default_factory=list)
    links: list[tuple[str, int]] = field(default_factory=list)


def read_proofs(book: Book) -> list[Proof]:
    """A book's pages, ready to be drawn. TemplateError or FontError for what can't be."""
    proofs = _read(book)
    _check_places(book, proofs)
    _check_glyphs(proofs)
    return proofs


def _read(book: Book) -> list[Proof]:
    """Every page's tree and texts; all that is wrong with any page is raised together."""
    proofs, problems = [], []
    for page in book.pages:
        try:
            proof = Proof(page, read_tree(page.svg))
            _survey(proof, proof.root)
            proofs.append(proof)
        except PageError as error:
            problems.append(problem_of(page, error))
    if not book.pages:
        problems.append(Problem(Place(book.title), "the book has no page", "give it one"))
    if problems:
        raise TemplateError(*problems)
    return proofs


def _survey(proof: Proof, node: Node) -> None:
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


def _check_places(book: Book, proofs: list[Proof]) -> None:
    """Every link and bookmark leads somewhere, and no two places have one name."""
    places: dict[str, Page] = {}
    problems = []
    for proof in proofs:
        for name, line in proof.places:
            if name in places:
                what = f"the place “{name}” is on page {places[name].label} too"
                problems.append(problem_of(proof.page, PageError(what, "rename one", line)))
            places[name] = proof.page
    for proof in proofs:
        for name, line in proof.links:
            if name not in places:
                error = PageError(f"a link leads to “{name}”", "no data-dest has that name", line)
                problems.append(problem_of(proof.page, error))
    for bookmark in book.bookmarks:
        if bookmark.target not in places:
            what = f"the bookmark “{bookmark.title}” leads to “{bookmark.target}”"
            problems.append(Problem(Place(book.title), what, "no data-dest has that name"))
    if problems:
        raise TemplateError(*problems)


def _check_glyphs(proofs: list[Proof]) -> None:
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


def set_up(context: Any) -> None:
    """Letters as the font has them, corners as SVG has them."""
    options = cairocffi.FontOptions()
    options.set_hint_metrics(cairocffi.HINT_METRICS_OFF)
    options.set_hint_style(cairocffi.HINT_STYLE_NONE)
    context.set_font_options(options)
    context.set_miter_limit(4)  # SVG's own, where cairo's is 10


def to_scale(context: Any, proof: Proof, units_per_mm: float) -> None:
    """Scale the SVG's viewBox to the page, in a surface's own units."""
    root, page = proof.root, proof.page
    box = numbers(root.own.get("viewBox", f"0 0 {page.width_mm} {page.height_mm}"))
    if len(box) != 4 or box[2] <= 0 or box[3] <= 0:
        raise PageError("the viewBox is not four numbers", "write 0 0 WIDTH HEIGHT", root.line)
    left, top, width, height = box
    scale = page.width_mm / width
    if abs(height * scale - page.height_mm) > _SIZE_TOLERANCE_MM:
        what = f"the viewBox is {width:g} × {height:g}"
        hint = f"make it {page.width_mm:g} × {page.height_mm:g}, as the paper is"
        raise PageError(what, hint, root.line)
    context.scale(scale * units_per_mm, scale * units_per_mm)
    context.translate(-left, -top)


def problem_of(page: Page, error: PageError) -> Problem:
    return Problem(Place(f"page {page.label}", error.line or None), error.message, error.hint)


def broken_page(page: Page, error: Exception) -> Problem:
    """What to say of a page that cairo gave up."""
    what = f"it can't be drawn: {error}"
    return problem_of(page, PageError(what, "look for numbers out of bounds"))
