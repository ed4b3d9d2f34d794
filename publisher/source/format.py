"""The pattern format, table by table: every key with its rule, its meaning and an example."""

from __future__ import annotations

import datetime
from dataclasses import dataclass, field
from typing import Literal

from publisher.source.pattern import FringeShape, Order, Side, UnitOrder
from publisher.source.schema import (
    REQUIRED,
    any_name,
    by_kind,
    by_name,
    chart_text,
    choice,
    day,
    key,
    letter,
    line,
    number,
    rows_of,
    rules,
    shaped,
    table_schema,
    text,
    whole,
    word_or_table,
)

HITCH = "vertical-double-half-hitch"
_SLUG = "[a-z0-9]+(-[a-z0-9]+)*"
_COUNT = "(0|[1-9][0-9]{0,5})"
_VERSION = rf"{_COUNT}\.{_COUNT}(\.{_COUNT})?"


@dataclass(frozen=True, slots=True, kw_only=True)
class CarryTable:
    """`carry = { columns = 6, rows = 2 }`"""

    columns: int | None = key(
        whole(0, 10_000), "The most cords that a yarn may be carried along behind.", "columns = 6"
    )
    rows: int | None = key(
        whole(0, 10_000), "The most rows that a yarn may be carried down.", "rows = 2"
    )


CarryWord = Literal["never", "row"]
_CARRY = word_or_table(("never", "row"), table_schema(CarryTable))


