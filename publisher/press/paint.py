"""Turn SVG paint attributes into a fill, a line, and the order to fill and stroke a path."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from publisher.press.content import PLAIN_LINE, Content, Rgba
from publisher.press.numbers import plain
from publisher.press.paths import numbers
from publisher.press.tree import Node, PageError

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


@cache
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
        try:
            parts = [int(digits[at : at + 2], 16) / 255 for at in range(0, len(digits), 2)]
            red, green, blue = parts[:3]
        except ValueError:
            raise _no_colour(value) from None
        return (red, green, blue, parts[3] if len(parts) == 4 else 1.0)
    return _named_colour(value)


def _named_colour(value: str) -> Rgba:
    try:
        from cairosvg.colors import COLORS, color
    except OSError:  # the cairo library is not installed
        raise _no_colour(value) from None
    text = value.strip().lower()
    if text not in COLORS and not text.startswith(("rgb(", "rgba(", "hsl(", "hsla(")):
        raise _no_colour(value)
    try:
        red, green, blue, alpha = color(text)
    except (ValueError, TypeError, IndexError):
        raise _no_colour(value) from None
    return (red, green, blue, alpha)


def _no_colour(value: str) -> PageError:
    return PageError(f"“{value}” is not a colour", "write it as #rrggbb")


def paint_of(style: Mapping[str, str], which: str, default: str) -> Rgba | None:
    """The fill or stroke of a style with its own opacity, or None if there is none."""
    value = style.get(which, default)
    if value == "currentColor":
        value = style.get("color", "black")
    rgba = colour(value)
    opacity = style.get(which + "-opacity")
    if rgba is None or opacity is None:
        return rgba
    return (*rgba[:3], rgba[3] * length(opacity, which + "-opacity"))


def needs_gradient(style: Mapping[str, str]) -> bool:
    """Whether the fill or the stroke is a gradient (`url(#…)`)."""
    return style.get("fill", "").startswith("url") or style.get("stroke", "").startswith("url")


def fill_and_stroke(content: Content, node: Node, path: str) -> None:
    """Fill, then stroke, a path given as operators."""
    style = node.style
    fill, stroke = paint_of(style, "fill", "black"), paint_of(style, "stroke", "none")
    opacity = node.own.get("opacity")
    share = 1.0 if opacity is None else length(opacity, "opacity")
    if fill is not None:
        content.fill_colour(fill, share)
    if stroke is not None:
        content.stroke_colour(stroke, share)
        content.line(*_line(style))
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
    if not sum(lengths):
        return "[] 0"
    start = length(offset, "stroke-dashoffset")
    return f"[{' '.join(map(plain, lengths))}] {plain(start % (2 * sum(lengths)))}"


def _choice(style: Mapping[str, str], name: str, choices: Mapping[str, str]) -> str:
    value = style.get(name)
    if value is None:
        return "0"
    if value not in choices:
        raise PageError(f"{name}=“{value}” is not known", f"use one of {', '.join(choices)}")
    return choices[value]
