"""The small tables inside a piece or a house: carry, mount, cords, fringe, gauge."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from publisher.frozen import frozen
from publisher.knots import Knot
from publisher.knots.defaults import defaults
from publisher.knots.load import is_ours, names_of_ours, package_knot
from publisher.model.pattern import FringeShape
from publisher.tables.schema import (
    LEAST_KNOT_MM,
    THINNEST_BAR_MM,
    Schema,
    choice,
    letter,
    number,
    one_of,
    optional,
    table_schema,
    whole,
    word_or,
)


@frozen(kw_only=True)
class CarryTable:
    """`carry = { columns = 6, rows = 2 }`"""

    columns: int | None = optional(
        whole(0, 10_000), "The most cords that a yarn may be carried along behind.", "columns = 6"
    )
    rows: int | None = optional(
        whole(0, 10_000), "The most rows that a yarn may be carried down.", "rows = 2"
    )


CarryWord = Literal["never", "row"]
CARRY = word_or(("never", "row"), table_schema(CarryTable))


def knot_that(test: Callable[[Knot], bool]) -> Schema:
    """One of the package's knots that pass a test."""

    def known(name: str) -> bool:
        return is_ours(name) and test(package_knot(name))

    return one_of(lambda: names_of_ours(test), known)


MOUNTING_KNOT = knot_that(lambda knot: knot.mounts)
MOUNT = f'mount = {{ knot = "{defaults().mount}", on = "dowel", diameter_mm = 12 }}'


@frozen(kw_only=True)
class MountTable:
    """`mount = { knot = …, on = "dowel", diameter_mm = 12 }`"""

    knot: str | None = optional(
        MOUNTING_KNOT, "The knot that each cord is mounted with.", f'knot = "{defaults().mount}"'
    )
    on: str | None = optional(choice("dowel"), "What the cords hang on.", 'on = "dowel"')
    diameter_mm: float | None = optional(
        number(THINNEST_BAR_MM, 200), "How thick the dowel is, in mm.", "diameter_mm = 12"
    )


@frozen(kw_only=True)
class CordsTable:
    """`cords = { colour = "N", strands = 2 }`"""

    colour: str | None = optional(
        letter(), "The letter of the mounted cords' colour.", 'colour = "N"'
    )
    strands: int | None = optional(
        whole(1, 2),
        "Strands a column: 2 (both tails of a folded cord) or 1 (one tail; a cord serves two).",
        "strands = 2",
    )


@frozen(kw_only=True)
class FringeTable:
    """`fringe = { shape = "point", longest_mm = 200, shortest_mm = 90 }`"""

    shape: FringeShape | None = optional(
        choice("straight", "point", "arch"),
        "How the fringe ends: straight, point (long in the middle), arch (long at the edges).",
        'shape = "straight"',
    )
    longest_mm: float | None = optional(
        number(0, 5_000), "The fringe's length where it is longest, in mm.", "longest_mm = 150"
    )
    shortest_mm: float | None = optional(
        number(0, 5_000), "The fringe's length where it is shortest, in mm.", "shortest_mm = 90"
    )


@frozen(kw_only=True)
class GaugeTable:
    """`gauge = { columns = 20, width_mm = 160, rows = 20, height_mm = 170 }`"""

    columns: int | None = optional(
        whole(1, 1_000), "Columns counted on your own swatch.", "columns = 20"
    )
    width_mm: float | None = optional(
        number(LEAST_KNOT_MM, 10_000), "How wide those columns are, in mm.", "width_mm = 160"
    )
    rows: int | None = optional(whole(1, 1_000), "Rows counted on your own swatch.", "rows = 20")
    height_mm: float | None = optional(
        number(LEAST_KNOT_MM, 10_000), "How high those rows are, in mm.", "height_mm = 170"
    )
    yarn_mm_per_knot: float | None = optional(
        number(LEAST_KNOT_MM, 5_000),
        "Yarn that one knot takes, in mm: unpick ten knots of your swatch and measure.",
        "yarn_mm_per_knot = 62",
    )
