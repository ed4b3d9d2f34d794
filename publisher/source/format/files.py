"""The tables of whole files: house.toml, and a pattern."""

from __future__ import annotations

import datetime
from typing import Literal

from publisher.frozen import frozen
from publisher.model.pattern import UnitOrder
from publisher.source.format.assembly import AssemblyTable
from publisher.source.format.parts import CARRY, MOUNT, CarryTable, CarryWord, MountTable
from publisher.source.format.pieces import ChartTable, allowance
from publisher.source.format.steps import StepsTable
from publisher.source.format.yarns import ColourTable, YarnTable
from publisher.tables.schema import (
    any_name,
    by_kind,
    by_name,
    choice,
    day,
    key,
    letter,
    line,
    optional,
    rows_of,
    shaped,
    slug,
    table_schema,
    text,
    whole,
    yes_or_no,
)

PIECE_KINDS: dict[str, type] = {"chart": ChartTable, "steps": StepsTable}
"""The tables of `[[pieces]]`, by their `kind`."""
_COUNT = "(0|[1-9][0-9]{0,5})"
_VERSION = rf"{_COUNT}\.{_COUNT}(\.{_COUNT})?"


@frozen(kw_only=True)
class HouseTable:
    """`house.toml`: what all patterns share. A pattern's own value wins."""

    designer: str | None = optional(
        line(100, 0), "Who designs; printed on the cover.", 'designer = "Reedbank Knot Room"'
    )
    contact: str | None = optional(
        line(300, 0), "How makers can reach you; printed at the end.", 'contact = "Ask at the shop"'
    )
    currency: str | None = optional(
        shaped("[A-Z]{3}", "the currency's three capital letters"),
        "The prices' currency: three capitals, as ISO 4217 has them.",
        'currency = "GBP"',
    )
    prices: bool | None = optional(
        yes_or_no(),
        "Whether the shopping lists say what it costs; with `prices_as_of`.",
        "prices = true",
    )
    prices_as_of: datetime.date | None = optional(
        day(),
        "When the yarns' prices were looked up: they are printed with their month.",
        "prices_as_of = 2026-09-01",
    )
    units: UnitOrder | None = optional(
        choice("metric-first", "inch-first"),
        "Which units come first in print.",
        'units = "metric-first"',
    )
    allowance_percent: float | None = allowance()
    terms: str | None = optional(
        slug(),
        "What a buyer may do: a text in templates/terms/, without its ending.",
        'terms = "personal-use"',
    )
    mount: MountTable | None = optional(table_schema(MountTable), "How the cords hang.", MOUNT)
    carry: CarryTable | CarryWord | None = optional(
        CARRY, "The furthest that a yarn may be carried.", "carry = { columns = 6, rows = 2 }"
    )
    yarns: dict[str, YarnTable] = key(
        by_name(any_name(), table_schema(YarnTable)),
        "The yarns, each under a short name of your own.",
        "[yarns.cotton-3]",
        make=dict,
    )
    colours: dict[str, ColourTable] = key(
        by_name(letter(), table_schema(ColourTable)),
        "The colours that you have, for `publisher chart --yarns house` to choose from; each "
        "under the letter that it has rather than others.",
        "[colours.N]",
        make=dict,
    )


@frozen(kw_only=True)
class PatternTable(HouseTable):
    """A pattern file."""

    format: Literal[1] = key(whole(1, 1), "The number of this format.", "format = 1", stand_in=1)
    title: str = key(
        line(300), "The pattern's title.", 'title = "Kingfisher over Reeds"', stand_in="a title"
    )
    version: str = key(
        shaped(_VERSION, "two or three numbers with points between them"),
        "The pattern's version, in quotes; a release never changes under its number.",
        'version = "1.0"',
        stand_in="1.0",
    )
    subtitle: str = key(line(300, 0), "A line under the title.", 'subtitle = ""', usual="")
    date: datetime.date | None = optional(
        day(), "The day of this version: year-month-day, no quotes.", "date = 2026-09-01"
    )
    level: str = key(line(300, 0), "Who can knot it.", 'level = "confident beginner"', usual="")
    about: str = key(
        text(20_000),
        "A few words on the piece: paragraphs with an empty line between.",
        'about = """\nA first paragraph.\n\nA second one.\n"""',
        usual="",
    )
    colours: dict[str, ColourTable] = key(
        by_name(letter(), table_schema(ColourTable)),
        "The colours, each under the letter that the chart has for it.",
        "[colours.N]",
        stand_in={},
    )
    pieces: list[ChartTable | StepsTable] = key(
        rows_of(by_kind({kind: table_schema(t) for kind, t in PIECE_KINDS.items()}, "chart")),
        "The pieces, in the order that they are made.",
        "[[pieces]]",
        stand_in=[],
        add="add one: a line [[pieces]], and under it id and chart",
    )
    assembly: list[AssemblyTable] = key(
        rows_of(table_schema(AssemblyTable)),
        "How finished pieces are put together, in this order.",
        "[[assembly]]",
        make=list,
        one="assembly step",
    )

    @property
    def charts(self) -> list[ChartTable]:
        """The pieces that are worked from a chart."""
        return [piece for piece in self.pieces if isinstance(piece, ChartTable)]
