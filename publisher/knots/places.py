"""Find the line of a key in TOML text that has been read already."""

from __future__ import annotations

import re

Key = tuple[str | int, ...]
_TABLE = re.compile(r"\s*(\[\[?)\s*([^\]]+?)\s*\]")
_ASSIGNMENT = re.compile(r"""\s*([\w."'-]+(?:\s*\.\s*[\w"'-]+)*)\s*=""")
_FENCE = re.compile(r'"""|' + "'''")


def line_of(text: str, key: Key) -> int | None:
    """The line (from 1) where a key stands, or the nearest table or key around it."""
    lines = _key_lines(text)
    while key:
        if key in lines:
            return lines[key]
        key = key[:-1]
    return 1 if text else None


def _key_lines(text: str) -> dict[Key, int]:
    lines: dict[Key, int] = {}
    counts: dict[Key, int] = {}
    table: Key = ()
    fence = ""
    for number, line in enumerate(text.split("\n"), 1):
        if fence:
            fence = "" if fence in line else fence
            continue
        if header := _TABLE.match(line):
            table = _table_key(header[1] == "[[", _parts(header[2]), counts)
            lines.setdefault(table, number)
        elif assignment := _ASSIGNMENT.match(line):
            key = (*table, *_parts(assignment[1]))
            lines.setdefault(key, number)
            _inline_keys(line, assignment.end(), key, number, lines)
            fences = _FENCE.findall(line)
            fence = fences[0] if len(fences) % 2 else ""
    return lines


def _inline_keys(line: str, start: int, key: Key, number: int, lines: dict[Key, int]) -> None:
    """Keys of an inline table on the same line."""
    for name in re.findall(r"[{,]\s*([\w-]+)\s*=", line[start:]):
        lines.setdefault((*key, name), number)


def _parts(dotted: str) -> Key:
    return tuple(part.strip(" \"'") for part in dotted.split("."))


def _table_key(repeated: bool, parts: Key, counts: dict[Key, int]) -> Key:
    """A table's key, with the number of the array entry it stands in after each array's name."""
    key: Key = ()
    for part in parts[:-1]:
        key = (*key, part)
        if key in counts:
            key = (*key, counts[key])
    key = (*key, parts[-1])
    if repeated:
        counts[key] = counts.get(key, -1) + 1
        return (*key, counts[key])
    return key
