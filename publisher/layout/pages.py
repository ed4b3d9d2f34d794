"""Lay out the pages of a book: sheets first, then page numbers, then pages as SVG."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cache
from typing import Any

from markupsafe import Markup

from publisher.drawing import draw_swatch
from publisher.layout.context import LayoutContext
from publisher.layout.flow import title_note
from publisher.layout.lines import one_line, shortened, text_width
from publisher.layout.render import Ink, draw_boxes, style_numbers
from publisher.layout.sheets import Sheet, lay_sections
from publisher.layout.templating import Blocks, blocks_of
from publisher.manuscript.blocks import Manuscript
from publisher.model.book import BODY, Book, Bookmark, Page
from publisher.model.figure import Figure
from publisher.store import NO_STORE, Store
from publisher.templates import Templates

_HEADER_SHARE = 0.6  # of the width, for the running title
_HEADER_GAP_MM = 4.0


def lay_out_pages(
    manuscript: Manuscript,
    templates: Templates,
    blocks_of: Callable[[Templates, Mapping[str, Any]], Blocks] = blocks_of,
    store: Store = NO_STORE,
) -> Book:
    """Lay out every page. TemplateError where a template is wrong."""
    context = LayoutContext(manuscript, store)
    sheets = list(lay_sections(manuscript.sections, context))
    pages = {target: number for number, sheet in enumerate(sheets, 1) for target in sheet.targets}
    also = {name: section.name for section in manuscript.sections for name in section.also}
    pages |= {name: pages[section] for name, section in also.items()}
    blocks = blocks_of(templates, _context(context, pages, also))
    bookmarks = tuple(_bookmarks(manuscript, sheets, also))
    return Book(
        pages=tuple(_pages(sheets, context, blocks)),
        bookmarks=bookmarks,
        title=manuscript.title,
        author=manuscript.author,
        subject=manuscript.subject,
        keywords=manuscript.keywords,
        language=manuscript.language,
        date=manuscript.date,
    )


def _context(context: LayoutContext, pages: dict[str, int], also: dict[str, str]) -> dict[str, Any]:
    """Return what templates can name."""
    look = context.look
    ink = Ink(look, pages, also)
    colours = {colour.letter: colour for colour in context.colours}

    @cache
    def cell(letter: str, size: float) -> Figure:
        """Drawn once for the whole book, however many pages name the colour."""
        return draw_swatch(colours[letter], context.colours, look, 4.6 * size, 4.2 * size)

    def swatch(letter: str, x: float, middle: float, size: float = 1.0) -> Markup:
        """A colour's cell and sign, from x on, with its middle on a line."""
        figure = cell(letter, size)
        y = middle - figure.height_mm / 2
        place = f'transform="translate({x:.2f} {y:.2f})"'
        return Markup(f'<g data-tag="Artifact" {place}>{figure.svg}</g>')

    def font(role: str, colour: str = "") -> Markup:
        """The attributes of a role's type."""
        return Markup(ink.font(look.type[role].face, role, colour))

    def span(text: str, role: str) -> float:
        """The width of a text in a role's type, in mm."""
        return text_width(text, look.type[role])

    return {
        **style_numbers(look),
        "ink": ink,
        "swatch": swatch,
        "font": font,
        "span": span,
        "words": context.words,
    }


def _pages(sheets: list[Sheet], context: LayoutContext, blocks: Blocks) -> Iterator[Page]:
    """Each sheet as a page; it is let go then, so that a long book is not in memory twice."""
    count = len(sheets)
    sheets.reverse()
    for number in range(1, count + 1):
        yield _page(sheets.pop(), number, count, context, blocks)


def _page(sheet: Sheet, number: int, count: int, context: LayoutContext, blocks: Blocks) -> Page:
    manuscript, paper = context.manuscript, context.look.paper
    small, width = context.style("furniture"), paper.text_width_mm
    title = shortened(manuscript.title, small, width * _HEADER_SHARE)
    words = context.words
    imprint = words["imprint" if manuscript.house else "imprint_unsigned"].format(
        house=manuscript.house, version=manuscript.version, edition=manuscript.edition
    )
    body = draw_boxes(sheet.placed, blocks)
    frame = blocks.page(
        sheet.page,
        body=Markup(BODY if body else ""),
        title=sheet.title,
        note=title_note(sheet.note, sheet.title, context).text,
        running=shortened(sheet.running, small, width - title.width_mm - _HEADER_GAP_MM),
        running_title=title,
        imprint=shortened(imprint, small, context.look.frame.imprint_mm),
        page_number=one_line(
            words["page_number"].format(page=number, pages=count), small, strong=True
        ),
        target=sheet.section if sheet.opens_section else "",
        first_page=sheet.opens_section,
    )
    return Page(frame, paper.width_mm, paper.height_mm, str(number), body)


def _bookmarks(
    manuscript: Manuscript, sheets: Sequence[Sheet], also: dict[str, str]
) -> Iterator[Bookmark]:
    """A line a section, and below it what the section names."""
    titles = {
        sheet.section: " ".join(line.text for line in sheet.title)
        for sheet in reversed(sheets)
        if sheet.opens_section
    }
    for section in manuscript.sections:
        title = section.bookmark or titles.get(section.name) or section.title or manuscript.title
        yield Bookmark(title, section.name, 1)
        for words, target in section.bookmarks:
            yield Bookmark(words, also.get(target, target), 2)
