"""Quote values in messages, and guess which word was meant."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Return the known word that was most likely meant, or None where none is near."""
    return next(iter(near_ones(word, known, most=1)), None)


def near_ones(word: str, known: Iterable[str], most: int = 3) -> list[str]:
    """Return the known words that may have been meant, the most likely first."""
    from difflib import get_close_matches

    return get_close_matches(word.lower(), list(known), n=most, cutoff=0.65)


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
