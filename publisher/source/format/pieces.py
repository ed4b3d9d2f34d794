"""The tables of pieces, by their kind."""

from __future__ import annotations

from typing import Any, Literal

from publisher.frozen import frozen
from publisher.knots.defaults import defaults
from publisher.model.pattern import Order, Side
from publisher.source.format.parts import (
    CARRY,
    MOUNT,
    CarryTable,
    CarryWord,
    CordsTable,
    FringeTable,
    GaugeTable,
    MountTable,
    knot_that,
)
from publisher.tables.schema import (
    chart_text,
    choice,
    key,
    line,
    number,
    optional,
    slug,
    table_schema,
    whole,
)


def allowance() -> Any:
    """The key of an allowance, in a house, a pattern or a piece."""
    return optional(
        number(0, 100),
        "What is added to every length for good measure, in percent.",
        "allowance_percent = 10",
    )


@frozen(kw_only=True)
class ChartTable:
    """`[[pieces]]` of `kind = "chart"`"""

    id: str = key(
        slug(), "The piece's short name; no other piece has it.", 'id = "panel"', stand_in="piece"
    )
    kind: Literal["chart"] = key(
        choice("chart"), "What the piece is made from.", 'kind = "chart"', usual="chart"
    )
    make: int = key(whole(1, 1_000), "How many of it are made.", "make = 1", usual=1)
    chart: str | None = optional(
        chart_text(),
        "The chart: a line for every row, a letter for every knot.",
        'chart = """\nNNNN\nNWWN\n"""',
    )
    chart_file: str | None = optional(
        line(200),
        "The chart as a PNG picture beside this file: one pixel a knot, in exact srgb colours.",
        'chart_file = "kingfisher.png"',
    )
    first_row_from: Side = key(
        choice("left", "right"),
        "The side that row 1 starts from.",
        'first_row_from = "left"',
        usual="left",
    )
    order: Order = key(
        choice("zigzag", "one-way"),
        "zigzag: there and back in turn; one-way: every row from the same side.",
        'order = "zigzag"',
        usual="zigzag",
    )
    knot: str = key(
        knot_that(lambda knot: knot.fills_cells),
        "The knot of the chart's cells.",
        f'knot = "{defaults().chart}"',
        usual=defaults().chart,
    )
    mount: MountTable | None = optional(table_schema(MountTable), "How the cords hang.", MOUNT)
    cords: CordsTable | None = optional(
        table_schema(CordsTable),
        "The mounted cords. Without a colour, they have the file's first one.",
        'cords = { colour = "N", strands = 2 }',
    )
    fringe: FringeTable | None = optional(
        table_schema(FringeTable),
        "What hangs below the last row.",
        'fringe = { shape = "straight", longest_mm = 150, shortest_mm = 150 }',
    )
    working_length_mm: float = key(
        number(100, 1_000_000),
        "How long a yarn is cut, in mm, so that it can be handled.",
        "working_length_mm = 3000",
        usual=3000.0,
    )
    tail_mm: float = key(
        number(0, 1_000),
        "What is left hanging at each start and end of a yarn, in mm.",
        "tail_mm = 100",
        usual=100.0,
    )
    carry: CarryTable | CarryWord | None = optional(
        CARRY, "The furthest that a yarn may be carried.", "carry = { columns = 6, rows = 2 }"
    )
    gauge: GaugeTable | None = optional(
        table_schema(GaugeTable),
        "Your own swatch, measured; what is left out is computed from the cord's thickness.",
        "gauge = { columns = 20, width_mm = 160, rows = 20, height_mm = 170 }",
    )
    allowance_percent: float | None = allowance()
    seconds_per_knot: float | None = optional(
        number(1, 3_600),
        "Your own time for one knot, in seconds; without it no time is printed.",
        "seconds_per_knot = 12",
    )
