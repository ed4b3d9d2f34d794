"""A page as a PNG: what the printed page shows, at the resolution that it says."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image

from publisher.press import page_png, print_book
from tests.support.cairo_library import cairosvg, needs_cairo
from tests.support.svg_books import book

BODY = (
    '<path d="M0 0H60V40H0Z" fill="#f4f1ea"/>'
    '<g transform="translate(10 10)"><path d="M0 0h20v20h-20Z" fill="#1f2a44"/>'
    '<circle cx="30" cy="10" r="8" fill="#f2a33a"/></g>'
)
PDF = print_book(book(BODY, '<path d="M0 0H60V40H0Z" fill="#3a7d2c"/>', width_mm=60, height_mm=40))


def picture(dpi: float, number: int = 1) -> Image.Image:
    return Image.open(io.BytesIO(page_png(PDF, number, dpi)))


@needs_cairo
def test_it_shows_what_cairosvg_an_independent_renderer_shows_of_the_page() -> None:
    ours = picture(144.0)
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 40">{BODY}</svg>'
    size = {"output_width": ours.width, "output_height": ours.height}
    theirs = Image.open(io.BytesIO(cairosvg.svg2png(bytestring=svg.encode(), **size)))
    both = [np.asarray(one.convert("RGB"), dtype=int) for one in (ours, theirs)]
    apart = np.abs(both[0] - both[1]).max(axis=2)
    assert (apart > 8).mean() < 0.02  # the edges of shapes
    assert both[0][90, 90].tolist() == [0x1F, 0x2A, 0x44]
    assert both[0][113, 227].tolist() == [0xF2, 0xA3, 0x3A]
    assert both[0][5, 5].tolist() == [0xF4, 0xF1, 0xEA]


def test_it_says_how_many_pixels_make_an_inch_and_takes_any_page() -> None:
    second = picture(100.0, 2)
    assert second.size == (237, 158)
    assert second.info["dpi"] == pytest.approx((100.0, 100.0), abs=0.1)
    assert second.convert("RGB").getpixel((100, 100)) == (0x3A, 0x7D, 0x2C)


@pytest.mark.parametrize("number", [0, 3])
def test_there_is_no_page_of_another_number(number: int) -> None:
    with pytest.raises(IndexError, match="among 2"):
        page_png(PDF, number)
