"""A page painted straight away looks as the printed page does, to the pixel's edge."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image
from svg_books import book

from publisher.errors import FontError, TemplateError
from publisher.press import page_pictures, paint_page, print_book

BODY = (
    '<path d="M0 0H60V40H0Z" fill="#f4f1ea"/>'
    '<g transform="translate(10 10)"><path d="M0 0h20v20h-20Z" fill="#1f2a44"/>'
    '<circle cx="30" cy="10" r="8" fill="#f2a33a"/></g>'
    '<text x="12" y="36" font-size="5" fill="#1f2a44">Heron</text>'
)


def painted(dpi: float, number: int = 1) -> Image.Image:
    pages = book(BODY, '<path d="M0 0H60V40H0Z" fill="#3a7d2c"/>', width_mm=60, height_mm=40)
    return Image.open(io.BytesIO(paint_page(pages, number, dpi)))


def test_a_painted_page_is_what_another_engine_shows_of_the_printed_one() -> None:
    ours = painted(144.0)
    (printed,) = page_pictures(print_book(book(BODY, width_mm=60, height_mm=40)), 144.0)
    assert ours.size == printed.size
    both = [np.asarray(one.convert("RGB"), dtype=int) for one in (ours, printed)]
    apart = np.abs(both[0] - both[1]).max(axis=2)
    assert (apart > 8).mean() < 0.02  # the edges of shapes and letters
    assert both[0][90, 90].tolist() == [0x1F, 0x2A, 0x44]
    assert both[0][113, 227].tolist() == [0xF2, 0xA3, 0x3A]
    assert both[0][5, 5].tolist() == [0xF4, 0xF1, 0xEA]


def test_it_says_how_many_pixels_make_an_inch_and_takes_any_page() -> None:
    second = painted(100.0, 2)
    assert second.size == (237, 158)
    assert second.info["dpi"] == pytest.approx((100.0, 100.0), abs=0.1)
    assert second.convert("RGB").getpixel((100, 100)) == (0x3A, 0x7D, 0x2C)
    with pytest.raises(IndexError, match="among 2"):
        painted(100.0, 3)


def test_what_is_wrong_with_a_page_is_told_as_when_printing() -> None:
    with pytest.raises(TemplateError, match="is not a number"):
        paint_page(book('<rect width="wide" height="2"/>'))
    with pytest.raises(FontError, match="has no"):
        paint_page(book('<text x="9" y="9">☃</text>'))
