"""Find the table that stands at a way of keys."""

from __future__ import annotations

from publisher.source.format.parts import (
    CarryTable,
    CordsTable,
    FringeTable,
    GaugeTable,
    MountTable,
)
from publisher.source.format.pieces import ChartTable
from publisher.source.format.schema import rules
from publisher.source.format.yarns import ColourTable, YarnTable

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
