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


def paper_size_mm(paper: str) -> tuple[float, float]:
    """Width and height of a paper. UsageError if it is none of ours."""
    if paper not in PAPERS_MM:
        what = f"there is no paper “{paper}”"
        raise UsageError(Problem(Place("paper"), what, f"use one of {', '.join(PAPERS_MM)}"))
    return PAPERS_MM[paper]
