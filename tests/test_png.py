"""PNG files as we write them, read by Pillow."""

from __future__ import annotations

import io
import zlib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from publisher.compression import deflated
from publisher.png import write_palette_png, write_png


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 9), st.integers(1, 9), st.integers(0, 5), st.data())
def test_every_pixel_is_read_back(
    width: int, height: int, beyond: int, data: st.DataObject
) -> None:
    stride = 3 * width + beyond
    rows = data.draw(st.binary(min_size=stride * height, max_size=stride * height))
    image = Image.open(io.BytesIO(write_png(width, height, rows, stride, 150.0)))
    image.load()
    assert (image.format, image.mode, image.size) == ("PNG", "RGB", (width, height))
    wanted = b"".join(rows[y * stride : y * stride + 3 * width] for y in range(height))
    assert image.tobytes() == wanted


@pytest.mark.parametrize("dpi", [72.0, 96.0, 110.0, 150.0, 300.0])
def test_it_says_how_many_pixels_make_an_inch(dpi: float) -> None:
    image = Image.open(io.BytesIO(write_png(1, 1, b"abc", 3, dpi)))
    assert image.info["dpi"] == pytest.approx((dpi, dpi), abs=0.013)  # whole pixels a metre


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 9), st.integers(1, 9), st.integers(1, 256), st.data())
def test_every_colour_of_a_palette_is_read_back(
    width: int, height: int, colours: int, data: st.DataObject
) -> None:
    palette = data.draw(st.binary(min_size=3 * colours, max_size=3 * colours))
    pixels = data.draw(
        st.lists(st.integers(0, colours - 1), min_size=width * height, max_size=width * height)
    )
    written = write_palette_png(width, height, bytes(pixels), palette)
    image = Image.open(io.BytesIO(written))
    assert (image.mode, image.size) == ("P", (width, height))
    wanted = b"".join(palette[3 * pixel : 3 * pixel + 3] for pixel in pixels)
    assert image.convert("RGB").tobytes() == wanted


@given(st.binary(max_size=2000))
def test_what_is_deflated_is_the_same_when_inflated(data: bytes) -> None:
    assert zlib.decompress(deflated(data)) == data
    assert deflated(data) == deflated(data)


def test_deflating_makes_much_of_the_same_small() -> None:
    assert len(deflated(b"0 0 m 9 9 l S\n" * 1000)) < 200
