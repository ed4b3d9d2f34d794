"""A figure: an SVG fragment in mm with its size and the words that stand for it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from publisher.frozen import frozen


@frozen
class Figure:
    """`svg` is drawn from its top left corner, in mm. `alt` says what it shows."""

    svg: str
    width_mm: float
    height_mm: float
    alt: str = ""

    def weight(self) -> int:
        """About how many bytes it has."""
        return len(self.svg)

    def with_alt(self, alt: str) -> Figure:
        """The same picture with other words."""
        return replace(self, alt=alt)


def weight_of(figures: Iterable[Figure]) -> int:
    """About how many bytes figures have."""
    return sum(figure.weight() for figure in figures)
