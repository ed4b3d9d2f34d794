"""Pixels have the shape that the PNG Specification gives them, as another program writes it.

PNG Specification (W3C; ISO/IEC 15948), 11.3.4.3 pHYs: pixels a unit along x and along y, and the
unit, 0 (unknown: the chunk tells the pixels' proportion only) or 1 (the metre). Without the
chunk, pixels are taken as square. An inch is 0.0254 m.
"""

from __future__ import annotations

import struct
from io import BytesIO

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from PIL.PngImagePlugin import putchunk

from publisher.model.colour import Colour
from publisher.source.picture import ChartPicture, read_picture

BLACK = Colour(0, 0, 0)
MOST = 2**31 - 1
"""The largest number that a chunk may have (7.1)."""


def saved(**options: object) -> bytes:
    file = BytesIO()
    Image.new("RGB", (3, 2)).save(file, "PNG", **options)
    return file.getvalue()


def with_pixels(across: int, down: int, unit: int) -> bytes:
    """The chunk before the pixels, where 5.6 wants it."""
    png = saved()
    at = png.index(b"IDAT") - 4
    chunk = BytesIO()
    putchunk(chunk, b"pHYs", struct.pack(">IIB", across, down, unit))
    return png[:at] + chunk.getvalue() + png[at:]


def proportion(png: bytes) -> float:
    read = read_picture(png, {BLACK: "N"}, {"N": "ink"})
    assert isinstance(read, ChartPicture)
    assert read.rows == ("NNN", "NNN")
    return read.pixel_proportion


def test_no_chunk_is_square() -> None:
    assert proportion(saved()) == 1.0


@pytest.mark.parametrize("dots", [(72, 72), (96, 96), (300, 300), (1, 1)])
def test_one_resolution_is_square(dots: tuple[int, int]) -> None:
    assert proportion(saved(dpi=dots)) == 1.0


@given(st.integers(50, 20_000), st.integers(50, 20_000))
def test_dots_an_inch(across: int, down: int) -> None:
    """The writer rounds to whole pixels a metre: half of one in some two thousand at 50."""
    assert proportion(saved(dpi=(across, down))) == pytest.approx(down / across, rel=6e-4)


@given(st.integers(1, MOST), st.integers(1, MOST), st.sampled_from([0, 1]))
def test_whole_numbers_are_read_as_they_stand(across: int, down: int, unit: int) -> None:
    assert proportion(with_pixels(across, down, unit)) == down / across


def test_a_fifth_by_a_seventh() -> None:
    """Five pixels across take what seven take down: each is 1.4 times as wide as high."""
    assert proportion(with_pixels(5, 7, 0)) == pytest.approx(1.4)
