"""What is printed of the fringe is what the pattern has; its template has the scale it states."""

from __future__ import annotations

import ctypes
import re
from dataclasses import replace
from typing import Any

import pypdfium2.raw as pdfium
import pytest
from printed import MM_PER_PT, opened
from printed_lists import page_texts
from shop import SLUGS, book, demo, demo_pdf, demo_plan

from publisher.press import print_book
from publisher.source.pattern import Fringe


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


def curve_mm(pdf: bytes, number: int) -> float:
    """How wide the curve of the template on a page is printed."""
    widths = []
    with opened(pdf) as document:
        page = document[number]
        for at in range(pdfium.FPDFPage_CountObjects(page.raw)):
            item = pdfium.FPDFPage_GetObject(page.raw, at)
            sides: list[Any] = [ctypes.c_float() for _ in range(4)]
            if pdfium.FPDFPageObj_GetType(item) == pdfium.FPDF_PAGEOBJ_PATH:
                pdfium.FPDFPageObj_GetBounds(item, *sides)
                left, bottom, right, top = (side.value for side in sides)
                thick = ctypes.c_float()
                pdfium.FPDFPageObj_GetStrokeWidth(item, thick)
                if top - bottom > 20 and abs(thick.value - CURVE_MM) < 0.02:
                    widths.append((right - left) * MM_PER_PT)
    return max(widths)


SHAPED = [slug for slug in SLUGS if demo(slug).charts[0].fringe.shape != "straight"]


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
    assert curve_mm(pdf, number) == pytest.approx(wide, abs=2.2)  # pdfium counts the line
