"""A length is told as exactly as it can be knotted and cut, in both systems."""

from __future__ import annotations

import re

import pytest

from publisher.layout import lay_out_text
from publisher.manuscript.measures import Measures
from publisher.manuscript.words import read_words
from tests.support.shop import demo, installed, manuscript, small
from tests.support.told_rows import millimetres


@pytest.mark.parametrize(
    ("length_mm", "told"),
    [
        (150.0, "15 cm (6 in)"),
        (30.0, "3 cm (1¼ in)"),
        (29.0, "29 mm (1⅛ in)"),
        (15.0, "15 mm (⅝ in)"),
        (12.0, "12 mm (½ in)"),
        (10.0, "10 mm (⅜ in)"),
    ],
)
def test_a_short_length_is_told_to_a_millimetre_and_an_eighth_of_an_inch(
    length_mm: float, told: str
) -> None:
    measures = Measures(read_words(installed()), "metric-first")
    assert plain(measures.length(length_mm)) == told


def test_a_short_length_to_cut_is_rounded_up_in_both_systems() -> None:
    measures = Measures(read_words(installed()), "inch-first")
    assert plain(measures.length(10.2, "up")) == "½ in (11 mm)"
    assert plain(measures.metric_or_inch(10.2, "up")) == "½ in"
    assert plain(measures.metric_or_inch(13.0)) == "½ in"


@pytest.mark.parametrize("columns", range(1, 24, 2))
def test_dowel_and_hanging_cord_are_as_long_in_inches_as_in_centimetres(columns: int) -> None:
    """Or up to a quarter of an inch longer, and never shorter."""
    text = plain(lay_out_text(manuscript(small(("C" * columns,)), "plain-text")))
    words = " ".join(text.split())
    told = re.findall(r"(?:thick|Hanging cord), (\S+) cm \((\S+) in\) (?:long|of)", words)
    assert len(told) == 2
    for cm, inch in told:
        assert 0 <= millimetres(f"{inch}in") - millimetres(f"{cm}cm") < 25.4 / 4


@pytest.mark.parametrize(
    ("slug", "lengths"),
    [
        ("lock-keepers-key-cord", ["12 mm (½ in)"]),
        ("kingfisher-over-reeds", ["10 mm (⅜ in)", "15 mm (⅝ in)"]),
    ],
)
def test_gaps_and_trims_are_printed_as_the_pattern_has_them(slug: str, lengths: list[str]) -> None:
    told = plain(lay_out_text(manuscript(demo(slug), "plain-text")))
    for length in lengths:
        assert length in told


def plain(text: str) -> str:
    """With blanks that a line can be broken at."""
    return text.replace("\N{NO-BREAK SPACE}", " ")
