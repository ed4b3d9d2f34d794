"""A maker is told how sure the lengths are, and how to find out: read from the plain text."""

from __future__ import annotations

from dataclasses import replace

import pytest

from publisher.layout import lay_out_text
from publisher.model.pattern import Gauge, Pattern
from tests.support.parts import part, pattern_of
from tests.support.shop import demo, manuscript

COMPUTED = "What a knot takes is computed, for hard round cord:"
OF_PARTS = "What the knots of the parts take is computed, for hard round cord:"
TABLE = "15 % short for cord of 1.5 mm, and 42 % over for cord of 5 mm."
MAKE_ONE = "Make one part before you cut the cords for more."


def printed(pattern: Pattern) -> str:
    text = lay_out_text(manuscript(pattern, "plain-text"))
    return " ".join(text.replace("\u00a0", " ").split())


def with_swatch(slug: str, swatch: Gauge) -> Pattern:
    pattern = demo(slug)
    pieces = tuple(
        replace(piece, gauge=swatch) if piece in pattern.charts else piece
        for piece in pattern.pieces
    )
    return replace(pattern, pieces=pieces)


def test_without_a_swatch_it_is_told_both_ways_and_twenty_knots_decide() -> None:
    """Tide Lines: 4 mm yarn round two strands of 4 mm, 2 x (8 pi + 8) + 26.6 = 92.9 mm a knot."""
    text = printed(demo("tide-lines"))
    assert f"{COMPUTED} against a published table of square knots, {TABLE}" in text
    twenty = 20 * (2 * (8 * 3.14159 + 8) + 26.6)
    assert 1855 < twenty < 1860
    assert "knot twenty in shell cream and unpick them: if they took more than 186 cm" in text
    assert OF_PARTS not in text and MAKE_ONE not in text


@pytest.mark.parametrize(
    ("swatch", "told"),
    [
        (Gauge(yarn_mm_per_knot=90.0), False),
        (Gauge(columns=20, width_mm=300.0, rows=20, height_mm=210.0), True),
    ],
)
def test_a_swatch_that_gives_the_yarn_a_knot_is_enough_and_no_other(
    swatch: Gauge, told: bool
) -> None:
    text = printed(with_swatch("tide-lines", swatch))
    assert (COMPUTED in text) is told
    assert ("of yarn, on our swatch" in text) is not told


def test_parts_have_no_swatch() -> None:
    measured = printed(with_swatch("kingfisher-over-reeds", Gauge(yarn_mm_per_knot=60.0)))
    assert f"{OF_PARTS} against" in measured and f"{TABLE} {MAKE_ONE}" in measured
    both = printed(with_swatch("kingfisher-over-reeds", Gauge()))
    assert COMPUTED in both and OF_PARTS not in both and both.count(TABLE) == 1
    assert f"buy and cut more in proportion. {MAKE_ONE}" in both
    alone = replace(pattern_of(part()), pieces=(part(),))
    assert f"{TABLE} {MAKE_ONE}" in printed(alone) and "knot twenty" not in printed(alone)
