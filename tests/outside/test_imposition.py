"""The order of pages on sheets, against printers' imposition tables and the library pdfimpose."""

from __future__ import annotations

import io

import pypdfium2
import pytest

from publisher.press import impose, print_book
from publisher.press.finished.signatures import saddle_stitch
from tests.support.svg_books import numbered

# Printers' saddle-stitch imposition tables: (left, right) of each side, front and back in turn.
TABLES = {
    8: [(8, 1), (2, 7), (6, 3), (4, 5)],
    12: [(12, 1), (2, 11), (10, 3), (4, 9), (8, 5), (6, 7)],
    16: [(16, 1), (2, 15), (14, 3), (4, 13), (12, 5), (6, 11), (10, 7), (8, 9)],
    20: [
        (20, 1), (2, 19), (18, 3), (4, 17), (16, 5), (6, 15), (14, 7), (8, 13), (12, 9), (10, 11),
    ],
}  # fmt: skip


def seen(sheets: bytes) -> list[tuple[str, str]]:
    """What stands in the left and the right half of each side, as pdfium reads it."""
    found = []
    for page in pypdfium2.PdfDocument(sheets):
        width, height = page.get_size()
        words = page.get_textpage()
        left = words.get_text_bounded(0, 0, width / 2, height)
        right = words.get_text_bounded(width / 2, 0, width, height)
        found.append((left.strip(), right.strip()))
    return found


@pytest.mark.parametrize("pages", TABLES)
def test_saddle_stitched_sheets_follow_the_printers_tables(pages: int) -> None:
    sheets = impose(print_book(numbered(pages)), "booklet")
    assert seen(sheets) == [(str(left), str(right)) for left, right in TABLES[pages]]


def test_blanks_stand_before_the_last_page() -> None:
    """Printers' guides: fill up to a multiple of four, the back cover stays last."""
    sheets = impose(print_book(numbered(6)), "booklet")
    assert seen(sheets) == [("6", "1"), ("2", ""), ("", "3"), ("4", "5")]


@pytest.mark.parametrize("pages", [1, 2, 3, 4, 7, 8, 14, 20, 33])
def test_pdfimpose_puts_every_page_in_the_same_place(pages: int) -> None:
    pytest.importorskip("pdfimpose")
    from pdfimpose.schema import saddle

    output = io.BytesIO()
    source = io.BytesIO(print_book(numbered(pages)))
    saddle.impose([source], output, folds="h", last=1 if pages > 1 else 0)
    ours = [(str(side.left or ""), str(side.right or "")) for side in saddle_stitch(pages)]
    assert seen(output.getvalue()) == ours
