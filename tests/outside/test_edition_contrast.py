"""Every edition's contrast, as printed and as its look states it.

WCAG 2.1: 1.4.3, text 4.5 to 1, large text (18 pt, or bold from 14 pt) 3 to 1; 1.4.11, graphics
that matter 3 to 1. Hairlines and tints part and group what is told by place and words too: they
are decoration, and have no figure to reach.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

import pytest

from publisher.manuscript.edition import edition_form, read_edition
from publisher.model.colour import Colour, contrast
from tests.support.printed import Letter, Sheet, letters, opened
from tests.support.shop import demo_pdf, installed

EDITIONS = tuple(
    name for name in installed().names("editions") if edition_form(installed(), name) == "pages"
)
TEXT, LARGE, GRAPHICS = 4.5, 3.0, 3.0
DPI = 130
SLACK = 0.02  # of a colour's rounding to eight bits


def least(letter: Letter) -> float:
    if not letter.is_text:
        return GRAPHICS
    bold = "Bold" in letter.font
    return LARGE if letter.size_pt >= 18 or (bold and letter.size_pt >= 14) else TEXT


def samples(page: list[Letter]) -> Iterator[Letter]:
    """The first, a middle and the last letter of every stretch of one colour on one line."""
    shown = (letter for letter in page if letter.text.strip())
    for _, same in groupby(shown, key=lambda one: (one.fill, one.font, round(one.base_pt))):
        stretch = list(same)
        places = {0, len(stretch) // 2, len(stretch) - 1}
        yield from (stretch[at] for at in sorted(places))


def rim(page: list[Letter], letter: Letter) -> Colour | None:
    """The colour of the sign that was drawn under a sign to part it from any yarn's."""
    if letter.is_text:
        return None
    for under in page:
        if under is letter:
            return None
        sides = zip(under.box, letter.box, strict=True)
        if not under.is_text and all(
            abs(one - other) < 0.4 * letter.size_pt for one, other in sides
        ):
            return under.fill
    return None


@pytest.mark.parametrize("edition", EDITIONS)
def test_everything_printed_stands_out_from_what_is_under_it(edition: str) -> None:
    seen = 0
    with opened(demo_pdf("tide-lines", edition)) as document:
        for number, page in enumerate(document, 1):
            sheet = Sheet.of(page, DPI)
            found = letters(page)
            for letter in samples(found):
                under = rim(found, letter) or sheet.under(letter)
                ratio = contrast(letter.fill, under)
                assert ratio >= least(letter) - SLACK, (number, letter, under.hex, ratio)
                seen += 1
    assert seen > 500


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_every_pair_of_the_look_has_its_contrast(edition: str, paper: str) -> None:
    look = read_edition(installed(), edition, paper).look
    named = look.colours
    for role, style in look.type.items():
        wanted = LARGE if style.size_pt >= 18 else TEXT
        assert contrast(named[style.colour], named["paper"]) >= wanted, role
    texts = [  # ink of words, and what they stand on where it is not plain paper
        ("accent", "paper"),
        ("paper", "accent"),
        ("ink", "tint"),
        ("ink", "band"),
        ("ink", "figure"),
        ("soft", "figure"),
        ("soft", "band"),
        ("paper", "ink"),
    ]
    for front, back in texts:
        assert contrast(named[front], named[back]) >= TEXT, (front, back)
    for front, back in (("grid", "paper"), ("accent", "figure"), ("accent", "tint")):
        assert contrast(named[front], named[back]) >= GRAPHICS, (front, back)
