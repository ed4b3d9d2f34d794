"""Every symbol shows on its cell: against WCAG's contrast, in grey, and to colour-blind eyes.

Contrast: WCAG 2.1, 1.4.11 (3 : 1 for graphics that matter). Colour blindness: the matrices of
Machado, Oliveira and Fernandes (2009), severity 1, on linear RGB. The palette: Okabe and Ito
(2008), good for most eyes; that two of it are hard to tell apart in grey is computed here.
"""

from __future__ import annotations

from typing import get_args

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from publisher.drawing.base.symbols import (
    NEAR_BLACK,
    assign_symbols,
    letter_on,
    plain_ink,
    symbol_ink,
    tile_ink,
)
from publisher.drawing.chart.cells import FADED
from publisher.model.colour import WHITE, Colour, Eye, contrast
from tests.support.charts import colour
from tests.support.eyes import contrast_seen
from tests.support.shop import SLUGS, demo

GRAPHICS, TEXT = 3.0, 4.5
CHANNEL = st.integers(0, 255)
COLOURS = st.builds(Colour, CHANNEL, CHANNEL, CHANNEL)
EYES: tuple[Eye, ...] = get_args(Eye)
OKABE_ITO = ("#000000", "#e69f00", "#56b4e9", "#009e73", "#f0e442", "#0072b2", "#d55e00", "#cc79a7")


@given(COLOURS)
@example(Colour.from_hex("#c4602a"))
@example(Colour.from_hex("#5f7d3d"))
def test_the_ink_of_a_symbol_shows_on_any_cell(cell: Colour) -> None:
    ink = symbol_ink(cell)
    assert contrast(ink, cell) >= 3.5 - 1e-9 > GRAPHICS
    if contrast(ink, cell) < 5.0:
        assert ink == plain_ink(cell), "softened although the pure ink has no more than that"


@given(COLOURS)
def test_white_is_the_ink_wherever_it_has_three_and_a_half_to_one(cell: Colour) -> None:
    assert (plain_ink(cell) == WHITE) == (contrast(WHITE, cell) >= 3.5)
    assert plain_ink(cell) in (WHITE, NEAR_BLACK)


@given(COLOURS)
def test_a_letter_shows_on_its_tile_and_the_tile_on_its_cell(cell: Colour) -> None:
    tile = tile_ink(cell)
    assert contrast(tile, cell) >= GRAPHICS
    assert contrast(letter_on(tile), tile) >= TEXT


@given(COLOURS, COLOURS)
def test_one_ink_shows_on_all_faded_cells(one: Colour, other: Colour) -> None:
    pale = [paint.mix(WHITE, FADED) for paint in (one, other)]
    shared = symbol_ink(min(pale, key=lambda paint: paint.luminance))
    assert all(contrast(shared, paint) >= GRAPHICS for paint in pale)


@pytest.mark.parametrize("slug", SLUGS)
@pytest.mark.parametrize("eyes", EYES)
def test_the_symbols_of_the_demo_patterns_show_to_colour_blind_eyes(slug: str, eyes: Eye) -> None:
    for yarn in demo(slug).colours:
        seen = contrast_seen(yarn.srgb, symbol_ink(yarn.srgb), eyes)
        assert seen >= GRAPHICS, (yarn.name, eyes)


@given(st.lists(COLOURS, min_size=1, max_size=24))
def test_symbols_show_to_colour_blind_eyes_whatever_the_yarns(cells: list[Colour]) -> None:
    """Less than the 3 : 1 of common eyes, but never lost."""
    for cell in cells:
        for eyes in EYES:
            assert contrast_seen(cell, symbol_ink(cell), eyes) >= 2.0


def test_colours_alike_in_grey_are_told_by_their_signs() -> None:
    """Orange and sky blue of the palette are the same grey: only the sign is left."""
    orange, sky = Colour.from_hex("#e69f00"), Colour.from_hex("#56b4e9")
    assert contrast(orange, sky) < 1.1
    symbols = assign_symbols([colour(str(i), srgb) for i, srgb in enumerate(OKABE_ITO)])
    assert len({symbol.name for symbol in symbols.values()}) == len(OKABE_ITO)
    assert symbols["1"].name != symbols["2"].name
