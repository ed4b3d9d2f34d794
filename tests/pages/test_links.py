"""Every bookmark and every link of every edition, followed one by one."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pikepdf
import pypdfium2
import pytest

from tests.support.printed import opened
from tests.support.shop import demo_pdf

BOOKS = [
    *(("tide-lines", edition) for edition in ("booklet", "handout", "large-print", "ink-saver")),
    ("kingfisher-over-reeds", "left-handed"),
    ("lock-keepers-key-cord", "booklet"),
    ("boats-at-the-weir", "booklet"),
]


@dataclass(frozen=True)
class Place:
    """A page, from 0, and how far along and up on it, in points."""

    page: int
    x_pt: float
    y_pt: float


def places(pdf: Any) -> dict[str, Place]:
    """Every named destination."""
    pages = {page.objgen: number for number, page in enumerate(pdf.pages)}
    tree = pikepdf.NameTree(pdf.Root.Names.Dests)
    return {str(name): place(target, pages) for name, target in tree.items()}


def place(target: Any, pages: dict[Any, int]) -> Place:
    array = target.D if isinstance(target, pikepdf.Dictionary) else target
    return Place(pages[array[0].objgen], float(array[2]), float(array[3]))


def outline(items: Any) -> Iterator[Any]:
    for item in items:
        yield item
        yield from outline(item.children)


def text_below(page: pypdfium2.PdfPage, place: Place) -> str:
    """The words of a page from a place on to the right and down, as one line."""
    corner = place.x_pt - 2, 0, page.get_width(), place.y_pt + 2
    found = page.get_textpage().get_text_bounded(*corner)
    return " ".join(found.replace("\u00a0", " ").split())


@pytest.mark.parametrize(("slug", "edition"), BOOKS)
def test_every_bookmark_leads_to_what_it_names(slug: str, edition: str) -> None:
    data = demo_pdf(slug, edition)
    seen = 0
    with pikepdf.open(io.BytesIO(data)) as pdf, opened(data) as document:
        pages = {page.objgen: number for number, page in enumerate(pdf.pages)}
        named = places(pdf)
        with pdf.open_outline() as marks:
            for mark in outline(marks.root):
                target = mark.destination or mark.action.D
                at = (
                    named[str(target)]
                    if isinstance(target, pikepdf.String)
                    else place(target, pages)
                )
                words = text_below(document[at.page], at)
                if mark.title not in NAMED_OTHERWISE:
                    assert words.startswith(mark.title), (mark.title, at, words[:80])
                else:
                    assert re.match(NAMED_OTHERWISE[mark.title], words), (mark.title, words[:80])
                seen += 1
    assert seen >= 5


NAMED_OTHERWISE = {
    "The chart": r"(The chart|Chart 1: rows 1 to|Key)",
    "The rows in words": r"Rows? 1",
    "The knotted parts": r".+ Size about",
}
"""Bookmarks in words of their own, and what stands where they lead."""


@pytest.mark.parametrize(("slug", "edition"), BOOKS)
def test_every_link_leads_to_the_page_that_its_words_name(slug: str, edition: str) -> None:
    data = demo_pdf(slug, edition)
    seen = 0
    with pikepdf.open(io.BytesIO(data)) as pdf, opened(data) as document:
        named = places(pdf)
        for number, page in enumerate(pdf.pages):
            text = document[number].get_textpage()
            for note in page.get("/Annots", []):
                if "/URI" in note.get("/A", {}):
                    continue
                target = note.get("/Dest") or note.A.D
                at = named[str(target)]
                left, bottom, right, top = map(float, note.Rect)
                words = text.get_text_bounded(left - 1, bottom - 1, right + 1, top + 1).strip()
                printed = re.search(r"(?<!row )\b(\d+)\W*$", words)
                if printed:
                    assert int(printed[1]) == at.page + 1, words
                else:  # a line of the contents: its number is a link of its own
                    below = text_below(document[at.page], at)
                    assert below, words
                assert 0 <= at.page < len(document)
                seen += 1
    assert seen >= (1 if edition == "handout" else 5)


@pytest.mark.parametrize(("slug", "edition"), BOOKS)
def test_page_labels_are_the_printed_numbers(slug: str, edition: str) -> None:
    data = demo_pdf(slug, edition)
    with pikepdf.open(io.BytesIO(data)) as pdf, opened(data) as document:
        for number, page in enumerate(pdf.pages, 1):
            assert page.label == str(number)
            text = document[number - 1].get_textpage().get_text_range()
            assert number == 1 or f"{number} of {len(document)}" in text


@pytest.mark.parametrize(("slug", "edition"), BOOKS)
def test_no_place_is_left_that_nothing_leads_to_in_vain(slug: str, edition: str) -> None:
    """Links to names that are not there would do nothing when clicked."""
    with pikepdf.open(io.BytesIO(demo_pdf(slug, edition))) as pdf:
        named = places(pdf)
        wanted = {
            str(note.get("/Dest") or note.A.D)
            for page in pdf.pages
            for note in page.get("/Annots", [])
            if "/Dest" in note or "/D" in note.get("/A", {})
        }
        assert wanted <= set(named)
