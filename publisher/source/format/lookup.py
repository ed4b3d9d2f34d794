"""Find the table that stands at a key path, and the kinds of pieces."""

from __future__ import annotations

from publisher.source.format.assembly import AssemblyTable, TargetTable
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
from publisher.tables.schema import rules

_INNER: dict[str, type] = {
    "mount": MountTable,
    "cords": CordsTable,
    "fringe": FringeTable,
    "gauge": GaugeTable,
    "carry": CarryTable,
}
_NAMED: dict[str, type] = {"colours": ColourTable, "yarns": YarnTable}


def table_at(root: type, path: tuple[str | int, ...], data: object = None) -> type | None:
    """The table that stands at a way of keys from a file's table; None: there is no such table.

    `data`: what the file holds, which says of what kind a piece is.
    """
    match path:
        case ():
            return root
        case ("colours" | "yarns" as group, _):
            return _NAMED[group]
        case ("pieces", int(index)):
            return PIECE_KINDS[_kind(data, index)]
        case ("pieces", int(index), *inner) if _kind(data, index) == "steps":
            return _in_part(tuple(inner))
        case ("assembly", int()):
            return AssemblyTable
        case ("assembly", int(), "at"):
            return TargetTable
        case (*above, str(name)) if name in _INNER:
            owner = table_at(root, tuple(above), data)
            return _INNER[name] if owner and name in rules(owner) else None
        case _:
            return None


def _kind(data: object, index: int) -> str:
    """The kind of a piece; the usual one, where the file does not say a known one."""
    try:
        kind = data["pieces"][index]["kind"]  # type: ignore[index]
    except (KeyError, IndexError, TypeError):
        return "chart"
    return kind if isinstance(kind, str) and kind in PIECE_KINDS else "chart"


def _in_part(path: tuple[str | int, ...]) -> type | None:
    """The table at a way of keys from a piece of steps."""
    match path:
        case ("mount",):
            return BarTable
        case ("cords", int()):
            return PartCordTable
        case ("steps", int()):
            return StepTable
        case ("steps", int(), "steps", int()):
            return PlainStepTable
        case ("steps", *_, "add"):
            return AddTable
        case _:
            return None


PIECE_KINDS: dict[str, type] = {"chart": ChartTable, "steps": StepsTable}
"""The tables of `[[pieces]]`, by their `kind`."""
