"""What came of making a chart from a picture, as values to be told."""

from __future__ import annotations

from pathlib import Path

from publisher.frozen import frozen
from publisher.model.pattern import UnitOrder, YarnColour


@frozen
class Tidied:
    """Before and after: cells unlike all around them, and yarns; None: too large to count."""

    single_knots: tuple[int, int]
    yarns: tuple[int, int] | None


@frozen
class Replaced:
    """The chart that a file had before, and the colours that went with it."""

    piece: str
    columns: int
    rows: int
    picture: str
    """The picture that the chart was read from; empty: it stood in the file."""
    colours: tuple[YarnColour, ...]
    kept: tuple[YarnColour, ...]
    """Colours that stay because something else in the file needs them."""


@frozen
class Charted:
    """A chart made from a picture, and where it is."""

    path: Path
    columns: int
    rows: int
    width_mm: float
    height_mm: float
    measured: bool
    """Whether the size is by the writer's own swatch."""
    units: UnitOrder
    colours: tuple[tuple[YarnColour, int], ...]
    """Each with its knots, the most first."""
    tidied: Tidied
    replaced: Replaced | None
    pictures: int
    """How many the picture's file holds; the first was taken."""
    pixels: int
    """How many the picture is across."""
    see_through: bool
    """Whether some of the picture was, and became white."""
    patterns: int | None
    """Of how many patterns the colours are; None: they were not looked for there."""
    passed_over: tuple[Path, ...]
    """Patterns that could not be read, and so gave none."""
