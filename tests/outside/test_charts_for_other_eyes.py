"""Printed charts to colour-blind eyes and on a grey copier: every symbol still shows on its cell.

Colour blindness: Machado, Oliveira and Fernandes (2009), severity 1. Grey: the luma of ITU-R
BT.601, which copiers and printer drivers take. Contrast: WCAG 2.1, 1.4.11, 3 to 1.
"""

from __future__ import annotations

from collections import Counter, defaultdict

import pytest

from publisher.drawing.base.symbols import assign_symbols
from publisher.model.colour import WHITE, Colour, contrast
from tests.support.eyes import contrast_seen
from tests.support.printed import Letter, Sheet, letters, opened
from tests.support.shop import demo, demo_pdf

GRAPHICS = 3.0
DPI = 100
BOOKS = (
    ("tide-lines", "booklet"),
    ("tide-lines", "large-print"),
    ("tide-lines", "ink-saver"),
    ("kingfisher-over-reeds", "left-handed"),
    ("boats-at-the-weir", "booklet"),
)


def grey(colour: Colour) -> Colour:
    level = round(0.299 * colour.red + 0.587 * colour.green + 0.114 * colour.blue)
    return Colour(level, level, level)


def covered(sign: Letter, numbers: dict[int, list[float]]) -> bool:
    """Does a number stand in the sign's cell: a part's place, or the count of a long run?
    `numbers`: their middles across, by their middles up in steps of 4 points."""
    x, y = sign.middle
    near = (across for step in (-1, 0, 1) for across in numbers.get(round(y / 4) + step, ()))
    return any(abs(across - x) < 0.5 * sign.size_pt for across in near)


def printed_cells(slug: str, edition: str) -> Counter[tuple[str, Colour, Colour]]:
    """(sign, its ink, its cell's colour) and how often they are printed on the chart's pages."""
    signs = {symbol.character for symbol in assign_symbols(demo(slug).colours).values()}
    found: Counter[tuple[str, Colour, Colour]] = Counter()
    with opened(demo_pdf(slug, edition)) as document:
        for page in document:
            if "Chart" not in page.get_textpage().get_text_range()[:120]:
                continue
            shown = letters(page)
            sheet = Sheet.of(page, DPI)
            numbers = defaultdict(list)
            for one in shown:
                if one.is_text and one.text.isdigit():
                    numbers[round(one.middle[1] / 4)].append(one.middle[0])
            for letter in shown:
                if letter.text in signs and not letter.is_text and not covered(letter, numbers):
                    found[letter.text, letter.fill, sheet.under(letter, 0.42)] += 1
    return found


@pytest.mark.parametrize(("slug", "edition"), BOOKS)
def test_every_symbol_shows_to_all_eyes_and_in_grey(slug: str, edition: str) -> None:
    cells = printed_cells(slug, edition)
    assert sum(cells.values()) > 400
    for (sign, ink, cell), count in cells.items():
        if count < 4:  # half under a mark
            continue
        for eye in ("protan", "deutan", "tritan"):
            assert contrast_seen(ink, cell, eye) >= GRAPHICS, (sign, cell.hex, eye)
        assert contrast(grey(ink), grey(cell)) >= GRAPHICS, (sign, cell.hex, "grey")


@pytest.mark.parametrize("slug", ["tide-lines", "kingfisher-over-reeds", "boats-at-the-weir"])
def test_no_two_colours_share_a_sign_however_alike_they_look(slug: str) -> None:
    symbols = assign_symbols(demo(slug).colours)
    assert len({symbol.character for symbol in symbols.values()}) == len(symbols)


def test_the_ink_saver_prints_no_cell_but_paper() -> None:
    for (_, _, cell), count in printed_cells("tide-lines", "ink-saver").items():
        assert count < 4 or contrast(cell, WHITE) < 1.03
