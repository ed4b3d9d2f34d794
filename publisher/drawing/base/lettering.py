"""Break words into lines that fit a width, for the few words that stand inside figures."""

from __future__ import annotations

from collections.abc import Callable

from publisher.fonts import text_width_mm

_ELLIPSIS = "…"


def fitted_lines(words: str, face: str, size_pt: float, width_mm: float, most: int) -> list[str]:
    """At most so many lines; a word too long for one is cut, and what is left out shows as …"""

    def fits(text: str) -> bool:
        return text_width_mm(text, face, size_pt) <= width_mm

    lines: list[str] = []
    for word in words.split():
        joined = f"{lines[-1]} {word}" if lines else word
        if lines and fits(joined):
            lines[-1] = joined
            continue
        while not fits(word) and len(lines) < most:
            kept = _longest(word, fits)
            lines.append(word[:kept])
            word = word[kept:]
        if word:
            lines.append(word)
    if len(lines) <= most:
        return lines
    last = lines[most - 1]
    while last and not fits(last + _ELLIPSIS):
        last = last[:-1]
    return [*lines[: most - 1], last.rstrip() + _ELLIPSIS]


def _longest(word: str, fits: Callable[[str], bool]) -> int:
    """Return how many letters of a word fit, at least one."""
    kept = len(word)
    while kept > 1 and not fits(word[:kept]):
        kept -= 1
    return kept
