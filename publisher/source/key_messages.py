"""Say in a maker's words what is wrong at a key, and what to do."""

from __future__ import annotations

from collections.abc import Mapping

from pydantic_core import ErrorDetails

from publisher.source.format.assembly import AssemblyTable, TargetTable
from publisher.source.format.files import HouseTable, PatternTable
from publisher.source.format.lookup import PIECE_KINDS, table_at
from publisher.source.format.parts import (
    CarryTable,
    CordsTable,
    FringeTable,
    GaugeTable,
    MountTable,
)
from publisher.source.format.pieces import ChartTable
from publisher.source.format.steps import (
    AddTable,
    BarTable,
    PartCordTable,
    PlainStepTable,
    StepsTable,
    StepTable,
)
from publisher.source.format.yarns import ColourTable, YarnTable
from publisher.source.messages import SAYINGS, Said, not_right
from publisher.source.words import nearest_key, thing
from publisher.tables.findings import KeyPath
from publisher.tables.schema import required_keys, rules
from publisher.tables.words import listed, nearest, on_one_line, shown


def say_wrong(root: type, path: KeyPath, detail: ErrorDetails, data: object) -> Said:
    """Return what the validator found at a key of a file's table, in words."""
    kind = detail["type"]
    if kind == "missing":
        return _missing(root, path, data)
    if kind == "unexpected_keyword_argument":
        return _unknown(root, path, data)
    if detail["loc"][-1:] == ("[key]",):
        return _bad_name(path)
    path = _named(root, path, data)
    owner = table_at(root, path[:-1], data) if path else None
    rule = rules(owner).get(str(path[-1])) if owner else None
    return SAYINGS.get(kind, not_right)(path, rule, detail)


def _missing(root: type, path: KeyPath, data: object) -> Said:
    name = str(path[-1])
    if name in _NOTHING:
        return _NOTHING[name]
    example = rules(table_at(root, path[:-1], data) or root)[name].example
    return f"{thing(path[:-1], data)} has no `{name}`", f"add a line such as {example}"


def no_colours() -> Said:
    return _NOTHING["colours"]


def no_pieces() -> Said:
    return _NOTHING["pieces"]


def meant(root: type, path: KeyPath, data: object) -> str | None:
    """The key that was most likely meant by one that nobody knows."""
    return nearest_key(str(path[-1]), rules(table_at(root, path[:-1], data) or root))


def likely_kind(piece: Mapping[str, object]) -> str | None:
    """The kind that a piece most likely is of, by what is in it or by the kind it is said to be
    of, which nobody knows."""
    for key, kind in (("steps", "steps"), ("chart", "chart"), ("chart_file", "chart")):
        if key in piece:
            return kind
    said = piece["kind"]
    return nearest(said, PIECE_KINDS) if isinstance(said, str) else None


def _named(root: type, path: KeyPath, data: object) -> KeyPath:
    """The way to a value that has a name: of an item in a list of numbers, the list's."""
    listed_item = path and isinstance(path[-1], int) and table_at(root, path, data) is None
    return path[:-1] if listed_item else path


def _unknown(root: type, path: KeyPath, data: object) -> Said:
    name = on_one_line(str(path[-1]))
    table = table_at(root, path[:-1], data) or root
    near = meant(root, path, data)
    if near:
        return f"nothing here is called `{name}`", f"did you mean `{near}`?"
    message = f"nothing in {_KINDS[table]} is called `{name}`"
    for place, home in _HOMES:
        if home is not table and name in rules(home) and (home, root) != (PatternTable, HouseTable):
            return message, f"it belongs {place}"
    needed = required_keys(table)
    known = sorted(rules(table), key=lambda key: key not in needed)
    return message, f"take it out, or use one of {listed(known, 20)}"


def _bad_name(path: KeyPath) -> Said:
    if path[0] == "colours":
        hint = "begin each colour with its one letter, as in [colours.N]"
        return f"{shown(path[-1])} can't be a colour's letter", hint
    return f"{shown(path[-1])} can't be a yarn's name", "use a short one, as in [yarns.cotton-3]"


_NOTHING: dict[str, Said] = {
    "colours": ("this file has no colours", "add each one under a line such as [colours.N]"),
    "pieces": ("this file has no pieces", "add one: a line [[pieces]], and under it id and chart"),
}
_KINDS: dict[type, str] = {
    PatternTable: "the top part of a pattern",
    HouseTable: "the top part of house.toml",
    ColourTable: "a colour",
    YarnTable: "a yarn",
    ChartTable: "a piece",
    MountTable: "a mount",
    CordsTable: "cords",
    FringeTable: "a fringe",
    GaugeTable: "a gauge",
    CarryTable: "a carry",
    StepsTable: "a piece of steps",
    BarTable: "a mount",
    PartCordTable: "a cord",
    StepTable: "a step",
    PlainStepTable: "a repeated step",
    AddTable: "a new cord",
    AssemblyTable: "a step of the assembly",
    TargetTable: "a place",
}
_HOMES: tuple[tuple[str, type], ...] = (
    ("at the top of the file, above the first line in [brackets]", PatternTable),
    ("in a piece, under its line [[pieces]]", ChartTable),
    ("in a piece of steps, under its line [[pieces]]", StepsTable),
    ("in a colour, under its line [colours.N]", ColourTable),
    ("in a yarn, under its line [yarns.NAME]", YarnTable),
)
