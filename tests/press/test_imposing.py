"""Sheets: creep, fit, what they say of themselves, and what of the pages comes through."""

from __future__ import annotations

import dataclasses
import io
from typing import Any

import pikepdf
import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import ImageChops

from publisher.errors import SourceError, UsageError
from publisher.press import impose, mark_pages, page_pictures, print_book, sheet_scale
from publisher.press.finished.signatures import saddle_stitch, two_up
from tests.support.svg_books import RICH, book, numbered

PT_PER_MM = 72 / 25.4


@pytest.fixture(scope="module")
def rich() -> bytes:
    return print_book(RICH)


def blocks(pages: int) -> bytes:
    body = '<rect x="74" y="100" width="10" height="10"/>'
    return print_book(book(*[body] * pages, width_mm=148, height_mm=210))


def dark_columns_mm(sheets: bytes) -> list[tuple[float, float]]:
    """The left edges of the dark blocks in the left and the right half of each side."""
    dpi, found = 1016, []
    for page in pypdfium2.PdfDocument(sheets):
        picture = page.render(scale=dpi / 72, crop=(0, 270, 0, 270)).to_pil().convert("L")
        row = [picture.getpixel((x, picture.height // 2)) for x in range(picture.width)]
        half = picture.width // 2
        left = next(x for x in range(half) if row[x] < 128)
        right = next(x for x in range(half, picture.width) if row[x] < 128)
        found.append((left * 25.4 / dpi, right * 25.4 / dpi))
    return found


def test_inner_sheets_creep_towards_the_fold_by_the_papers_thickness() -> None:
    """16 pages on 0.1 mm paper: 0, 0.1, 0.2, 0.3 mm; the outermost sheet does not move."""
    places = dark_columns_mm(impose(blocks(16), "booklet", caliper_mm=0.1))
    fold = 297 / 2
    for index, (left, right) in enumerate(places):
        creep = (index // 2) * 0.1
        assert left == pytest.approx(fold - 148 + 74 + creep, abs=0.03)
        assert right == pytest.approx(fold + 74 - creep, abs=0.03)


def test_two_up_pages_do_not_creep() -> None:
    places = dark_columns_mm(impose(blocks(6), "two-up", caliper_mm=0.5))
    assert len(set(places)) == 1


@given(st.integers(1, 90))
def test_every_page_lies_on_just_one_side_and_opens_in_order(pages: int) -> None:
    sides = saddle_stitch(pages)
    found = [number for side in sides for number in (side.left, side.right) if number]
    assert sorted(found) == list(range(1, pages + 1))
    assert len(sides) == 2 * -(-pages // 4)
    assert sides[0].right == 1
    for front, back in zip(sides[::2], sides[1::2], strict=True):
        # the back of a leaf is the page after (right leaf) or before (left leaf) its front
        if front.right and back.left:
            assert back.left == front.right + 1
        if front.left and back.right and front.left != pages:
            assert back.right == front.left - 1


@given(st.integers(1, 40))
def test_two_up_is_reading_order(pages: int) -> None:
    found = [number for side in two_up(pages) for number in (side.left, side.right)]
    assert [number for number in found if number] == list(range(1, pages + 1))


def spread_mm(sheets: bytes) -> tuple[float, float]:
    """Width and height of the open booklet once trimmed."""
    with pikepdf.open(io.BytesIO(sheets)) as document:
        left, bottom, right, top = (float(side) / PT_PER_MM for side in document.pages[0].TrimBox)
    return right - left, top - bottom


def test_large_pages_are_scaled_to_half_the_sheet_and_small_ones_are_not() -> None:
    large = impose(print_book(book("<g/>")), "booklet")
    assert spread_mm(large) == pytest.approx((2 * 210 * 210 / 297, 210), abs=0.01)
    small = impose(print_book(book("<g/>", width_mm=100, height_mm=140)), "booklet")
    assert spread_mm(small) == pytest.approx((200, 140), abs=0.01)


def test_pages_of_several_sizes_are_as_large_as_the_one_that_is_made_smallest() -> None:
    """A4 on half of A4 is 71 %; a page of 100 x 140 mm stays as it is."""
    small, large = (
        book("<g/>", width_mm=width, height_mm=height).pages[0]
        for width, height in ((100, 140), (210, 297))
    )
    for pages in ((small, large), (large, small)):
        pdf = print_book(dataclasses.replace(book("<g/>"), pages=pages))
        assert sheet_scale(pdf, "a4") == pytest.approx(210 / 297, abs=0.001)
    assert sheet_scale(print_book(book("<g/>", width_mm=100, height_mm=140)), "a4") == 1


@pytest.mark.parametrize("scheme", ["booklet", "two-up"])
def test_sheets_say_that_they_are_for_paper_and_carry_no_tags(rich: bytes, scheme: str) -> None:
    sheets = pikepdf.open(io.BytesIO(impose(rich, scheme)))
    assert sheets.check_pdf_syntax() == []
    title = str(sheets.docinfo["/Title"])
    assert title.startswith("Kingfisher & Reeds – ") and "for paper" in title
    assert sheets.Root.ViewerPreferences.DisplayDocTitle is True
    assert "/StructTreeRoot" not in sheets.Root and "/MarkInfo" not in sheets.Root
    assert b"pdfuaid" not in sheets.Root.Metadata.read_bytes()
    assert str(sheets.Root.Lang) == "en-GB"
    labels = [page.label for page in sheets.pages]
    assert labels == (["1 front", "1 back"] if scheme == "booklet" else ["1"])


def test_a_booklet_asks_the_printer_to_flip_on_the_short_edge(rich: bytes) -> None:
    sheets = pikepdf.open(io.BytesIO(impose(rich, "booklet")))
    assert str(sheets.Root.ViewerPreferences.Duplex) == "/DuplexFlipShortEdge"
    assert str(sheets.Root.ViewerPreferences.PrintScaling) == "/None"


def test_a_page_on_its_sheet_looks_as_it_did() -> None:
    pages = page_pictures(print_book(numbered(4)), dpi=72)
    sheet = page_pictures(impose(print_book(numbered(4)), "two-up"), dpi=72)[0]
    words = ImageChops.invert(pages[0].convert("L")).getbbox()
    on_sheet = ImageChops.invert(sheet.crop((0, 0, 421, 595)).convert("L")).getbbox()
    assert words is not None and on_sheet is not None
    assert words[3] - words[1] == pytest.approx(on_sheet[3] - on_sheet[1], abs=2)


def test_turned_pages_lie_upright() -> None:
    document = pikepdf.open(io.BytesIO(print_book(numbered(2))))
    document.pages[0].Rotate = 90
    output = io.BytesIO()
    document.save(output)
    sheets = pikepdf.open(io.BytesIO(impose(output.getvalue(), "two-up")))
    assert sheets.check_pdf_syntax() == []


def test_sheets_stay_small_and_the_same() -> None:
    pdf = print_book(numbered(40))
    sheets = impose(pdf, "booklet")
    assert sheets == impose(pdf, "booklet")
    assert len(sheets) < 2 * len(pdf)


@pytest.mark.parametrize(
    ("scheme", "paper", "message"),
    [("origami", "a4", "no scheme “origami”"), ("booklet", "a2", "no paper “a2”")],
)
def test_another_scheme_or_paper_is_a_wrong_call(
    rich: bytes, scheme: str, paper: str, message: str
) -> None:
    with pytest.raises(UsageError, match=message):
        impose(rich, scheme, paper)


@pytest.mark.parametrize("data", [b"", b"not a pdf", b"%PDF-1.7\n%%EOF"])
def test_what_is_no_pdf_is_told(data: bytes) -> None:
    for work in (lambda: impose(data, "booklet"), lambda: mark_pages(data)):
        with pytest.raises(SourceError):
            work()


def test_a_locked_pdf_is_told(rich: bytes) -> None:
    output = io.BytesIO()
    pikepdf.open(io.BytesIO(rich)).save(
        output, encryption=pikepdf.Encryption(owner="a", user="b", R=6)
    )
    with pytest.raises(SourceError, match="locked by a password"):
        impose(output.getvalue(), "booklet")


def test_crop_marks_stand_outside_the_bleed_at_the_trims_corners() -> None:
    marked = mark_pages(print_book(book("", width_mm=100, height_mm=80)), bleed_mm=3, slug_mm=10)
    picture = page_pictures(marked, dpi=254)[0].convert("L")
    assert picture.size == (1200, 1000)

    def dark(x_mm: float, y_mm: float) -> bool:
        x, y = round(x_mm * 10), round(y_mm * 10)
        return bool(picture.crop((x - 2, y - 2, x + 3, y + 3)).getextrema()[0] < 128)

    for x, out in ((10, -1), (110, 1)):
        for y, up in ((10, -1), (90, 1)):
            assert dark(x + out * 5, y) and dark(x, y + up * 5)
            assert not dark(x + out * 2, y) and not dark(x, y + up * 2)
            assert not dark(x + out * 9, y)
    assert not dark(60, 50)


def test_marked_pages_keep_tags_links_and_bookmarks(rich: bytes) -> None:
    marked: Any = pikepdf.open(io.BytesIO(mark_pages(rich)))
    plain: Any = pikepdf.open(io.BytesIO(rich))
    assert marked.check_pdf_syntax() == []
    assert len(marked.Root.StructTreeRoot.K[0].K) == len(plain.Root.StructTreeRoot.K[0].K)
    assert "/Outlines" in marked.Root and len(marked.pages[0].Annots) == 3


def test_a_slug_inside_the_bleed_is_a_wrong_call(rich: bytes) -> None:
    with pytest.raises(UsageError, match="slug wider than the bleed"):
        mark_pages(rich, bleed_mm=5, slug_mm=5)
