"""The look of a book as values, read from look.toml and what an edition changes in it."""

from __future__ import annotations

import dataclasses
import types
import typing
from collections.abc import Mapping
from functools import cache
from typing import Any, Self

from publisher.colour import Colour
from publisher.drawing.look_rules import Fault, LookError, check_look, not_as_named
from publisher.frozen import frozen


@frozen
class Margins:
    left_mm: float
    right_mm: float
    top_mm: float
    bottom_mm: float


@frozen
class Paper:
    """A sheet and its text area."""

    width_mm: float
    height_mm: float
    margins: Margins

    @property
    def text_width_mm(self) -> float:
        return self.width_mm - self.margins.left_mm - self.margins.right_mm

    @property
    def text_bottom_mm(self) -> float:
        return self.height_mm - self.margins.bottom_mm


@frozen
class TypeStyle:
    """A role of type. `face` and `strong` name faces of `publisher.fonts`."""

    face: str
    size_pt: float
    lead_mm: float
    colour: str = "ink"
    strong: str = "semibold"


@frozen
class FrameLook:
    """Where the furniture of a page stands, in mm: base lines from the top or from the foot."""

    header_mm: float
    header_rule_mm: float
    title_mm: float
    """The first line of a page's title."""
    title_gap_mm: float
    """From the last line of the title to the top of the text."""
    foot_mm: float
    """From the paper's lower edge."""
    scale_bar_mm: float
    """The scale bar's words, from the paper's lower edge."""
    scale_bar_left_mm: float
    """From the left margin to the bar."""
    imprint_mm: float
    """The most that the imprint may take of the foot."""
    cover_top_mm: float
    cover_facts_mm: float
    """The width of the column of facts on the cover."""
    column_gap_mm: float


@frozen
class ChartLook:
    """Measures of the chart, in mm and pt."""

    cell_max_mm: float
    cell_min_mm: float
    overlap: int
    gutter_mm: float
    arrow: float
    """Size of the row arrow; 1 is 3.5 mm long."""
    arrow_gap_mm: float
    number_gap_mm: float
    tick_mm: float
    tick_gap_mm: float
    grid_line_mm: float
    five_line_mm: float
    ten_line_mm: float
    row_number: str
    """Type role of the row numbers."""
    cord_number: str
    overlap_words: str
    run_length: str
    run_length_from: int
    """Runs of at least this many knots carry their count; 0 turns it off."""
    yarn_marks: bool
    """Do marks between cells show where yarns start, join, are picked up and are left?"""
    mark_mm: float
    """How high those marks are, and how wide the dots of the ends on the map of the back; less
    where cells are too small for it."""
    map_room_mm2: float
    """The least room on the map of the back for each thing to do there, on average, in type of
    8 pt; in larger type it is larger. A map with less is cut into parts."""
    key_columns: int
    key_counts: bool
    """Does the key say how many knots each colour has?"""
    key_map_mm: float


@frozen
class Look:
    """Everything that a writer can change about how pages look.

    Colours are named: ink, soft, note, accent, tint, figure, band, hair, paper, grid.
    With `mono`, cells have no fill and yarn colours are never used.
    """

    mono: bool
    colours: Mapping[str, Colour]
    lines: Mapping[str, float]
    type: Mapping[str, TypeStyle]
    paper: Paper
    frame: FrameLook
    chart: ChartLook
    key: str = ""
    """The same for looks that are the same, to keep drawings by."""

    @property
    def accent(self) -> Colour:
        """The colour of what stands out: ink, where there is no other."""
        return self.colours["ink" if self.mono else "accent"]

    @classmethod
    def read(cls, data: Mapping[str, Any], paper: str) -> Self:
        """Build a look from look.toml's tables; LookError names every key that is wrong."""
        tables = dict(data)
        papers = tables.pop("papers", {})
        if not isinstance(papers, Mapping) or paper not in papers:
            raise LookError(Fault(f"papers.{paper}", "is missing", "add it"))
        tables["paper"] = papers[paper]
        faults: list[Fault] = []
        try:
            look = typing.cast(Self, _build(cls, tables, "", faults))
            if not faults:
                faults += check_look(look)
        except LookError as error:
            faults += error.faults
        if faults:
            raise LookError(*(fault.on_paper(paper) for fault in faults))
        return dataclasses.replace(look, key=repr(tables))


def _build(kind: Any, data: Any, key: str, faults: list[Fault]) -> Any:
    """Fill a dataclass, mapping or plain value from a table, strictly. LookError if it is none of
    the kind; what is wrong inside of it is added to the `faults`."""
    origin = typing.get_origin(kind)
    if dataclasses.is_dataclass(kind) and kind is not Colour:
        return _build_record(kind, data, key, faults)
    if origin is not None and issubclass(origin, Mapping):
        if not isinstance(data, Mapping):
            raise LookError(Fault(key, "must be a table"))
        inner = typing.get_args(kind)[1]
        values = {
            name: _build_part(inner, value, f"{key}.{name}", faults) for name, value in data.items()
        }
        return types.MappingProxyType(values)
    if kind is Colour:
        return _build_colour(data, key)
    if kind is float and isinstance(data, int) and not isinstance(data, bool):
        data = float(data)
    if not isinstance(data, kind) or (kind is int and isinstance(data, bool)):
        raise LookError(Fault(key, f"must be {_NAMES[kind]}, not {data!r}"))
    if kind in (float, int) and not 0 <= data < _LARGEST:
        raise LookError(Fault(key, f"must be from 0 to {_LARGEST:g}, not {data!r}"))
    return data


def _build_part(kind: Any, data: Any, key: str, faults: list[Fault]) -> Any:
    """A value in a table: the others there are read too if it is wrong."""
    try:
        return _build(kind, data, key, faults)
    except LookError as error:
        faults += error.faults
        return None


_NAMES = {float: "a number", int: "a whole number", str: "a text", bool: "true or false"}
_LARGEST = 10_000
"""Sizes in mm and pt are less: more is a slip, or no number at all."""


def _build_colour(data: Any, key: str) -> Colour:
    try:
        return Colour.from_hex(data)
    except (TypeError, ValueError):
        raise LookError(Fault(key, f"must be a colour like #22282c, not {data!r}")) from None


def _build_record(kind: Any, data: Any, key: str, faults: list[Fault]) -> Any:
    if not isinstance(data, Mapping):
        raise LookError(Fault(key, "must be a table"))
    hints = _hints(kind)
    fields = {field.name: field for field in dataclasses.fields(kind)}
    dot = f"{key}." if key else ""
    missing = [
        name
        for name, field in fields.items()
        if name not in data and field.default is dataclasses.MISSING
    ]
    unknown = [name for name in data if name not in fields]
    faults += not_as_named(dot, missing, unknown, fields)
    values = {
        name: _build_part(hints[name], data[name], f"{dot}{name}", faults)
        for name in fields
        if name in data
    }
    return kind(**values) if not missing else None


@cache
def _hints(kind: Any) -> dict[str, Any]:
    return typing.get_type_hints(kind)