@dataclass(frozen=True, slots=True, kw_only=True)
class MountTable:
    """`mount = { knot = "larks-head", on = "dowel", diameter_mm = 12 }`"""

    knot: str | None = key(
        choice("larks-head", "reverse-larks-head"),
        "The knot that each cord is mounted with.",
        'knot = "larks-head"',
    )
    on: str | None = key(choice("dowel"), "What the cords hang on.", 'on = "dowel"')
    diameter_mm: float | None = key(
        number(200, above=0), "How thick the dowel is, in mm.", "diameter_mm = 12"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class CordsTable:
    """`cords = { colour = "N", strands = 2 }`"""

    colour: str | None = key(letter(), "The letter of the mounted cords' colour.", 'colour = "N"')
    strands: int | None = key(
        whole(1, 2),
        "Strands a column: 2 (both tails of a folded cord) or 1 (a folded cord serves two columns).",
        "strands = 2",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class FringeTable:
    """`fringe = { shape = "point", longest_mm = 200, shortest_mm = 90 }`"""

    shape: FringeShape | None = key(
        choice("straight", "point", "arch"),
        "How the fringe ends: straight, point (longest in the middle), arch (longest at the edges).",
        'shape = "straight"',
    )
    longest_mm: float | None = key(
        number(5_000, least=0),
        "The fringe's length where it is longest, in mm.",
        "longest_mm = 150",
    )
    shortest_mm: float | None = key(
        number(5_000, least=0),
        "The fringe's length where it is shortest, in mm.",
        "shortest_mm = 90",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class GaugeTable:
    """`gauge = { columns = 20, width_mm = 160, rows = 20, height_mm = 170 }`"""

    columns: int | None = key(
        whole(1, 1_000), "Columns counted on your own swatch.", "columns = 20"
    )
    width_mm: float | None = key(
        number(10_000, above=0), "How wide those columns are, in mm.", "width_mm = 160"
    )
    rows: int | None = key(whole(1, 1_000), "Rows counted on your own swatch.", "rows = 20")
    height_mm: float | None = key(
        number(10_000, above=0), "How high those rows are, in mm.", "height_mm = 170"
    )
    yarn_mm_per_knot: float | None = key(
        number(5_000, above=0),
        "Yarn that one knot takes, in mm: unpick ten knots of your swatch and measure.",
        "yarn_mm_per_knot = 62",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class YarnTable:
    """`[yarns.cotton-3]`"""

    name: str = key(
        line(100),
        "What the yarn is called in the shopping list.",
        'name = "3 mm single-twist cotton"',
        default=REQUIRED,
        stand_in="a yarn",
    )
    diameter_mm: float = key(
        number(50, above=0),
        "How thick the yarn is, in mm.",
        "diameter_mm = 3.0",
        default=REQUIRED,
        stand_in=1.0,
    )
    grams_per_metre: float | None = key(
        number(1_000, above=0),
        "What a metre weighs, in grams (weigh ten metres and divide). This or tex.",
        "grams_per_metre = 4.6",
    )
    tex: float | None = key(
        number(1_000_000, above=0),
        "What a kilometre weighs, in grams (ISO 1144). This or grams_per_metre.",
        "tex = 4600",
    )
    ball_metres: float | None = key(
        number(100_000, above=0), "Metres on one ball.", "ball_metres = 100"
    )
    ball_grams: float | None = key(
        number(100_000, above=0), "Grams in one ball.", "ball_grams = 450"
    )
    price: float | None = key(
        number(1_000_000, least=0),
        "What one ball costs, in the currency that house.toml names.",
        "price = 7.20",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ColourTable:
    """`[colours.N]`"""

    name: str = key(
        line(100),
        "What the colour is called in the key and the lists.",
        'name = "night navy"',
        default=REQUIRED,
        stand_in="a colour",
    )
    srgb: str = key(
        shaped("#[0-9a-fA-F]{6}", 7),
        "The colour on screen and paper: # and six signs, 0 to 9 and a to f.",
        'srgb = "#1f2a44"',
        default=REQUIRED,
        stand_in="",
    )
    yarn: str = key(
        any_name(),
        "Which yarn it is: a name from [yarns], in this file or in house.toml.",
        'yarn = "cotton-3"',
        default=REQUIRED,
        stand_in="",
    )
    carry: CarryTable | CarryWord | None = key(
        _CARRY,
        'The furthest that yarn of this colour may be carried; "row": as far as a row needs.',
        "carry = { columns = 4, rows = 1 }",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartTable:
    """`[[pieces]]` of `kind = "chart"`"""

    id: str = key(
        shaped(_SLUG),
        "The piece's short name; no other piece has it.",
        'id = "panel"',
        default=REQUIRED,
        stand_in="",
    )
    kind: Literal["chart"] = key(
        choice("chart"), "What the piece is made from.", 'kind = "chart"', default="chart"
    )
    make: int = key(whole(1, 1_000), "How many of it are made.", "make = 1", default=1)
    chart: str | None = key(
        chart_text(),
        "The chart: a line for every row, a letter for every knot.",
        'chart = """\nNNNN\nNWWN\n"""',
    )
    chart_file: str | None = key(
        line(200),
        "The chart as a PNG picture beside this file: one pixel a knot, in exact srgb colours.",
        'chart_file = "kingfisher.png"',
    )
    first_row_from: Side = key(
        choice("left", "right"),
        "The side that row 1 starts from.",
        'first_row_from = "left"',
        default="left",
    )
    order: Order = key(
        choice("zigzag", "one-way"),
        "zigzag: there and back in turn; one-way: every row from the same side.",
        'order = "zigzag"',
        default="zigzag",
    )
    knot: str = key(
        choice(HITCH), "The knot of the chart's cells.", f'knot = "{HITCH}"', default=HITCH
    )
    mount: MountTable | None = key(
        table_schema(MountTable),
        "How the cords hang.",
        'mount = { knot = "larks-head", on = "dowel", diameter_mm = 12 }',
    )
    cords: CordsTable | None = key(
        table_schema(CordsTable),
        "The mounted cords. Without a colour, they have the file's first one.",
        'cords = { colour = "N", strands = 2 }',
    )
    fringe: FringeTable | None = key(
        table_schema(FringeTable),
        "What hangs below the last row.",
        'fringe = { shape = "straight", longest_mm = 150, shortest_mm = 150 }',
    )
    working_length_mm: float = key(
        number(1_000_000, least=100),
        "How long a yarn is cut, in mm, so that it can be handled.",
        "working_length_mm = 3050",
        default=3050.0,
    )
    tail_mm: float = key(
        number(1_000, least=0),
        "What is left hanging at each start and end of a yarn, in mm.",
        "tail_mm = 100",
        default=100.0,
    )
    carry: CarryTable | CarryWord | None = key(
        _CARRY, "The furthest that a yarn may be carried.", "carry = { columns = 6, rows = 2 }"
    )
    gauge: GaugeTable | None = key(
        table_schema(GaugeTable),
        "Your own swatch, measured; what is left out is computed from the cord's thickness.",
        "gauge = { columns = 20, width_mm = 160, rows = 20, height_mm = 170 }",
    )
    allowance_percent: float | None = key(
        number(100, least=0),
        "What is added to every length for good measure, in percent.",
        "allowance_percent = 10",
    )
    seconds_per_knot: float | None = key(
        number(3_600, above=0),
        "Your own time for one knot, in seconds; without it no time is printed.",
        "seconds_per_knot = 12",
    )


PIECE_KINDS = {"chart": ChartTable}
"""The tables of `[[pieces]]`, by their `kind`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HouseTable:
    """`house.toml`: what all patterns share. A pattern's own value wins."""

    designer: str | None = key(
        line(100, 0), "Who designs; printed on the cover.", 'designer = "Reedbank Knot Room"'
    )
    contact: str | None = key(
        line(300, 0), "How makers can reach you; printed at the end.", 'contact = "Ask at the shop"'
    )
    currency: str | None = key(
        shaped("[A-Z]{3}", 3),
        "The prices' currency: three capitals, as ISO 4217 has them.",
        'currency = "GBP"',
    )
    units: UnitOrder | None = key(
        choice("metric-first", "inch-first"),
        "Which units come first in print.",
        'units = "metric-first"',
    )
    allowance_percent: float | None = key(
        number(100, least=0),
        "What is added to every length for good measure, in percent.",
        "allowance_percent = 10",
    )
    terms: str | None = key(
        shaped(_SLUG),
        "What a buyer may do: a text in templates/terms/, without its ending.",
        'terms = "personal-use"',
    )
    mount: MountTable | None = key(
        table_schema(MountTable),
        "How the cords hang.",
        'mount = { knot = "larks-head", on = "dowel", diameter_mm = 12 }',
    )
    carry: CarryTable | CarryWord | None = key(
        _CARRY, "The furthest that a yarn may be carried.", "carry = { columns = 6, rows = 2 }"
    )
    yarns: dict[str, YarnTable] = field(
        default_factory=dict,
        metadata=key(
            by_name(any_name(), table_schema(YarnTable)),
            "The yarns, each under a short name of your own.",
            "[yarns.cotton-3]",
        ).metadata,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternTable(HouseTable):
    """A pattern file."""

    format: Literal[1] = key(
        choice(1), "The number of this format.", "format = 1", default=REQUIRED, stand_in=1
    )
    title: str = key(
        line(300),
        "The pattern's title.",
        'title = "Kingfisher over Reeds"',
        default=REQUIRED,
        stand_in="a title",
    )
    version: str = key(
        shaped(_VERSION),
        "The pattern's version, in quotes; a release never changes under its number.",
        'version = "1.0"',
        default=REQUIRED,
        stand_in="1.0",
    )
    subtitle: str = key(line(300, 0), "A line under the title.", 'subtitle = ""', default="")
    date: datetime.date | None = key(
        day(), "The day of this version: year-month-day, no quotes.", "date = 2026-09-01"
    )
    level: str = key(line(300, 0), "Who can knot it.", 'level = "confident beginner"', default="")
    about: str = key(
        text(20_000),
        "A few words on the piece: paragraphs with an empty line between.",
        'about = """\nA first paragraph.\n\nA second one.\n"""',
        default="",
    )
    colours: dict[str, ColourTable] = key(
        by_name(letter(), table_schema(ColourTable)),
        "The colours, each under the letter that the chart has for it.",
        "[colours.N]",
        default=REQUIRED,
        stand_in={},
    )
    pieces: list[ChartTable] = key(
        rows_of(by_kind({kind: table_schema(t) for kind, t in PIECE_KINDS.items()}, "chart")),
        "The pieces, in the order that they are made.",
        "[[pieces]]",
        default=REQUIRED,
        stand_in=[],
    )


_INNER: dict[str, type] = {
    "mount": MountTable,
    "cords": CordsTable,
    "fringe": FringeTable,
    "gauge": GaugeTable,
    "carry": CarryTable,
}
_NAMED: dict[str, type] = {"colours": ColourTable, "yarns": YarnTable}


def table_at(root: type, path: tuple[str | int, ...]) -> type | None:
    """The table that stands at a way of keys from a file's table; None: there is no such table."""
    match path:
        case ():
            return root
        case ("colours" | "yarns" as group, _):
            return _NAMED[group]
        case ("pieces", int()):
            return ChartTable
        case (*above, str(name)) if name in _INNER:
            owner = table_at(root, tuple(above))
            return _INNER[name] if owner and name in rules(owner) else None
        case _:
            return None
