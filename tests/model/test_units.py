"""What people read: rounding, real fractions, groups of three."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.model import units

LENGTHS_MM = st.floats(0, 1e6)


@pytest.mark.parametrize(
    ("length_mm", "words", "column"),
    [
        (0, "0", "0.0"),
        (4, "0.5", "0.5"),
        (370, "37", "37.0"),
        (373, "37.5", "37.5"),
        (3210, "321", "321.0"),
        (12345, "1,234.5", "1,234.5"),
    ],
)
def test_centimetres_are_halves(length_mm: float, words: str, column: str) -> None:
    assert units.centimetres(length_mm) == words
    assert units.centimetres(length_mm, fixed=True) == column


@pytest.mark.parametrize(
    ("number", "parts", "text"),
    [
        (0, 4, "0"),
        (0.5, 4, "½"),
        (0.25, 4, "¼"),
        (17.5, 4, "17½"),
        (14.75, 4, "14¾"),
        (6, 4, "6"),
        (0.125, 8, "⅛"),
        (2.375, 8, "2⅜"),
        (2.625, 8, "2⅝"),
        (2.875, 8, "2⅞"),
        (1.5, 2, "1½"),
        (1.5, 1, "2"),
        (1234.25, 4, "1,234¼"),
    ],
)
def test_fractions_are_real_and_in_lowest_terms(number: float, parts: int, text: str) -> None:
    assert units.fraction(number, parts) == text  # type: ignore[arg-type]


def test_inches_to_cut_round_up_and_sizes_to_the_nearest() -> None:
    assert units.inches(2541, "up") == "100¼"
    assert units.inches(2540, "up") == "100"
    assert units.inches(370) == "14½"
    assert units.inches(373) == "14¾"


def test_what_is_bought_rounds_up() -> None:
    assert units.metres(184_001) == "185"
    assert units.metres(184_000) == "184"
    assert units.metres(71_750, "nearest", 1) == "71.8"
    assert units.yards(914.4 * 3) == "3"
    assert units.yards(914.4 * 3 + 1) == "4"
    assert units.grams(847.2) == "848"
    assert units.ounces(848) == "30.0"
    assert units.kilograms(1249) == "1.2"
    assert units.pounds(1249) == "2.8"


def test_counts_and_money_are_in_groups_of_three() -> None:
    assert units.whole(3072) == "3,072"
    assert units.decimal(1234.5, 2) == "1,234.50"
    assert units.decimal(7.2, 2) == "7.20"
    assert units.millimetres(12.0) == "12"
    assert units.millimetres(3.5) == "3.5"
    assert units.millimetres(3.5, places=0) == "4"
    assert units.millimetres(20.2, "up", places=0) == "21"


@given(LENGTHS_MM)
def test_a_length_to_cut_is_never_printed_short(length_mm: float) -> None:
    """In either unit system, what is printed is enough (to a millionth of a step)."""
    cm = float(units.centimetres(length_mm, "up").replace(",", ""))
    assert cm * 10 >= length_mm - 1e-5
    assert cm * 10 < length_mm + 5.01
    parts = {"¼": 0.25, "½": 0.5, "¾": 0.75}
    text = units.inches(length_mm, "up").replace(",", "")
    inch = parts[text[-1]] + float(text[:-1] or 0) if text[-1] in parts else float(text)
    assert inch * 25.4 >= length_mm - 1e-4
    assert inch * 25.4 < length_mm + 25.4 / 4 + 1e-4


@given(LENGTHS_MM, st.sampled_from([0.5, 1, 5, 10, 50]))
def test_rounding_keeps_what_is_whole_already(length_mm: float, step: float) -> None:
    for way in ("up", "nearest"):
        once = units.round_to(length_mm, step, way)  # type: ignore[arg-type]
        assert units.round_to(once, step, way) == once  # type: ignore[arg-type]
        assert abs(once - length_mm) <= (step if way == "up" else step / 2) + 1e-5
