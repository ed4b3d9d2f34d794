"""Knots as geometry: one model a knot, from which it is drawn, measured and proven."""

from __future__ import annotations

from typing import TYPE_CHECKING

from publisher.lazy_exports import lazy_exports

if TYPE_CHECKING:
    from publisher.knots.as_data import knots_as_json
    from publisher.knots.load import KnotLibrary, load_knots
    from publisher.knots.model import Knot, Stage

__all__ = ["Knot", "KnotLibrary", "Stage", "knots_as_json", "load_knots"]

__getattr__ = lazy_exports(
    __name__,
    {
        "Knot": "model",
        "KnotLibrary": "load",
        "Stage": "model",
        "knots_as_json": "as_data",
        "load_knots": "load",
    },
)
