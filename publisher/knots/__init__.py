"""Knots as geometry: one model a knot, from which it is drawn, measured and proven."""

from publisher.knots.listing import knots_as_json
from publisher.knots.load import KnotLibrary, load_knots
from publisher.knots.model import Knot, Stage

__all__ = ["Knot", "KnotLibrary", "Stage", "knots_as_json", "load_knots"]
