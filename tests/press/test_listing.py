"""Pages of PDFs side by side in a picture of a size."""

from __future__ import annotations

import io

import numpy as np
from PIL import Image

from publisher.model.colour import Colour
from publisher.press import print_book, side_by_side
from tests.support.svg_books import book

GREEN, WHITE = Colour(223, 228, 222), Colour(255, 255, 255)
RED_PAGE = '<rect width="{w}" height="{h}" fill="#c0392b"/>'


def page(width_mm: float, height_mm: float) -> bytes:
    body = RED_PAGE.format(w=width_mm, h=height_mm)
    return print_book(book(body, width_mm=width_mm, height_mm=height_mm))


def shown(ground: Colour, *pages: bytes, size: tuple[int, int] = (400, 300)) -> Image.Image:
    png = side_by_side([(pdf, 1) for pdf in pages], size, ground)
    assert png == side_by_side([(pdf, 1) for pdf in pages], size, ground)
    with Image.open(io.BytesIO(png)) as picture:
        return picture.convert("RGB")


def red_box(picture: Image.Image) -> tuple[int, int, int, int]:
    pixels = np.asarray(picture)
    rows, columns = np.nonzero((pixels[..., 0] > 150) & (pixels[..., 1] < 100))
    return (
        int(columns.min()),
        int(rows.min()),
        int(columns.max()) + 1,
        int(rows.max()) + 1,
    )


def test_page_is_as_large_as_the_picture_has_room_for() -> None:
    wide, tall = shown(WHITE, page(200, 50)), shown(WHITE, page(50, 200))
    assert (wide.size, tall.size) == ((400, 300), (400, 300))
    left, top, right, bottom = red_box(wide)
    assert (left, right) == (20, 380), "a border of a twentieth"
    assert abs((bottom - top) - 90) <= 1
    assert abs((top + bottom) - 300) <= 1, "in the middle"
    left, top, right, bottom = red_box(tall)
    assert abs((bottom - top) - 260) <= 1
    assert abs((right - left) - 65) <= 1


def test_pages_stand_side_by_side_at_one_scale() -> None:
    picture = shown(WHITE, page(100, 100), page(50, 100))
    left, _, right, _ = red_box(picture)
    middle = [picture.getpixel((x, 150)) for x in range(left, right)]
    gaps = [x for x, pixel in enumerate(middle) if pixel == (255, 255, 255)]
    assert abs(len(gaps) - 12) <= 1, "3 % of the width between them"
    first = gaps[0]
    second = len(middle) - gaps[-1] - 1
    assert abs(first - 2 * second) <= 2


def test_pages_on_a_coloured_ground_have_a_thin_line_round_them() -> None:
    picture = shown(GREEN, page(100, 100))
    left, top, _, _ = red_box(picture)
    assert picture.getpixel((0, 0)) == (223, 228, 222)
    assert picture.getpixel((left - 1, top + 20)) == (167, 171, 166)
    assert picture.getpixel((left - 2, top + 20)) == (223, 228, 222)
