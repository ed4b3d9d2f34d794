"""Read what SVG attributes say of paint: numbers, colours, opacities."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache

from publisher.press.svg.tree import Node, PageError

Rgba = tuple[float, float, float, float]
"""Red, green, blue and alpha, from 0 to 1."""

_HEX = re.compile("(?:[0-9a-fA-F]{2}){3,4}")


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
    """Read a share; more than all is all, and less than nothing nothing (SVG 1.1, 14.5)."""
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
    """Return whether the fill or the stroke is a gradient (`url(#…)`)."""
    return style.get("fill", "").startswith("url") or style.get("stroke", "").startswith("url")
