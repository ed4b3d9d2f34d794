"""Check an element's numbers before CairoSVG sees them: cairo can crash on what is not finite."""

from __future__ import annotations

from collections.abc import Mapping

from publisher.press.svg.paint import length
from publisher.press.svg.paths import numbers
from publisher.press.svg.transforms import read_transform
from publisher.press.svg.tree import Node

_NAMES = """x y width height rx ry cx cy r x1 y1 x2 y2 fx fy offset opacity stroke-width
    fill-opacity stroke-opacity stop-opacity stroke-miterlimit stroke-dashoffset"""
_LENGTHS = frozenset(_NAMES.split())
_TRANSFORMS = frozenset({"transform", "gradientTransform"})


def check_numbers(node: Node, inside: bool = True) -> None:
    """PageError if a number of an element, or of one `inside` it, is not finite."""
    _check(node.own)
    _check(node.style)
    for child in node.children if inside else ():
        check_numbers(child)


def _check(attributes: Mapping[str, str]) -> None:
    for name, value in attributes.items():
        if name in _LENGTHS:
            length(value.removesuffix("%"), name)
        elif name in _TRANSFORMS:
            read_transform(value)
        elif name == "points" or (name == "stroke-dasharray" and value != "none"):
            numbers(value)
