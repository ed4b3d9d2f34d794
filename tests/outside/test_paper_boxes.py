"""Sizes of paper and page boxes against published standards."""

from __future__ import annotations

import io

import pikepdf
import pytest

from publisher.press import impose, mark_pages, print_book
from publisher.press.papers import PAPERS_MM, PT_PER_MM, SHEETS_MM
from tests.support.svg_books import book, numbered


def boxes(pdf: bytes) -> dict[str, tuple[float, float, float, float]]:
    """The boxes of the first page, in points; Crop as a reader works it out."""
    with pikepdf.open(io.BytesIO(pdf)) as document:
        page = document.pages[0]
        named = {"Media": page.mediabox, "Crop": page.cropbox, "Trim": page.trimbox}
        named["Bleed"] = page.get("/BleedBox", page.cropbox)
        return {name: tuple(float(side) for side in box) for name, box in named.items()}


def size(box: tuple[float, float, float, float]) -> tuple[float, float]:
    left, bottom, right, top = box
    return right - left, top - bottom


@pytest.mark.parametrize(
    ("width_mm", "height_mm", "width_pt", "height_pt"),
    [
        (210, 297, 595.276, 841.890),  # ISO 216, A4; 1 pt = 1/72 in
        (148, 210, 419.528, 595.276),  # ISO 216, A5
        (215.9, 279.4, 612, 792),  # ANSI/ASME Y14.1, letter (A)
        (139.7, 215.9, 396, 612),  # half letter
    ],
)
def test_pages_have_their_standards_size_in_points(
    width_mm: float, height_mm: float, width_pt: float, height_pt: float
) -> None:
    pdf = print_book(book("", width_mm=width_mm, height_mm=height_mm))
    assert size(boxes(pdf)["Media"]) == pytest.approx((width_pt, height_pt), abs=0.001)


@pytest.mark.parametrize("paper", PAPERS_MM)
def test_papers_agree_with_papersize(paper: str) -> None:
    papersize = pytest.importorskip("papersize")
    lengths = papersize.parse_papersize(paper, unit="mm")
    assert [float(length) for length in lengths] == pytest.approx(PAPERS_MM[paper], abs=0.01)


@pytest.mark.parametrize(("name", "size_mm"), [("a3", (297.0, 420.0)), ("tabloid", (279.4, 431.8))])
def test_large_sheets_are_their_standards(name: str, size_mm: tuple[float, float]) -> None:
    """ISO 216 A3; ANSI/ASME Y14.1 B, 11 x 17 in: two pages of A4, or of letter, side by side."""
    assert SHEETS_MM[name] == size_mm
    half = {"a3": "a4", "tabloid": "letter"}[name]
    width_mm, height_mm = PAPERS_MM[half]
    assert (height_mm, 2 * width_mm) == pytest.approx(size_mm)


@pytest.mark.parametrize(
    ("paper", "sheet"),
    [
        ("a4", (841.890, 595.276)),
        ("letter", (792.0, 612.0)),
        ("a3", (1190.551, 841.890)),
        ("tabloid", (1224.0, 792.0)),
    ],
)
def test_sheets_are_the_paper_on_its_side(paper: str, sheet: tuple[float, float]) -> None:
    sheets = impose(print_book(numbered(4)), "booklet", paper)
    assert size(boxes(sheets)["Media"]) == pytest.approx(sheet, abs=0.001)


def test_two_a5_pages_on_a4_leave_one_millimetre() -> None:
    """ISO 216: A5 is 148 mm wide, not 148.5."""
    width, height = size(boxes(impose(print_book(numbered(4)), "booklet"))["Trim"])
    assert (297 * PT_PER_MM - width) / PT_PER_MM == pytest.approx(1, abs=0.001)
    assert height == pytest.approx(595.276, abs=0.001)


def test_a5_with_bleed_and_slug_has_boxes_that_are_so_much_larger() -> None:
    """3 mm of bleed, 10 mm of slug: arithmetic."""
    found = boxes(mark_pages(print_book(numbered(1)), bleed_mm=3, slug_mm=10))
    assert size(found["Trim"]) == pytest.approx((419.528, 595.276), abs=0.001)
    assert size(found["Bleed"]) == pytest.approx((436.535, 612.283), abs=0.001)
    assert size(found["Media"]) == pytest.approx((476.220, 651.969), abs=0.001)


def test_trim_lies_in_bleed_and_bleed_in_media() -> None:
    """ISO 32000-1, table 30; Crop defaults to Media."""
    found = boxes(mark_pages(print_book(numbered(1))))
    for inner, outer in (("Trim", "Bleed"), ("Bleed", "Media")):
        left, bottom, right, top = found[inner]
        assert found[outer][0] < left and found[outer][1] < bottom
        assert found[outer][2] > right and found[outer][3] > top
    assert found["Crop"] == found["Media"]
