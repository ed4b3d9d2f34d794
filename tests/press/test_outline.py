"""The reader's outline: every line in its place, as pdfium and qpdf read it."""

from __future__ import annotations

import io
from itertools import pairwise
from typing import Any

import pikepdf
import pypdfium2
from hypothesis import example, given, settings
from hypothesis import strategies as st

from publisher.model.book import Bookmark
from publisher.press import print_book
from tests.support.svg_books import book

BODY = '<text data-tag="H1" data-dest="top" x="9" y="9">a</text>'


def printed(levels: list[int], titles: list[str] | None = None) -> bytes:
    named = titles or [f"{at}" for at in range(len(levels))]
    marks = [Bookmark(t, "top", level) for t, level in zip(named, levels, strict=True)]
    return print_book(book(BODY, bookmarks=marks))


def depths(levels: list[int]) -> list[int]:
    """How many lines each stands under: a level that skips some is the next deeper."""
    found, above = [], list[int]()
    for level in levels:
        while above and above[-1] >= level:
            above.pop()
        found.append(len(above))
        above.append(level)
    return found


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(1, 5), min_size=1, max_size=14))
@example([2, 1, 3, 3, 1])
def test_every_line_stands_under_the_last_of_a_lower_level(levels: list[int]) -> None:
    pdf = printed(levels)
    toc = list(pypdfium2.PdfDocument(pdf).get_toc())
    assert [mark.get_title() for mark in toc] == [f"{at}" for at in range(len(levels))]
    assert [mark.level for mark in toc] == depths(levels)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(1, 4), min_size=1, max_size=14))
@example([1, 2, 2, 3])
def test_the_links_between_the_lines_agree(levels: list[int]) -> None:
    """ISO 32000-1, tables 152 and 153: Parent, Prev and Next, First and Last, Count."""
    document = pikepdf.open(io.BytesIO(printed(levels)))

    def walk(held: Any, is_open: bool) -> int:
        """Lines seen below one if all of them that are open are; -Count if it is closed."""
        rows, row = [], held.get("/First")
        while row is not None:
            rows.append(row)
            assert row.Parent.objgen == held.objgen
            row = row.get("/Next")
        for one, other in pairwise(rows):
            assert other.Prev.objgen == one.objgen
        if not rows:
            assert "/Count" not in held and "/Last" not in held
            return 0
        assert "/Prev" not in rows[0]
        assert held.Last.objgen == rows[-1].objgen
        inner = [walk(one, "/Parent" not in held) for one in rows]
        seen = len(rows) + (sum(inner) if "/Parent" not in held else 0)
        assert held.Count == (seen if is_open else -seen)
        return seen

    walk(document.Root.Outlines, True)
    assert document.Root.PageMode == "/UseOutlines"


def test_a_book_without_bookmarks_has_no_outline() -> None:
    document = pikepdf.open(io.BytesIO(print_book(book(BODY))))
    assert "/Outlines" not in document.Root and "/PageMode" not in document.Root


def test_a_title_of_any_letters_is_shown_whole() -> None:
    titles = ["(a) \\", "Łódź – 結", "𝕏"]
    toc = pypdfium2.PdfDocument(printed([1] * 3, titles)).get_toc()
    assert [mark.get_title() for mark in toc] == titles
