"""What a screen reader reads of a printed book is the manuscript: all of it, in its order, word for
word (ISO 32000-1, 14.8.2.5: the breaks between words are in the text, also where a line ends).

The printed text is taken from the structure tree by pdfium.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from publisher.manuscript import blocks
from publisher.manuscript.blocks import Block, Manuscript, Section, Text
from publisher.manuscript.edition import edition_form
from publisher.manuscript.markup import with_pages
from tests.support.printed import Element, elements, opened
from tests.support.shop import SLUGS, demo, demo_pdf, installed, manuscript

BOOKS = (
    ("tide-lines", "booklet", "a4"),
    ("tide-lines", "booklet", "letter"),
    ("tide-lines", "handout", "a4"),
    ("tide-lines", "large-print", "a4"),
    ("tide-lines", "left-handed", "letter"),
    ("kingfisher-over-reeds", "ink-saver", "a4"),
    ("boats-at-the-weir", "booklet", "a4"),
    ("lock-keepers-key-cord", "large-print", "letter"),
    ("lock-keepers-key-cord", "booklet", "a4"),
)
EVERY_BOOK = [
    (slug, edition, paper)
    for slug in (*SLUGS, "lock-keepers-key-cord")
    for edition in installed().names("editions")
    if edition_form(installed(), edition) == "pages"
    for paper in ("a4", "letter")
]
PAGE = "\x02"  # where the number of a page will stand
ROLE = re.compile(r"H[1-6]")


def said(block: Block) -> Iterator[str]:
    """The words of a block, in reading order, as its template sets them."""
    match block:
        case blocks.Heading():
            yield from (block.text, block.lead_in)
        case blocks.Paragraph():
            yield plain(block.text)
        case blocks.Items():
            for number, text in enumerate(block.items, 1):
                yield from (str(number) if block.numbered else "–", plain(text))
        case blocks.Facts():
            for term, values in block.facts:
                yield from (term, *map(paged, values))
        case blocks.Table():
            for column in block.columns:
                yield from (column.title, column.unit)
            for row in block.rows:
                for cell in row.cells:
                    yield from (paged(cell.text), paged(cell.second))
        case blocks.RowEntry():
            yield f"{block.row} {'→' if block.start == 'left' else '←'} {plain(block.runs)}"
            notes = [(str(note.cord), plain(note.text)) for note in block.notes]
            if block.run_in:
                yield "; ".join(f"{cord} {words}" for cord, words in notes)
            else:
                yield from (words for note in notes for words in note)
        case blocks.Strip():
            for picture in block.pictures:
                yield from map(plain, (picture.words, *picture.more))
        case blocks.Picture():
            yield from map(plain, (block.words, *block.more))
        case blocks.Beside():
            for part in block.parts:
                for inner in part:
                    yield from said(inner)
        case blocks.Caution():
            yield from (block.heading, *map(plain, block.items))
        case blocks.Contents():
            for title, _ in block.entries:
                yield from (title, PAGE)
        case blocks.Chart():
            pass  # its rows say the same in words
        case blocks.BackMap():
            for inner in block.beside:
                yield from said(inner)
        case blocks.Cover():
            yield from (block.title, block.subtitle)
            for term, values in block.facts:
                yield from (term, *values)
            yield from (block.house, plain(block.line))


def paged(words: str) -> str:
    return plain(with_pages(words))


def plain(text: Text) -> str:
    return "".join(PAGE if span.page_of else span.text for span in text)


def written(book: Manuscript) -> Iterator[str]:
    """Everything that the manuscript says, but the titles of pages."""
    for section in book.sections:
        yield section.note
        for block in (*section.lead, *section.body):
            yield from said(block)


def bare(text: str) -> str:
    """Words with one blank between them."""
    return " ".join(text.split())


def printed(slug: str, edition: str, paper: str) -> tuple[list[str], list[str]]:
    """The titles of the pages, and all other texts in the order of the structure tree, but for
    the titles of sections that begin below others."""
    titles, texts = [], []
    has_cover = manuscript(demo(slug), edition, paper).sections[0].page == "cover"
    with opened(demo_pdf(slug, edition, paper)) as document:
        for number, page in enumerate(document, 1):
            found = [one for one in elements(page) if not is_in_figure(one)]
            titled = found and ROLE.fullmatch(found[0].role)
            is_cover = has_cover and number == 1
            if titled and not is_cover:
                titles.append(bare(found.pop(0).text))
            texts += [bare(one.text) for one in found if one.role != "H1" or is_cover]
    return titles, texts


def title_pattern(section: Section) -> str:
    """Any title of a section's pages."""
    titles = [section.title, section.title_later, section.title_one]
    for block in section.body:
        if isinstance(block, blocks.Chart):
            heads = (words for key, words in block.titles.items() if key.startswith("title"))
            titles += (*heads, block.titles["key"])
    known = (re.sub(r"\\{\w+\\}", r"\\d+", re.escape(bare(title))) for title in titles if title)
    return "|".join(f"(?:{one})" for one in known)


