"""The signs stay apart when small, blurred, mirrored or turned; heavier ones mean darker yarns."""

from __future__ import annotations

import io
import itertools
from collections.abc import Iterator
from functools import cache

import numpy as np
import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageFilter

from publisher.drawing.base.shapes import svg_path
from publisher.drawing.base.sign_font import build_sign_font
from publisher.drawing.base.signs import FIRST_CHOICE, SIGNS, Sign
from publisher.drawing.base.symbols import BLANK, assign_symbols
from publisher.fonts import font_file
from publisher.model.colour import Colour
from tests.support.cairo_library import cairosvg, needs_cairo
from tests.support.charts import colour

CELL_MM, DPI, BLUR_MM, SHIFT_PX = 4.0, 200, 0.28, 3
LEAST_APART = 0.35

Ink = np.ndarray


def _rasterised(sign: Sign, blurred: bool = True) -> Ink:
    """A sign in a cell of 4 mm as a copier would see it: how much ink each pixel has."""
    pixels = round(CELL_MM / 25.4 * DPI)
    path = svg_path(sign.outlines, 100.0)
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{pixels * 4}" height="{pixels * 4}" '
        f'viewBox="-50 -50 100 100"><rect x="-50" y="-50" width="100" height="100" fill="#fff"/>'
        f'<path d="{path}" fill-rule="evenodd"/></svg>'
    )
    image = Image.open(io.BytesIO(cairosvg.svg2png(bytestring=svg.encode()))).convert("L")
    image = image.resize((pixels, pixels), Image.Resampling.BOX)
    if blurred:
        image = image.filter(ImageFilter.GaussianBlur(BLUR_MM / 25.4 * DPI))
    return 1 - np.asarray(image, float) / 255


def _apart(one: Ink, other: Ink) -> float:
    """The share of ink that two signs do not have in common, in their best position."""
    shifts = range(-SHIFT_PX, SHIFT_PX + 1)
    return min(
        float(np.abs(one - moved).sum() / np.maximum(one, moved).sum())
        for down, right in itertools.product(shifts, shifts)
        for moved in [np.roll(other, (down, right), (0, 1))]
    )


def _turned(ink: Ink) -> Iterator[Ink]:
    """Every quarter turn and mirror image."""
    for quarter in range(4):
        yield np.rot90(ink, quarter)
        yield np.rot90(ink, quarter)[:, ::-1]


@cache
def _inks() -> dict[str, Ink]:
    return {sign.name: _rasterised(sign) for sign in SIGNS}


@needs_cairo
@pytest.mark.parametrize("name", [sign.name for sign in SIGNS])
def test_a_sign_stays_apart_from_all_others_however_they_are_mirrored_or_turned(name: str) -> None:
    for other, ink in _inks().items():
        if other < name:
            nearest = min(_apart(_inks()[name], turned) for turned in _turned(ink))
            assert nearest >= LEAST_APART, f"{name} and {other}: {nearest:.2f}"


@needs_cairo
def test_signs_are_listed_from_light_to_heavy_and_keep_inside_the_cell() -> None:
    weights = [_rasterised(sign, blurred=False).mean() for sign in SIGNS]
    assert weights == sorted(weights)
    for sign in SIGNS:
        nodes = [node for outline in sign.outlines for node in outline if node[2]]
        reach = max(abs(value) for x, y, _ in nodes for value in (x, y))
        assert reach <= 0.42, sign.name


def test_every_sign_has_its_own_name_and_character_and_a_place_in_the_order_of_use() -> None:
    names, characters = {sign.name for sign in SIGNS}, {sign.character for sign in SIGNS}
    assert len(names) == len(characters) == len(SIGNS)
    assert sorted(FIRST_CHOICE) == sorted(names)
    assert BLANK not in characters


def test_the_font_that_ships_is_made_from_the_signs_to_the_byte() -> None:
    remedy = "run: python -m publisher.drawing.base.sign_font > publisher/fonts/knot-signs.ttf"
    assert build_sign_font() == font_file("signs").read_bytes(), remedy


def test_the_fonts_glyphs_are_the_signs_one_em_wide() -> None:
    font = TTFont(font_file("signs"))
    glyphs, widths, map_ = font["glyf"], font["hmtx"], font.getBestCmap()
    assert {widths[name][0] for name in font.getGlyphOrder()} == {font["head"].unitsPerEm}
    assert glyphs[map_[ord(BLANK)]].numberOfContours == 0
    for sign in SIGNS:
        glyph = glyphs[map_[ord(sign.character)]]
        x = [node[0] for outline in sign.outlines for node in outline if node[2]]
        assert glyph.numberOfContours == len(sign.outlines)
        assert glyph.xMin <= 500 + 1000 * min(x) + 1 and glyph.xMax >= 500 + 1000 * max(x) - 1


GREYS = st.lists(st.integers(0, 255), min_size=1, max_size=70, unique=True)
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-+*/%$£"


def _yarns(greys: list[int]) -> list:
    return [
        colour(letter, Colour(grey, grey, grey).hex)
        for letter, grey in zip(LETTERS, greys, strict=False)
    ]


@given(GREYS)
def test_all_colours_differ_and_darker_yarns_never_have_lighter_signs(greys: list[int]) -> None:
    yarns = _yarns(greys)
    symbols = assign_symbols(yarns)
    shown = [symbols[yarn.letter] for yarn in sorted(yarns, key=lambda yarn: -yarn.srgb.luminance)]
    assert len({(symbol.face, symbol.character) for symbol in shown}) == len(yarns)
    if len(yarns) <= len(SIGNS):
        order = [sign.name for sign in SIGNS]
        places = [order.index(symbol.name) for symbol in shown]
        assert places == sorted(places)
    else:
        assert all(symbol.character == yarn for yarn, symbol in symbols.items())
        grounds = [len(symbol.outlines) + 2 * symbol.tile for symbol in shown]
        assert grounds == sorted(grounds, key=[0, 2, 3].index)


@given(GREYS, st.randoms(use_true_random=False))
def test_a_colour_keeps_its_symbol_in_whatever_order_the_colours_are_listed(
    greys: list[int], shuffler: object
) -> None:
    yarns = _yarns(greys)
    shuffled = list(yarns)
    shuffler.shuffle(shuffled)  # type: ignore[attr-defined]
    assert assign_symbols(yarns) == assign_symbols(shuffled)


def test_six_colours_have_the_six_signs_that_tell_most_from_each_other() -> None:
    symbols = assign_symbols(_yarns([255, 200, 150, 100, 50, 0])).values()
    assert {symbol.name for symbol in symbols} == set(FIRST_CHOICE[:6])
