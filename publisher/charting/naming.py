"""Name colours plainly, as one would say them: dark blue, cream, blue 2.

The names are of lightness, chroma and hue in CIE L*a*b*; where one ends and the next begins is our
own choice.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence

from publisher.model.colour import Colour

_GREY_CHROMA = 8.0
_DULL_CHROMA = 20.0
_BRIGHT_CHROMA = 60.0
_VERY_DARK = 22.0
_GREYS = ((16, "black"), (40, "dark grey"), (68, "grey"), (88, "light grey"), (101, "white"))
_HUES = (
    (18, "pink"),
    (47, "red"),
    (78, "orange"),
    (106, "yellow"),
    (122, "yellow green"),
    (172, "green"),
    (218, "turquoise"),
    (309, "blue"),
    (324, "violet"),
    (345, "purple"),
    (361, "pink"),
)
"""Hue angles in degrees, each up to which."""


def name_colours(colours: Sequence[Colour], taken: Sequence[str] = ()) -> tuple[str, ...]:
    """A name for each; of those that would have one name, the second is `blue 2`."""
    used = Counter(taken)
    names = []
    for colour in colours:
        plain = _plain_name(colour)
        name, number = plain, 1
        while name in used:
            number += 1
            name = f"{plain} {number}"
        used[name] += 1
        names.append(name)
    return tuple(names)


def _plain_name(colour: Colour) -> str:
    lightness, a, b = colour.lab
    chroma, hue = math.hypot(a, b), math.degrees(math.atan2(b, a)) % 360
    if chroma < _GREY_CHROMA or (lightness < 14 and chroma < 1.4 * _GREY_CHROMA):
        return _up_to(_GREYS, lightness)
    warm = 40 <= hue < 105
    if warm and lightness >= 86 and chroma < 32:
        return "cream"
    if warm and chroma < 40 and lightness >= 58:
        return "sand" if lightness < 82 else "pale sand"
    if 30 <= hue < 86 and lightness < 52 and (hue >= 47 or chroma < 40):
        return "dark brown" if lightness < 28 else "brown"
    if 86 <= hue < 122 and lightness < 56:
        return "dark olive" if lightness < 30 else "olive"
    base = _up_to(_HUES, hue)
    if base == "red" and lightness > 62:
        base = "pink"
    elif base == "pink" and lightness < 45:
        base = "wine red"
    return f"{_shade(lightness, chroma, base)}{base}"


def _shade(lightness: float, chroma: float, base: str) -> str:
    """Return what goes before a hue's name, if anything."""
    dark, light, pale = (65, 92, 97) if base == "yellow" else (32, 66, 82)
    dull = chroma < _DULL_CHROMA and lightness >= _VERY_DARK
    if lightness < dark and base != "wine red" and not dull:
        return "dark "
    if chroma >= _BRIGHT_CHROMA:
        return ""
    if lightness >= pale:
        return "pale "
    if dull:
        return "light grey " if lightness >= light else "dark grey " if lightness < 42 else "grey "
    return "light " if lightness >= light else ""


def _up_to(table: Sequence[tuple[float, str]], value: float) -> str:
    return next(name for most, name in table if value < most)
