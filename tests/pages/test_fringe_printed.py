"""What is printed of the fringe is what the pattern has; its template has the scale it states."""

from __future__ import annotations

import ctypes
import re
from dataclasses import replace
from typing import Any

import pypdfium2.raw as pdfium
import pytest

from publisher.model.pattern import Fringe
from publisher.press import print_book
from tests.support.printed import MM_PER_PT, opened
from tests.support.printed_lists import page_texts
from tests.support.shop import book, demo, demo_pdf, demo_plan


@pytest.mark.parametrize(
    ("fringe", "told"),
    [
        (Fringe("straight", 140.0, 140.0), "lay a ruler 14 cm below the last row"),
        (Fringe("point", 180.0, 60.0), "Mark 6 cm below the last row at both edges and 17.5 cm in"),
        (Fringe("arch", 180.0, 60.0), "Mark 18 cm below the last row at both edges and 6 cm in"),
    ],
)
def test_the_fringe_is_cut_to_the_lengths_that_the_pattern_has(fringe: Fringe, told: str) -> None:
    pattern = demo("tide-lines")
    shaped = replace(pattern, pieces=(replace(pattern.charts[0], fringe=fringe),))
    text = " ".join(" ".join(page_texts(print_book(book(shaped)))).split())
    assert told in text


CURVE_MM = 0.7
"""How thick the curve of a template is drawn, in mm, which pages are drawn in; nothing else is."""


def curves(pdf: bytes, number: int) -> list[tuple[float, float, float, float]]:
    """The parts of curves that are printed on a page, in mm: left, lower, right and upper edge."""
    found = []
    with opened(pdf) as document:
        page = document[number]
        for at in range(pdfium.FPDFPage_CountObjects(page.raw)):
            item = pdfium.FPDFPage_GetObject(page.raw, at)
            sides: list[Any] = [ctypes.c_float() for _ in range(4)]
            if pdfium.FPDFPageObj_GetType(item) == pdfium.FPDF_PAGEOBJ_PATH:
                pdfium.FPDFPageObj_GetBounds(item, *sides)
                thick = ctypes.c_float()
                pdfium.FPDFPageObj_GetStrokeWidth(item, thick)
                if abs(thick.value - CURVE_MM) < 0.02:
                    found.append(tuple(side.value * MM_PER_PT for side in sides))
    return found


SHAPED = ["kingfisher-over-reeds", "lantern-window"]


@pytest.mark.parametrize("slug", SHAPED)
def test_a_fringe_template_has_the_scale_that_it_states(slug: str) -> None:
    """The curve goes from the middle of the first cord to that of the last."""
    pdf, chart = demo_pdf(slug), demo_plan(slug).charts[0]
    pages = [" ".join(text.split()) for text in page_texts(pdf)]
    found = [re.search(r"1 : (\d+), lengths in cm; copied at ([\d,]+) %", text) for text in pages]
    ((number, said),) = ((at, one) for at, one in enumerate(found) if one)
    scale = int(said[1])
    assert int(said[2].replace(",", "")) == 100 * scale
    wide = (chart.columns - 1) * chart.cell.width_mm / scale
    tall = [one for one in curves(pdf, number) if one[3] - one[1] > 20]
    ((left, _, right, _),) = tall
    assert right - left == pytest.approx(wide, abs=2.2)  # pdfium counts the line


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_what_no_copier_makes_large_enough_is_printed_true_to_size(paper: str) -> None:
    """136 cm would be copied at 800 %; common practice is 25 to 400 %. Half of it, on sheets."""
    slug = "boats-at-the-weir"
    pdf, chart = demo_pdf(slug, "booklet", paper), demo_plan(slug).charts[0]
    texts = [" ".join(text.split()) for text in page_texts(pdf)]
    assert not any("copied at" in text for text in texts)
    (first,) = (at for at, text in enumerate(texts) if "true to size, its left half" in text)
    assert "Pin the straight edge 8 cm below the last row" in texts[first]
    parts = [one for number in range(first, len(texts)) for one in curves(pdf, number)]
    drawings: list[list[tuple[float, float, float, float]]] = []
    for one in parts:  # from left to right; the next drawing begins at the left again
        if not drawings or one[0] < drawings[-1][-1][0]:
            drawings.append([])
        drawings[-1].append(one)
    long = [drawing for drawing in drawings if len(drawing) > 5]
    assert len(long) == 4
    wide = sum(drawing[-1][2] - drawing[0][0] - 2.0 for drawing in long)  # pdfium counts the line
    half = chart.columns / 2
    assert wide == pytest.approx(half * chart.cell.width_mm, rel=0.02)


@pytest.mark.parametrize("shape", ["point", "arch"])
def test_a_template_that_is_deeper_than_a_page_goes_on_below(shape: Any) -> None:
    pattern = demo("boats-at-the-weir")
    deep = replace(pattern.charts[0], fringe=Fringe(shape, 700.0, 100.0))
    texts = page_texts(print_book(book(replace(pattern, pieces=(deep,)))))
    assert any("the upper ones first" in " ".join(text.split()) for text in texts)
