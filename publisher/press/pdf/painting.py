"""Fill and stroke a path as its SVG attributes say."""

from __future__ import annotations

import re
from collections.abc import Mapping

from publisher.press.pdf.content import PLAIN_LINE, ContentStream
from publisher.press.svg.numbers import extent, plain
from publisher.press.svg.paint import length, opacity, paint_of
from publisher.press.svg.paths import numbers
from publisher.press.svg.tree import Node, PageError

_INSIDE = re.compile("c|l[^a-z]*l")
"""A path with an inside has a curve, or two straight lines one after the other."""
_NO_WIDTH = 1e-7
_NO_DASH = 1e-5
"""In place of 0, which some readers draw as a tenth of a unit."""
_CAPS = {"butt": "0", "round": "1", "square": "2"}
_JOINS = {"miter": "0", "round": "1", "bevel": "2"}
_LINE_DETAILS = frozenset(
    {"stroke-linecap", "stroke-linejoin", "stroke-miterlimit", "stroke-dasharray"}
)


def fill_and_stroke(content: ContentStream, node: Node, path: str) -> None:
    """Fill, then stroke, a path given as operators."""
    style = node.style
    fill, stroke = paint_of(style, "fill", "black"), paint_of(style, "stroke", "none")
    share = opacity(node)
    if fill is not None and not _INSIDE.search(path):
        fill = None  # a PDF shows an area of no width all the same, as a line of its own
    if fill is not None:
        content.fill_colour(fill, share)
    if stroke is not None:
        width, kind = _line(style)
        if width > _NO_WIDTH:
            content.stroke_colour(stroke, share)
            content.line(width, kind)
        else:
            stroke = None  # in a PDF, 0 is the thinnest line there is
    star = "*" if style.get("fill-rule") == "evenodd" else ""
    if fill is None:
        if stroke is not None:
            content.write(path + " S")
    elif stroke is None:
        content.write(f"{path} f{star}")
    elif fill[3] * share == stroke[3] * share == 1.0:
        content.write(f"{path} B{star}")
    else:  # what shows through is to be seen under the line, too
        content.write(f"{path} f{star}\n{path} S")


def _line(style: Mapping[str, str]) -> tuple[float, tuple[str, str, str, str]]:
    width = length(style.get("stroke-width", "1"), "stroke-width")
    if _LINE_DETAILS.isdisjoint(style):
        return width, PLAIN_LINE
    cap = _choice(style, "stroke-linecap", _CAPS)
    join = _choice(style, "stroke-linejoin", _JOINS)
    miter = length(style.get("stroke-miterlimit", "4"), "stroke-miterlimit")
    dashes = style.get("stroke-dasharray", "none")
    offset = style.get("stroke-dashoffset", "0")
    broken = "[] 0" if dashes == "none" else _dashes(dashes, offset)
    return width, (cap, join, plain(max(miter, 1.0)), broken)


def _dashes(dashes: str, offset: str) -> str:
    lengths = numbers(dashes)
    if any(value < 0 for value in lengths):
        raise PageError(f"stroke-dasharray=“{dashes}” has a negative length", "write lengths > 0")
    if not any(length >= _NO_WIDTH for length in lengths):
        return "[] 0"
    lengths = [max(value, _NO_DASH) for value in lengths]
    start = length(offset, "stroke-dashoffset")
    return f"[{' '.join(map(extent, lengths))}] {plain(start % (2 * sum(lengths)))}"


def _choice(style: Mapping[str, str], name: str, choices: Mapping[str, str]) -> str:
    value = style.get(name)
    if value is None:
        return "0"
    if value not in choices:
        raise PageError(f"{name}=“{value}” is not known", f"use one of {', '.join(choices)}")
    return choices[value]
