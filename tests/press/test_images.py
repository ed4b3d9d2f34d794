"""Embedded PNGs of every kind come out in the colours that Pillow reads in them."""

from __future__ import annotations

import base64
import io
import struct
import tracemalloc
import zlib
from typing import Any

import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from publisher.errors import TemplateError
from publisher.press import page_pictures, print_book
from tests.support.svg_books import book

SIGNATURE = b"\x89PNG\r\n\x1a\n"
GREY, RGB, PALETTE, GREY_ALPHA, RGBA = 0, 2, 3, 4, 6
_SAMPLES = {GREY: 1, RGB: 3, PALETTE: 1, GREY_ALPHA: 2, RGBA: 4}
COLOURS = bytes(range(0, 48, 2)) + bytes(range(200, 248, 2))  # 16 of them
ADAM7 = (
    *((0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4)),
    *((0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2)),
)
"""First column and row, and the steps, of the seven passes (W3C, PNG, 8.2)."""


def chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def png(
    size: tuple[int, int],
    bits: int,
    kind: int,
    rows: bytes,
    *more: tuple[bytes, bytes],
    interlaced: bool = False,
    parts: int = 1,
) -> bytes:
    head = struct.pack(">IIBBBBB", *size, bits, kind, 0, 0, int(interlaced))
    data = zlib.compress(rows)
    step = -(-len(data) // parts)
    cut = [(b"IDAT", data[at : at + step]) for at in range(0, len(data), step)]
    chunks = [(b"IHDR", head), *more, *cut, (b"IEND", b"")]
    return SIGNATURE + b"".join(chunk(name, held) for name, held in chunks)


def packed(values: list[int], width: int, bits: int) -> bytes:
    """Rows of samples, none filtered."""
    rows = b""
    for at in range(0, len(values), width):
        digits = "".join(f"{value:0{bits}b}" for value in values[at : at + width])
        digits += "0" * (-len(digits) % 8)
        rows += b"\0" + int(digits, 2).to_bytes(len(digits) // 8)
    return rows


def shown(data: bytes, across: int, down: int) -> list[tuple[int, int, int]]:
    """The colour in the middle of every pixel, each drawn 4 mm wide, on white paper."""
    link = "data:image/png;base64," + base64.b64encode(data).decode()
    body = (
        f'<image href="{link}" width="{4 * across}" height="{4 * down}" '
        'image-rendering="pixelated"/>'
    )
    picture = page_pictures(print_book(book(body, width_mm=100, height_mm=100)), 25.4)[0]
    assert picture.size == (100, 100)
    found: list[Any] = [
        picture.getpixel((4 * x + 2, 4 * y + 2)) for y in range(down) for x in range(across)
    ]
    return found


def by_pillow(data: bytes) -> list[tuple[int, int, int]]:
    image = Image.open(io.BytesIO(data)).convert("RGBA")
    paper = Image.new("RGBA", image.size, "#fff")
    seen = Image.alpha_composite(paper, image).convert("RGB").tobytes()
    return [(seen[at], seen[at + 1], seen[at + 2]) for at in range(0, len(seen), 3)]


def assert_as_pillow(data: bytes, across: int, down: int) -> None:
    found, wanted = shown(data, across, down), by_pillow(data)
    assert len(set(wanted)) > 1
    for one, other in zip(found, wanted, strict=True):
        assert one == pytest.approx(other, abs=1)


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(
        [
            *((bits, kind) for kind in (GREY, PALETTE) for bits in (1, 2, 4, 8)),
            *((bits, kind) for kind in (RGB, GREY_ALPHA, RGBA) for bits in (8, 16)),
        ]
    ),
    st.integers(1, 5),
    st.integers(1, 3),
    st.integers(1, 5),
    st.data(),
)
def test_every_kind_of_png_has_its_colours(
    kind: tuple[int, int], across: int, down: int, parts: int, data: st.DataObject
) -> None:
    bits, colour = kind
    most = min(2**bits, 16) - 1 if colour == PALETTE else 2**bits - 1
    samples = _SAMPLES[colour] * across
    count = samples * down
    values = data.draw(st.lists(st.integers(0, most), min_size=count, max_size=count))
    more = [(b"PLTE", COLOURS[: 3 * (most + 1)])] if colour == PALETTE else []
    made = png((across, down), bits, colour, packed(values, samples, bits), *more, parts=parts)
    for one, other in zip(shown(made, across, down), by_pillow(made), strict=True):
        assert one == pytest.approx(other, abs=1)


def test_deep_grey_is_the_grey_of_its_upper_bits() -> None:
    """Pillow has no 8-bit reading of its own for it: 16 bits are held against the same in RGB."""
    levels = [0, 0x1234, 0x4000, 0x8000, 0xC0FF, 0xFFFF]
    grey = png((6, 1), 16, GREY, packed(levels, 6, 16))
    colour = png((6, 1), 16, RGB, packed([v for v in levels for _ in range(3)], 18, 16))
    assert shown(grey, 6, 1) == shown(colour, 6, 1) == by_pillow(colour)
    clear = png((6, 1), 16, GREY, packed(levels, 6, 16), (b"tRNS", b"\x40\x00"))
    assert [pixel[0] for pixel in shown(clear, 6, 1)] == [0, 0x12, 255, 0x80, 0xC0, 255]


@pytest.mark.parametrize(("bits", "kind"), [(8, RGB), (8, PALETTE), (1, GREY), (8, RGBA)])
def test_an_interlaced_picture_has_its_pixels_in_order(bits: int, kind: int) -> None:
    width = height = 8
    samples = _SAMPLES[kind]
    most = 15 if kind == PALETTE else 2**bits - 1
    pixels = [[(7 * (8 * y + x) + 50 * s) % (most + 1) for s in range(samples)]
              for y in range(height) for x in range(width)]  # fmt: skip
    rows = b""
    for left, top, across, down in ADAM7:
        for y in range(top, height, down):
            row = [v for x in range(left, width, across) for v in pixels[width * y + x]]
            rows += packed(row, len(row), bits)
    more = [(b"PLTE", COLOURS)] if kind == PALETTE else []
    made = png((width, height), bits, kind, rows, *more, interlaced=True)
    assert_as_pillow(made, width, height)


@pytest.mark.parametrize("bits", [1, 2, 4, 8])
def test_what_a_palette_lets_through_lets_paper_through(bits: int) -> None:
    values = [index % 2**bits for index in range(4)]
    more = [(b"PLTE", COLOURS[: 3 * min(2**bits, 16)]), (b"tRNS", b"\x00\x80")]
    assert_as_pillow(png((4, 1), bits, PALETTE, packed(values, 4, bits), *more), 4, 1)


@pytest.mark.parametrize("filtered", range(5))
def test_rows_are_taken_over_whatever_their_filter(filtered: int) -> None:
    row = bytes([filtered, 1, 2, 3, 4])
    made = png((4, 2), 8, PALETTE, b"\0\4\3\2\1" + row, (b"PLTE", COLOURS))
    assert_as_pillow(made, 4, 2)


def test_pixels_of_a_palette_lie_in_the_pdf_as_they_were_deflated() -> None:
    made = png((4, 1), 8, PALETTE, b"\0\0\1\2\3", (b"PLTE", COLOURS))
    link = "data:image/png;base64," + base64.b64encode(made).decode()
    document = pikepdf.open(
        io.BytesIO(print_book(book(f'<image href="{link}" width="9" height="9"/>')))
    )
    (image,) = document.pages[0].Resources.XObject.values()
    assert image.read_raw_bytes() == zlib.compress(b"\0\0\1\2\3")


@pytest.mark.parametrize(
    "damaged",
    [
        png((2, 1), 8, PALETTE, b"\x09\0\1", (b"PLTE", COLOURS)),  # no such filter
        png((2, 1), 8, PALETTE, b"\0\0", (b"PLTE", COLOURS)),  # a pixel too few
        png((2, 1), 8, PALETTE, b"\0\0\1\1", (b"PLTE", COLOURS)),  # a pixel too many
        png((2, 1), 8, PALETTE, b"\0\0\1", (b"PLTE", COLOURS * 20)),  # more colours than a byte
        png((2, 1), 8, PALETTE, b"\0\0\1"),  # no colours at all
        png((2, 1), 8, PALETTE, b"\0\0\1", (b"PLTE", COLOURS)).replace(COLOURS[:9], bytes(9)),
        SIGNATURE,
    ],
)
def test_a_damaged_picture_is_told(damaged: bytes) -> None:
    with pytest.raises(TemplateError, match="an image is"):
        shown(damaged, 2, 1)


def test_no_more_is_inflated_than_a_picture_holds() -> None:
    bomb = png((2, 1), 8, PALETTE, bytes(200_000_000), (b"PLTE", COLOURS))
    tracemalloc.start()
    try:
        with pytest.raises(TemplateError, match="damaged PNG"):
            shown(bomb, 2, 1)
        assert tracemalloc.get_traced_memory()[1] < 20_000_000
    finally:
        tracemalloc.stop()


@pytest.mark.parametrize(("opacity", "grey"), [("0.5", 128), ("0", 255), ("-3", 255), ("7", 0)])
def test_a_picture_shows_through_as_far_as_its_opacity_says(opacity: str, grey: int) -> None:
    link = "data:image/png;base64," + base64.b64encode(png((1, 1), 8, GREY, b"\0\0")).decode()
    body = f'<image href="{link}" width="90" height="90" opacity="{opacity}"/>'
    page = page_pictures(print_book(book(body, width_mm=90, height_mm=90)), 25.4)[0]
    assert page.getpixel((45, 45)) == pytest.approx((grey,) * 3, abs=1)


def test_a_hidden_picture_is_not_drawn() -> None:
    link = "data:image/png;base64," + base64.b64encode(png((1, 1), 8, GREY, b"\0\0")).decode()
    body = f'<g visibility="hidden"><image href="{link}" width="90" height="90"/></g>'
    page = page_pictures(print_book(book(body, width_mm=90, height_mm=90)), 25.4)[0]
    assert page.getcolors() == [(90 * 90, (255, 255, 255))]
