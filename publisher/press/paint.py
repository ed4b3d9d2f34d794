"""Turn SVG paint attributes into a fill, a line, and the order to fill and stroke a path."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache

from publisher.press.content import PLAIN_LINE, Content, Rgba
from publisher.press.numbers import extent, plain
from publisher.press.paths import numbers
from publisher.press.tree import Node, PageError

_HEX = re.compile("(?:[0-9a-fA-F]{2}){3,4}")
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


def length(value: str, what: str) -> float:
    """A plain number; PageError for anything else, a unit or a percentage included."""
    try:
        number = float(value)
        if number - number == 0:  # neither infinite nor NaN
            return number
    except ValueError:
        plain = value.strip().removesuffix("px")
        if plain != value.strip():
            return length(plain, what)
    hint = "write a plain number: pages are in mm"
    raise PageError(f"{what}=“{value}” is not a number", hint)


def attribute(node: Node, name: str, default: float = 0.0) -> float:
    """A number among a node's own attributes."""
    value = node.own.get(name)
    return default if value is None else length(value, name)


def opacity(node: Node, around: float = 1.0) -> float:
    """A node's own opacity in that of what it stands in; from 0 to 1."""
    value = node.own.get("opacity")
    return around if value is None else around * _share(value, "opacity")


def _share(value: str, what: str) -> float:
    """What is more than all is all, and less than nothing nothing (SVG 1.1, 14.5)."""
    return min(max(length(value, what), 0.0), 1.0)


@lru_cache(maxsize=4096)
def colour(value: str) -> Rgba | None:
    """An SVG colour → red, green, blue, alpha from 0 to 1; None for `none`."""
    text = value.strip()
    if text in ("none", "transparent"):
        return None
    if text in ("black", "white"):
        level = float(text == "white")
        return (level, level, level, 1.0)
    if text.startswith("#"):
        digits = text[1:]
        if len(digits) in (3, 4):
            digits = "".join(2 * digit for digit in digits)
        if not _HEX.fullmatch(digits):
            raise _no_colour(value)
        red, green, blue, *more = [byte / 255 for byte in bytes.fromhex(digits)]
        return (red, green, blue, more[0] if more else 1.0)
    return _named_colour(value)


def _named_colour(value: str) -> Rgba:
    """A colour by its name, or as rgb(…), rgba(…), hsl(…) or hsla(…) (CSS Color Module Level 3)."""
    from tinycss2.color3 import RGBA, parse_color

    found = parse_color(value)
    if not isinstance(found, RGBA):
        raise _no_colour(value)
    red, green, blue, alpha = (min(max(channel, 0.0), 1.0) for channel in found)
    return (red, green, blue, alpha)


def _no_colour(value: str) -> PageError:
    return PageError(f"“{value}” is not a colour", "write it as #rrggbb")


def paint_of(style: Mapping[str, str], which: str, default: str) -> Rgba | None:
    """The fill or stroke of a style with its own opacity, or None if there is none."""
    value = style.get(which, default)
    if value == "currentColor":
        value = style.get("color", "black")
    rgba = colour(value)
    own = style.get(which + "-opacity")
    if rgba is None or own is None:
        return rgba
    return (*rgba[:3], rgba[3] * _share(own, which + "-opacity"))


def needs_gradient(style: Mapping[str, str]) -> bool:
    """Whether the fill or the stroke is a gradient (`url(#…)`)."""
    return style.get("fill", "").startswith("url") or style.get("stroke", "").startswith("url")


def fill_and_stroke(content: Content, node: Node, path: str) -> None:
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
