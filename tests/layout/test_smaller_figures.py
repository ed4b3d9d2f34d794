"""A section's figures are a little smaller where that saves a page, and only there."""

from __future__ import annotations

import pytest

from publisher.layout.context import LayoutContext
from publisher.layout.sheets import Sheet, lay_sections
from publisher.manuscript import blocks
from publisher.manuscript.blocks import Block, Section, Span
from tests.support.shop import demo, manuscript

PARAGRAPH = blocks.Paragraph((Span("Some words that fill a line, and go on for another one."),))


class Shrinking:
    """A body that is so many paragraphs long, and the shares of it that were asked for."""

    def __init__(self, long: int) -> None:
        self.long = long
        self.asked: list[float] = []

    def __call__(self, share: float) -> tuple[Block, ...]:
        self.asked.append(share)
        return (PARAGRAPH,) * int(self.long * share)

    def laid(self) -> list[Sheet]:
        book = manuscript(demo("tide-lines"))
        body = (PARAGRAPH,) * self.long
        section = Section("one", "text", "One", "One", body, smaller=self)
        return list(lay_sections((section,), LayoutContext(book)))


def test_nothing_is_made_smaller_that_has_room() -> None:
    body = Shrinking(5)
    assert len(body.laid()) == 1 and body.asked == []


def test_a_section_is_made_as_little_smaller_as_saves_a_page() -> None:
    book = manuscript(demo("tide-lines"))

    def pages(long: int) -> int:
        section = Section("one", "text", "One", "One", (PARAGRAPH,) * long)
        return len(list(lay_sections((section,), LayoutContext(book))))

    body = Shrinking(next(long for long in range(30, 199) if pages(long) == 3) + 10)
    assert len(body.laid()) == 2
    assert body.asked == sorted(body.asked, reverse=True) and 0.7 < body.asked[-1] < 1


def test_a_section_that_would_take_as_many_pages_stays_as_large_as_it_is() -> None:
    body = Shrinking(50)
    pages = body.laid()
    assert sum(len(page.placed) for page in pages) == 50


@pytest.mark.parametrize("edition", ["booklet", "ink-saver"])
def test_a_part_stands_on_a_page_of_letter_paper_with_its_steps(edition: str) -> None:
    book = manuscript(demo("kingfisher-over-reeds"), edition, "letter")
    for section in book.sections:
        if section.name.startswith("parts"):
            assert len(list(lay_sections((section,), LayoutContext(book)))) == 1, section.name


def test_a_part_that_has_room_keeps_its_figures() -> None:
    book = manuscript(demo("kingfisher-over-reeds"))
    (section,) = (one for one in book.sections if one.name == "parts")
    strip = section.body[-1]
    assert isinstance(strip, blocks.Strip)
    (page,) = lay_sections((section,), LayoutContext(book))
    shown = [
        child.box.args["figure"]
        for item in page.placed
        for line in item.box.children
        for child in line.box.children
        if child.box.macro == "pictures.figure"
    ]
    assert {figure.figure for figure in strip.pictures} <= set(shown)
