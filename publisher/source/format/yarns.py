"""The tables of yarns and of colours."""

from __future__ import annotations

from publisher.frozen import frozen
from publisher.model.pattern import Fibre
from publisher.source.format.parts import CARRY, CarryTable, CarryWord
from publisher.tables.schema import (
    LEAST_KNOT_MM,
    any_name,
    choice,
    hex_colour,
    key,
    line,
    number,
    optional,
)


@frozen(kw_only=True)
class YarnTable:
    """`[yarns.cotton-3]`"""

    name: str = key(
        line(100),
        "What the yarn is called in the shopping list.",
        'name = "3 mm single-twist cotton"',
        stand_in="a yarn",
    )
    diameter_mm: float = key(
        number(LEAST_KNOT_MM, 50),
        "How thick the yarn is, in mm.",
        "diameter_mm = 3.0",
        stand_in=1.0,
    )
    grams_per_metre: float | None = optional(
        number(0.01, 1_000),
        "What a metre weighs, in grams (weigh ten metres and divide). This or tex.",
        "grams_per_metre = 4.6",
    )
    tex: float | None = optional(
        number(10, 1_000_000),
        "What a kilometre weighs, in grams (ISO 1144). This or grams_per_metre.",
        "tex = 4600",
    )
    ball_metres: float | None = optional(
        number(1, 100_000), "Metres on one ball.", "ball_metres = 100"
    )
    ball_grams: float | None = optional(
        number(1, 100_000), "Grams in one ball.", "ball_grams = 450"
    )
    fibre: Fibre | None = optional(
        choice("cotton", "wool", "jute", "synthetic"),
        "What it is made of: how a finished piece is smoothed depends on it.",
        'fibre = "cotton"',
    )
    price: float | None = optional(
        number(0, 1_000_000),
        "What one ball costs, in the currency that house.toml names.",
        "price = 7.20",
    )


@frozen(kw_only=True)
class ColourTable:
    """`[colours.N]`"""

    name: str = key(
        line(100),
        "What the colour is called in the key and the lists.",
        'name = "night navy"',
        stand_in="a colour",
    )
    srgb: str = key(
        hex_colour(),
        "The colour on screen and paper: # and six signs, 0 to 9 and a to f.",
        'srgb = "#1f2a44"',
        stand_in="#000000",
    )
    yarn: str = key(
        any_name(),
        "Which yarn it is: a name from [yarns], in this file or in house.toml.",
        'yarn = "cotton-3"',
        stand_in="cotton-3",
    )
    carry: CarryTable | CarryWord | None = optional(
        CARRY,
        'The furthest that yarn of this colour may be carried; "row": as far as needed within '
        "a row, and from one row to another as its piece says.",
        "carry = { columns = 4, rows = 1 }",
    )
