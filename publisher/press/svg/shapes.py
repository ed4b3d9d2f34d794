"""Trace SVG's shapes as paths."""

from __future__ import annotations

from collections.abc import Callable
from types import MappingProxyType

from publisher.press.svg.paint import attribute
from publisher.press.svg.path_pens import Operators, path_operators
from publisher.press.svg.paths import Steps, trace_path, trace_points
from publisher.press.svg.tree import Node

_ROUND = 0.5522847498
"""How far a cubic's handle stands out for a quarter of a circle (common practice)."""


def trace_shape(pen: Steps, node: Node) -> None:
    """A shape as steps of a pen; none if there is nothing to see. PageError if it is wrong."""
    _TRACES[node.name](pen, node)


def shape_operators(node: Node) -> str:
    """The operators that build a shape's path."""
    if node.name == "path":
        return path_operators(node.own.get("d", ""))
    pen = Operators()
    trace_shape(pen, node)
    return pen.text()


def _path(pen: Steps, node: Node) -> None:
    trace_path(pen, node.own.get("d", ""))


def _rect(pen: Steps, node: Node) -> None:
    x, y = attribute(node, "x"), attribute(node, "y")
    width, height = attribute(node, "width"), attribute(node, "height")
    rx = attribute(node, "rx", attribute(node, "ry"))
    ry = attribute(node, "ry", rx)
    if width <= 0 or height <= 0:
        return
    if rx <= 0 or ry <= 0:
        rx = ry = 0.0
    _rounded(pen, (x, y, width, height), min(rx, width / 2), min(ry, height / 2))


def _rounded(pen: Steps, box: tuple[float, float, float, float], rx: float, ry: float) -> None:
    """A box with its corners rounded, if `rx` and `ry` are not 0."""
    x, y, width, height = box
    right, bottom = x + width, y + height
    if not rx:
        pen.move_to(x, y)
        pen.line_to(right, y)
        pen.line_to(right, bottom)
        pen.line_to(x, bottom)
        pen.close_path()
        return
    hx, hy = rx * (1 - _ROUND), ry * (1 - _ROUND)
    pen.move_to(x + rx, y)
    pen.line_to(right - rx, y)
    pen.curve_to(right - hx, y, right, y + hy, right, y + ry)
    pen.line_to(right, bottom - ry)
    pen.curve_to(right, bottom - hy, right - hx, bottom, right - rx, bottom)
    pen.line_to(x + rx, bottom)
    pen.curve_to(x + hx, bottom, x, bottom - hy, x, bottom - ry)
    pen.line_to(x, y + ry)
    pen.curve_to(x, y + hy, x + hx, y, x + rx, y)
    pen.close_path()


def _line(pen: Steps, node: Node) -> None:
    pen.move_to(attribute(node, "x1"), attribute(node, "y1"))
    pen.line_to(attribute(node, "x2"), attribute(node, "y2"))


def _circle(pen: Steps, node: Node) -> None:
    radius = attribute(node, "r")
    _oval(pen, node, radius, radius)


def _ellipse(pen: Steps, node: Node) -> None:
    _oval(pen, node, attribute(node, "rx"), attribute(node, "ry"))


def _oval(pen: Steps, node: Node, rx: float, ry: float) -> None:
    """From the right, downwards: where dashes begin (SVG 2, 10.3)."""
    if rx <= 0 or ry <= 0:
        return
    x, y, hx, hy = attribute(node, "cx"), attribute(node, "cy"), rx * _ROUND, ry * _ROUND
    pen.move_to(x + rx, y)
    pen.curve_to(x + rx, y + hy, x + hx, y + ry, x, y + ry)
    pen.curve_to(x - hx, y + ry, x - rx, y + hy, x - rx, y)
    pen.curve_to(x - rx, y - hy, x - hx, y - ry, x, y - ry)
    pen.curve_to(x + hx, y - ry, x + rx, y - hy, x + rx, y)
    pen.close_path()


def _polyline(pen: Steps, node: Node) -> None:
    trace_points(pen, node.own.get("points", ""), close=False)


def _polygon(pen: Steps, node: Node) -> None:
    trace_points(pen, node.own.get("points", ""), close=True)


_TRACES = MappingProxyType[str, Callable[[Steps, Node], None]](
    {
        "path": _path,
        "rect": _rect,
        "line": _line,
        "circle": _circle,
        "ellipse": _ellipse,
        "polyline": _polyline,
        "polygon": _polygon,
    }
)
