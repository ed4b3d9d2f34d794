"""Groups of shapes that come many times lie in the file once, and look as if each were drawn."""

from __future__ import annotations

import io

import pikepdf
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import ImageChops

from publisher.press import page_pictures, print_book
from tests.support.svg_books import book

SHAPES = (
    '<path d="M0 0q3 9 12 4" fill="none" stroke="#4d5a2a" stroke-width="1.4"/>'
    '<rect x="2" y="2" width="5" height="4" fill="#c04020" opacity=".5"/>'
    '<g transform="rotate(20)"><circle cx="9" cy="3" r="2" stroke="#222" stroke-dasharray="1"/></g>'
)
BEFORE = '<rect width="3" height="1" stroke="#000" opacity=".3"/>'
STYLES = st.sampled_from(["", 'fill="#08c"', 'stroke="#00f" stroke-width=".3"', 'fill="none"'])
PLACES = st.tuples(st.integers(20, 150), st.integers(20, 250), STYLES)


def figure(x: int, y: int, style: str, named: bool, inside: str = SHAPES) -> str:
    form = ' data-form="knot"' if named else ""
    return (
        f'<g data-tag="Link" data-href="https://example.org">'
        f'<g transform="translate({x} {y})" {style}>'
        f"{BEFORE}<g{form}>{inside}</g></g></g>"
    )


def pages_of(places: list[list[tuple[int, int, str]]], named: bool) -> list[str]:
    return ["".join(figure(*place, named) for place in page) for page in places]


def links(pdf: pikepdf.Pdf) -> list[list[float]]:
    """Where a reader can click."""
    return [[float(side) for side in note.Rect] for page in pdf.pages for note in page.Annots]


@settings(max_examples=15)
@given(st.lists(st.lists(PLACES, min_size=1, max_size=5), min_size=1, max_size=3))
def test_a_group_laid_on_as_a_form_looks_as_the_group_drawn(
    places: list[list[tuple[int, int, str]]],
) -> None:
    named = print_book(book(*pages_of(places, named=True)))
    drawn = print_book(book(*pages_of(places, named=False)))
    for one, other in zip(page_pictures(named, 60), page_pictures(drawn, 60), strict=True):
        steps = ImageChops.difference(one, other).getextrema()
        assert max(most for _, most in steps) <= 3  # what shows through is rounded once more
    with pikepdf.open(io.BytesIO(named)) as one, pikepdf.open(io.BytesIO(drawn)) as other:
        for box, expected in zip(links(one), links(other), strict=True):
            assert all(abs(a - b) < 0.01 for a, b in zip(box, expected, strict=True))


def test_a_group_that_comes_many_times_is_in_the_file_once() -> None:
    pages = [figure(20 + n, 30, "", named=True) for n in range(40)]
    with pikepdf.open(io.BytesIO(print_book(book(*pages)))) as pdf:
        forms = {
            form.objgen
            for page in pdf.pages
            for form in page.Resources.get("/XObject", {}).values()
        }
    assert len(forms) == 1


def test_a_form_is_drawn_in_the_style_that_holds_where_it_stands() -> None:
    red, blue = (figure(20, 30, f'fill="{paint}"', True, BLOCK) for paint in ("#f00", "#00f"))
    shown = page_pictures(print_book(book(red, blue)), 30)
    assert [picture.getpixel((30, 40)) for picture in shown] == [(255, 0, 0), (0, 0, 255)]


BLOCK = '<rect width="20" height="20"/>'


def test_words_in_a_named_group_stay_text() -> None:
    words = figure(20, 30, "", True, '<text x="1" y="5">Reeds</text>')
    with pikepdf.open(io.BytesIO(print_book(book(words)))) as pdf:
        assert "/XObject" not in pdf.pages[0].Resources
