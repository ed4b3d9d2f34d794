"""List the library's geometry as plain data, for `publisher knots --json`."""

from __future__ import annotations

from typing import Any

from publisher.knots.load import load_knots
from publisher.knots.model import Knot, Strand

_ROLES = {"second": "working"}


def knots_as_json() -> list[dict[str, Any]]:
    """Every knot (no procedures) in its drawn, loose form and first hand.

    Polylines of [x, y, z]: x right, y down, z to the viewer, in working cord diameters.
    """
    return [_knot(knot) for knot in load_knots().values() if knot.kind == "knot"]


def _knot(knot: Knot) -> dict[str, Any]:
    titles = [*knot.titles, *([knot.abbreviation] if knot.abbreviation else [])]
    strands = [_strand(strand) for strand in knot.loose.strands.values()]
    return {"name": knot.name, "titles": titles, "strands": strands, "cord_diameter": 1.0}


def _strand(strand: Strand) -> dict[str, Any]:
    plane, height = strand.curve.samples()
    points = [
        [round(xy.real, 4), round(xy.imag, 4), round(z, 4)]
        for xy, z in zip(plane, height, strict=True)
    ]
    return {"name": strand.name, "role": _ROLES.get(strand.role, strand.role), "points": points}
