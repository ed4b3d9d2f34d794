"""Name the things of a pattern in messages, and guess which key was meant."""

from __future__ import annotations

from collections.abc import Collection

from publisher.tables.findings import KeyPath
from publisher.tables.words import nearest, on_one_line


def nearest_key(key: str, known: Collection[str]) -> str | None:
    """Return the key that was most likely meant: one of its usual other names, or the nearest."""
    meant = _OTHER_NAMES.get(key.lower())
    return meant if meant in known else nearest(key, known)


def thing(path: KeyPath, data: object = None) -> str:
    """Return what stands at a way of keys: `colour N`, `piece 2 (panel)`."""
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
