"""Quote values in messages, and guess which word was meant."""

from __future__ import annotations

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
