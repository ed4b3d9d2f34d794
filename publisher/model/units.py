"""Turn lengths and weights into the numbers that people read, in both unit systems.

All numbers that are printed for people are written here. Rounding says which way: `"up"` for
what is cut or bought, `"nearest"` for finished sizes.
"""

from __future__ import annotations

import math
from typing import Literal

Way = Literal["up", "nearest"]

MM_PER_INCH = 25.4
MM_PER_YARD = 914.4
GRAMS_PER_OUNCE = 28.349523125
GRAMS_PER_POUND = 453.59237
"""All four: NIST SP 811, appendix B."""

_FRACTIONS = {
    (1, 2): "½",
    (1, 4): "¼",
    (3, 4): "¾",
    (1, 8): "⅛",
    (3, 8): "⅜",
    (5, 8): "⅝",
    (7, 8): "⅞",
}


def round_to(value: float, step: float, way: Way = "nearest") -> float:
    """The value in whole steps: up, or the nearest (halves go up).

    Up forgives a millionth of a step, which only arithmetic adds: 3.0000000001 stays 3.
    """
    steps = value / step
    whole = math.ceil(round(steps, 6)) if way == "up" else math.floor(round(steps, 9) + 0.5)
    return whole * step


def whole(number: float) -> str:
    """A count, in groups of three: `3,072`."""
    return f"{round(number):,}"


def decimal(number: float, places: int) -> str:
    """A number with so many decimals, in groups of three: `1,452.0`."""
    return f"{round_to(number, 10.0**-places):,.{places}f}"


def fraction(number: float, parts: Literal[1, 2, 4, 8] = 4, way: Way = "nearest") -> str:
    """A number, zero or more, in whole halves, quarters or eighths: `17½`, `¾`, `6`."""
    total = round(round_to(number * parts, 1, way))
    units, rest = divmod(total, parts)
    if not rest:
        return f"{units:,}"
    shared = math.gcd(rest, parts)
    sign = _FRACTIONS[rest // shared, parts // shared]
    return f"{units:,}{sign}" if units else sign


def centimetres(length_mm: float, way: Way = "nearest", *, fixed: bool = False) -> str:
    """A length in cm, to halves: `37.5`, `10`. `fixed` keeps the decimal for columns: `10.0`."""
    halves = round_to(length_mm / 10, 0.5, way)
    return f"{halves:,.1f}" if fixed or halves % 1 else f"{halves:,.0f}"


def millimetres(length_mm: float, way: Way = "nearest", places: Literal[0, 1] = 1) -> str:
    """A small length in mm, to tenths unless told, none where it is whole: `12`, `3.5`."""
    rounded = round_to(length_mm, 10.0**-places, way)
    return f"{rounded:,.{places}f}".removesuffix(".0")


def inches(length_mm: float, way: Way = "nearest", parts: Literal[1, 2, 4, 8] = 4) -> str:
    """A length in inches, to quarters (or as told): `14½`."""
    return fraction(length_mm / MM_PER_INCH, parts, way)


def quarter_inches(length_mm: float) -> float:
    """The inches of a length that is cut with an inch rule: whole quarters, rounded up, as
    `inches(length_mm, "up")` writes them."""
    return round_to(length_mm / MM_PER_INCH, 0.25, "up")


def metres(length_mm: float, way: Way = "up", places: int = 0) -> str:
    """A length in metres, whole unless told: `185`."""
    return f"{round_to(length_mm / 1000, 10.0**-places, way):,.{places}f}"


def yards(length_mm: float, way: Way = "up", places: int = 0) -> str:
    """A length in yards, whole unless told: `203`."""
    return f"{round_to(length_mm / MM_PER_YARD, 10.0**-places, way):,.{places}f}"


def grams(mass_g: float, way: Way = "up") -> str:
    """A mass in whole grams: `848`."""
    return f"{round_to(mass_g, 1, way):,.0f}"


def kilograms(mass_g: float, way: Way = "nearest") -> str:
    """A mass in kg, to tenths: `1.2`."""
    return f"{round_to(mass_g / 1000, 0.1, way):,.1f}"


def ounces(mass_g: float, way: Way = "up") -> str:
    """A mass in ounces, to tenths: `29.9`."""
    return f"{round_to(mass_g / GRAMS_PER_OUNCE, 0.1, way):,.1f}"


def pounds(mass_g: float, way: Way = "nearest") -> str:
    """A mass in pounds, to tenths: `2.6`."""
    return f"{round_to(mass_g / GRAMS_PER_POUND, 0.1, way):,.1f}"
