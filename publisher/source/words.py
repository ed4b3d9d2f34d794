"""Name things and quote values in messages, and guess which word was meant."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable

from publisher.source.findings import KeyPath


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that was most likely meant."""
    from difflib import get_close_matches

    known = list(known)
    meant = _OTHER_WORDS.get(word.lower())
    if meant in known:
        return meant
    found = get_close_matches(word.lower(), known, n=1, cutoff=0.65)
    return found[0] if found else None


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
    """Whether a character can be seen by itself, as a letter of a chart must."""
    blank = sign.isspace() or not sign.isprintable()
    return not blank and not unicodedata.category(sign).startswith("M")


def listed(words: Iterable[str], most: int = 12) -> str:
    """`N, W, S`, cut short."""
    words = list(words)
    return ", ".join(words[:most]) + (", …" if len(words) > most else "")


def thing(path: KeyPath, data: object = None) -> str:
    """What stands at a way of keys: `colour N`, `piece 2 (panel)`."""
    match path:
        case ():
            return "this file"
        case ("colours", str(letter)):
            return f"colour {on_one_line(letter)}"
        case ("yarns", str(name)):
            return f"yarn {on_one_line(name)}"
        case ("pieces", int(index)):
            try:
                name = f" ({on_one_line(str(data['pieces'][index]['id']))})"  # type: ignore[index]
            except (KeyError, IndexError, TypeError):
                name = ""
            return f"piece {index + 1}{name}"
        case ("assembly", int(index)):
            return f"assembly step {index + 1}"
        case (*_, "steps" | "cords" as group, int(index)):
            return f"{group[:-1]} {index + 1}"
        case _:
            return f"`{path[-1]}`"


_OTHER_WORDS = {
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
