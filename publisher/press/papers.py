"""Paper sizes, and the way between mm and the PDF's points."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from publisher.errors import Place, Problem, UsageError

PT_PER_MM = 72 / 25.4

PAPERS_MM: Mapping[str, tuple[float, float]] = MappingProxyType(
    {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
)
"""Width and height of each paper, upright (ISO 216; ANSI/ASME Y14.1)."""

SHEETS_MM: Mapping[str, tuple[float, float]] = MappingProxyType(
    {**PAPERS_MM, "a3": (297.0, 420.0), "tabloid": (279.4, 431.8)}
)
"""Width and height of what two pages can be put on: the papers, and twice each (the same)."""


def sheet_size_mm(sheet: str) -> tuple[float, float]:
    """Width and height of a sheet, upright. UsageError if it is none of ours."""
    if sheet not in SHEETS_MM:
        what = f"there is no paper “{sheet}”"
        raise UsageError(Problem(Place("paper"), what, f"use one of {', '.join(SHEETS_MM)}"))
    return SHEETS_MM[sheet]
