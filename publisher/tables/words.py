"""Quote values in messages, and guess which word was meant."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterable, Mapping
from typing import Any


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Return the known word that was most likely meant, or None where none is near."""
    return next(iter(near_ones(word, known, most=1)), None)


def near_ones(word: str, known: Iterable[str], most: int = 3) -> list[str]:
    """Return the known words that may have been meant, the most likely first."""
    from difflib import get_close_matches

    return get_close_matches(word.lower(), list(known), n=most, cutoff=0.65)


def nearest_key(key: str, known: Collection[str]) -> str | None:
    """Return the key that was most likely meant: one of its usual other names, or the nearest."""
    meant = _OTHER_NAMES.get(key.lower())
    return meant if meant in known else nearest(key, known)


_OTHER_NAMES = {
    "author": "designer",
    "color": "colour",
    "colors": "colours",
    "count": "make",
    "description": "about",
    "difficulty": "level",
    "hex": "srgb",
    "image": "chart_file",
    "picture": "chart_file",
    "quantity": "make",
    "rgb": "srgb",
    "thickness_mm": "diameter_mm",
    "weight": "grams_per_metre",
}


def written(value: Any) -> str:
    """A value as it is written in TOML."""
    import json

    match value:
        case str():
            return json.dumps(value, ensure_ascii=False)
        case bool():
            return "true" if value else "false"
        case Mapping():
            return "{ " + ", ".join(f"{k} = {written(v)}" for k, v in value.items()) + " }"
        case list() | tuple():
            return f"[{', '.join(map(written, value))}]"
        case _:
            return str(value)


def shown(value: object) -> str:
    """A value as it is quoted in a message, cut short."""
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            return f'"{on_one_line(value)}"'
        case dict():
            return "a table"
        case list():
            return "a list"
        case int() if abs(value) >= 10**15:
            return "a huge number"
        case _:
            return str(value)


def on_one_line(text: str) -> str:
    """A text as it can stand in a message: short, and nothing in it that can't be seen."""
    seen = "".join(sign if sign.isprintable() else " " for sign in text)
    return seen if len(seen) <= 40 else seen[:39] + "…"


def can_be_seen(sign: str) -> bool:
    """Return whether a character can be seen by itself, as a letter of a chart must."""
    blank = sign.isspace() or not sign.isprintable()
    return not blank and not unicodedata.category(sign).startswith("M")


def listed(words: Iterable[str], most: int = 12) -> str:
    """`N, W, S`, cut short."""
    words = list(words)
    return ", ".join(words[:most]) + (", …" if len(words) > most else "")


def in_unit_of(key: str, text: str) -> str | None:
    """Return the number to write for a key whose name ends with its unit, where the text gives a
    number with a unit: 101.6 for `tail_mm` and `4 in`. None where it does not, or of another kind.
    """
    given = text.strip().strip("\"'") if text[:1] in "\"'" else text
    found = re.match(_MEASURE, given, re.VERBOSE)  # compiled only where there is a fault
    units = next((table for end, table in _UNITS.items() if key.endswith(end)), {})
    if found is None or found["unit"].lower() not in units:
        return None
    number = float(found["whole"] or 0) + _fraction(found["part"])
    return f"{round(number * units[found['unit'].lower()], 2):g}"


_MEASURE = r"""\s*(?P<whole>\d+(?:\.\d+)?)?\s*(?P<part>[½¼¾⅓⅔⅛⅜⅝⅞]|(?<!\S)\d+/[1-9]\d*)?\s*
    (?P<unit>[A-Za-z]+|["″'′%°])\.?\s*(?:\#.*)?\Z"""
_NAMES = {
    "mm": 1.0,
    "cm": 10.0,
    "m": 1000.0,
    "metre metres meter meters": 1000.0,
    'in inch inches " ″': 25.4,
    "ft foot feet ' ′": 304.8,
    "yd yard yards": 914.4,
}
_LENGTHS = {name: mm for names, mm in _NAMES.items() for name in names.split()}
_WEIGHTS = {"g": 1.0, "gram": 1.0, "grams": 1.0, "kg": 1000.0, "oz": 28.3495, "lb": 453.592}
_UNITS: Mapping[str, Mapping[str, float]] = {
    "_mm": _LENGTHS,
    "_metres": {name: mm / 1000 for name, mm in _LENGTHS.items()},
    "_grams": _WEIGHTS,
    "_percent": {"%": 1.0, "percent": 1.0},
    "_degrees": {"°": 1.0, "degrees": 1.0, "deg": 1.0},
    "seconds_per_knot": {"s": 1.0, "sec": 1.0, "seconds": 1.0, "min": 60.0, "minutes": 60.0},
}
"""What a unit is in that of a key: inch, foot, yard, ounce and pound as agreed in 1959."""


def _fraction(part: str | None) -> float:
    """The value of `½` or `1/2`."""
    if not part:
        return 0.0
    above, _, below = part.partition("/")
    return int(above) / int(below) if below else unicodedata.numeric(part)
