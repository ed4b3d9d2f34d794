"""Finished books read back with pypdf: what is done to them leaves the rest as it was.

ISO 32000-1: page labels (12.4.2), page boxes (14.11.2), links (12.5.6.5), structure (14.7).
"""

from __future__ import annotations

import io
import math
from collections import Counter
from functools import cache
from typing import Any

import pytest
from pypdf import PdfReader

from publisher.press import Stamper, impose, mark_pages, page_sizes, print_book, smallest_type_pt
from publisher.press.papers import PT_PER_MM
from tests.support.shop import book, demo

A4_PT = (210 * PT_PER_MM, 297 * PT_PER_MM)


@cache
def booklet(slug: str = "heron-step") -> bytes:
    return print_book(book(demo(slug)))


def read(pdf: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(pdf), strict=True)


def links(reader: PdfReader) -> list[list[Any]]:
    """Where the links of each page stand, in points, to the hundredth."""
    return [
        [
            [round(float(side), 2) for side in note.get_object()["/Rect"]]
            for note in page.get("/Annots", ())
            if note.get_object()["/Subtype"] == "/Link"
        ]
        for page in reader.pages
    ]


def tags(reader: PdfReader) -> list[str]:
    """The types of all structure elements, in reading order."""
    found: list[str] = []

    def walk(element: Any) -> None:
        element = element.get_object()
        if isinstance(element, list):
            for inner in element:
                walk(inner)
        elif hasattr(element, "get"):
            if "/S" in element:
                found.append(element["/S"])
            if "/K" in element:
                walk(element["/K"])

    walk(reader.trailer["/Root"]["/StructTreeRoot"])
    return found


def titles(outline: Any) -> list[str]:
    return [
        title
        for entry in outline
        for title in (titles(entry) if isinstance(entry, list) else [entry.title])
    ]


def test_a_book_is_as_it_was_laid_out() -> None:
    laid, reader = book(demo("heron-step")), read(booklet())
    assert len(reader.pages) == len(laid.pages) == len(page_sizes(booklet()))
    assert reader.page_labels == [page.label for page in laid.pages]
    assert page_sizes(booklet())[0] == pytest.approx(A4_PT, abs=0.01)
    assert titles(reader.outline) == [mark.title for mark in laid.bookmarks]
    assert sum(map(len, links(reader))) > 10
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]


@pytest.mark.parametrize("how", ["stamped", "marked"])
def test_copies_and_crop_marks_leave_labels_links_bookmarks_and_tags(how: str) -> None:
    plain = booklet()
    made = Stamper(plain).copy("Asa Lock") if how == "stamped" else mark_pages(plain)
    line = "Copy for Asa Lock" if how == "stamped" else ""
    before, after = read(plain), read(made)
    assert len(after.pages) == len(before.pages)
    assert after.page_labels == before.page_labels
    assert titles(after.outline) == titles(before.outline)
    assert links(after) == links(before)
    assert tags(after) == tags(before)
    for page, was in zip(after.pages, before.pages, strict=True):
        assert page.trimbox == was.trimbox
        words, new = Counter(was.extract_text().split()), Counter(page.extract_text().split())
        assert not words - new
        assert new - words == Counter(line.split())


def test_sheets_hold_every_page_once_on_both_sides() -> None:
    plain = read(booklet())
    sheets = read(impose(booklet(), "booklet"))
    assert len(sheets.pages) == -(-len(plain.pages) // 4) * 2
    for sheet in sheets.pages:
        assert float(sheet.mediabox.width) == pytest.approx(A4_PT[1], abs=0.01)
        assert float(sheet.mediabox.height) == pytest.approx(A4_PT[0], abs=0.01)
    shown = sorted(word for sheet in sheets.pages for word in sheet.extract_text().split())
    assert shown == sorted(word for page in plain.pages for word in page.extract_text().split())


def test_the_smallest_type_is_that_of_another_reader() -> None:
    """Of text that shows: its size by the matrices of text and page (ISO 32000-1, 9.4.4)."""
    found: list[float] = []

    def read_size(text: str, page: Any, placed: Any, font: Any, size: float) -> None:
        if text.strip() and "igns" not in font["/BaseFont"]:
            (a, b, c, d), (e, f, g, h) = page[:4], placed[:4]
            found.append(size * math.sqrt(abs((a * d - b * c) * (e * h - f * g))))

    for page in read(booklet()).pages:
        page.extract_text(visitor_text=read_size)
    smallest = smallest_type_pt(booklet())
    assert smallest == pytest.approx(min(found), abs=0.01) and 6 < min(found) < 9
