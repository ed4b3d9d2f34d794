"""Figures in web pages are right in whatever faces a browser has."""

from __future__ import annotations

import re

import pytest

from publisher.fonts import svg_font, text_width_mm
from publisher.fonts.shaping import MM_PER_PT
from publisher.layout.browsers import for_browsers
from publisher.model.figure import Figure
from tests.support.charts import look, plan_of, tile_of

SIGNS = '<g fill="#000" font-family="Knot Signs" font-size="2">'
LETTERS = '<g font-family="Source Sans Pro" font-weight="bold" font-size="2">'


def for_web(svg: str) -> str:
    drawn = for_browsers(Figure(svg, 10, 10, "alt"))
    assert (drawn.width_mm, drawn.height_mm, drawn.alt) == (10, 10, "alt")
    return drawn.svg


def wide(words: str, face: str = "bold") -> float:
    return text_width_mm(words, face, 2 / MM_PER_PT)


def test_signs_are_spaced_evenly() -> None:
    svg = f'{SIGNS}<text data-advance="2.5" x="-1" y="3">ab</text></g>'
    spaced = '<text letter-spacing="0.5" x="-1" y="3">ab</text>'
    assert for_web(svg) == f"{SIGNS}{spaced}</g>"


def test_letters_in_place_of_signs_stand_each_about_its_own_middle() -> None:
    svg = f'{LETTERS}<text data-advance="2.5" x="-1" y="3">a&amp;\u00a0b</text></g>'
    (places,) = re.findall(r'<text x="([^"]+)" y="3" text-anchor="middle">a&amp;', for_web(svg))
    middles = [-1 + 2.5 * step + wide(one) / 2 for step, one in enumerate("a&\u00a0b")]
    assert [float(place) for place in places.split()] == pytest.approx(middles, abs=0.006)


def test_words_of_a_line_stay_where_they_begin() -> None:
    svg = f'{LETTERS}<text x="1" y="3">cords 7 and 8</text></g>'
    assert for_web(svg) == svg


def test_a_text_has_its_own_face_before_that_of_its_group() -> None:
    own = " ".join(f'{name}="{value}"' for name, value in svg_font("sans").items())
    svg = f'{LETTERS}<g /><g fill="#000"><text {own} x="1" y="3">12</text></g></g>'
    (place,) = re.findall(r' x="([^"]+)"', for_web(svg))
    assert float(place) == pytest.approx(1 + wide("12", "sans") / 2, abs=0.006)


def test_the_count_of_a_run_stands_in_the_middle_of_its_place() -> None:
    figure, view = tile_of(plan_of("A" * 14), 1, look())
    found = re.findall(
        r'<text x="([-\d.]+)" y="([-\d.]+)" text-anchor="middle">14</text>', for_web(figure.svg)
    )
    inside = [float(x) for x, y in found if view.top < float(y) < view.bottom]
    assert inside == pytest.approx([view.x(2.5)], abs=0.011)