def is_in_figure(element: Element) -> bool:
    return "Figure" in (element.role, *element.above)


def furniture(book: Manuscript) -> set[str]:
    """What may be printed again and again: keys under charts and rows, heads of tables."""
    again: set[str] = set()
    for section in book.sections:
        for block in (*section.foot, *flattened(section)):
            if isinstance(block, blocks.ColourLine):
                names = {colour.letter: colour.name for colour in book.colours}
                again |= {f"{letter} {names[letter]}" for letter in block.letters}
            elif isinstance(block, blocks.Table):
                again |= {text for c in block.columns for text in (c.title, c.unit)}
                groups = (row for row in block.rows if row.kind == "group")
                again |= {cell.text for row in groups for cell in row.cells}
            elif isinstance(block, blocks.Chart):
                again |= {block.titles["key"], plain(block.key_lead)}
                again |= {f"{colour.letter} {colour.name}" for colour in book.colours}
    return {bare(text) for text in again if text}


def flattened(section: Section) -> Iterator[Block]:
    for block in section.body:
        yield block
        if isinstance(block, blocks.Beside):
            yield from (inner for part in block.parts for inner in part)


@pytest.mark.parametrize(("slug", "edition", "paper"), EVERY_BOOK)
def test_a_screen_reader_reads_the_whole_manuscript_in_order(
    slug: str, edition: str, paper: str
) -> None:
    book = manuscript(demo(slug), edition, paper)
    _, texts = printed(slug, edition, paper)
    stream, at, between = " ".join(filter(None, texts)), 0, []
    for words in filter(None, map(bare, written(book))):
        pattern = r"\d+".join(map(re.escape, words.split(PAGE)))
        found = re.compile(rf"(?<!\S){pattern}(?!\S)").search(stream, at)
        assert found, f"{words!r} is not read after {stream[max(0, at - 80) : at]!r}"
        between.append(stream[at : found.start()])
        at = found.end()
    between.append(stream[at:])
    again = "|".join(
        re.escape(text).replace(PAGE, r"\d+")
        for text in sorted(furniture(book), key=len, reverse=True)
    )
    for extra in filter(None, map(bare, between)):
        assert again and re.fullmatch(f"(?:(?:{again})(?: |$))*", extra), (
            f"{extra!r} is read besides"
        )


@pytest.mark.parametrize(("slug", "edition", "paper"), BOOKS)
def test_every_page_but_the_cover_has_a_title_of_its_section(
    slug: str, edition: str, paper: str
) -> None:
    book = manuscript(demo(slug), edition, paper)
    titles, _ = printed(slug, edition, paper)
    with opened(demo_pdf(slug, edition, paper)) as document:
        assert len(titles) == len(document) - (book.sections[0].page == "cover")
    pattern = "|".join(filter(None, map(title_pattern, book.sections)))
    for title in titles:
        assert re.fullmatch(pattern, title), title


@pytest.mark.parametrize(("slug", "edition", "paper"), BOOKS)
def test_every_section_begins_under_its_title_once(slug: str, edition: str, paper: str) -> None:
    """At the head of a page, or below another section: in the outline of both it is an H1."""
    sections = [s for s in manuscript(demo(slug), edition, paper).sections if s.page != "cover"]
    with opened(demo_pdf(slug, edition, paper)) as document:
        found = [bare(one.text) for page in document for one in elements(page) if one.role == "H1"]
    begun = found[len(found) - len(sections) :]  # the cover has one too
    assert len(found) - len(begun) <= 1
    for section, title in zip(sections, begun, strict=True):
        assert re.fullmatch(title_pattern(section), title), title


@pytest.mark.parametrize(("slug", "edition", "paper"), BOOKS)
def test_a_page_is_headed_by_the_section_of_its_first_words(
    slug: str, edition: str, paper: str
) -> None:
    book = manuscript(demo(slug), edition, paper)
    told = [(section, numberless(" ".join(words_of(section)))) for section in book.sections]
    charts = (section for section in book.sections if isinstance(section.body[0], blocks.Chart))
    charted = "|".join(map(title_pattern, charts))
    with opened(demo_pdf(slug, edition, paper)) as document:
        for number, page in enumerate(document):
            if number == 0 and book.sections[0].page == "cover":
                continue
            found = [one for one in elements(page) if not is_in_figure(one)]
            if len(found) < 2 or not ROLE.fullmatch(found[0].role):
                continue
            title, first = bare(found[0].text), numberless(found[1].text)
            if not (charted and re.fullmatch(charted, title)):  # its key says what others say
                of = [section for section, words in told if first in words]
                assert any(re.fullmatch(title_pattern(one), title) for one in of), (title, first)


def numberless(words: str) -> str:
    """Words alone: which page they name is not known before all is printed."""
    return bare(re.sub(rf"\d+|{PAGE}", "", words))


def words_of(section: Section) -> Iterator[str]:
    yield section.note
    for block in (*section.lead, *section.body):
        yield from said(block)
