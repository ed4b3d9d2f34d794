"""What is placed on pages: boxes of a known height, drawn by a macro of the templates."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from typing import Any

from publisher.frozen import frozen


@frozen
class Group:
    """Boxes that belong to one structure element (a table, a list), also across pages."""

    tag: str
    serial: int


@frozen
class Box:
    """Something of a height that stands in a column.

    `macro` is `file.name` in templates/blocks; it is called with x, y (top left, mm) and
    `args`. `before_mm` is room above, dropped at the top of a column. `keep` holds it together
    with the next box. `head` is drawn again above it where it comes first in a column. What
    stands only `between` others is left out at the top of a column, and may be as low as
    `least_mm`. `begins`: with this box a section begins, the first, second, … of those that
    follow one another. `opening`: a page that it begins still has the title of its section's
    first page.
    """

    height_mm: float
    macro: str = ""
    args: Mapping[str, Any] = field(default_factory=dict)
    before_mm: float = 0.0
    keep: bool = False
    between: bool = False
    least_mm: float = 0.0
    group: Group | None = None
    head: Box | None = None
    row: int | None = None
    begins: int | None = None
    opening: bool = False
    target: str | None = None
    children: tuple[Placed, ...] = ()


@frozen
class Placed:
    """A box at its place: on a page, or within another box."""

    x_mm: float
    y_mm: float
    box: Box


def stack(boxes: tuple[Box, ...], x_mm: float = 0.0, y_mm: float = 0.0) -> tuple[Placed, ...]:
    """Put boxes under one another from a place on."""
    placed = []
    y = y_mm
    for index, box in enumerate(boxes):
        y += box.before_mm if index else 0.0
        placed.append(Placed(x_mm, y, box))
        y += box.height_mm
    return tuple(placed)


def height(boxes: tuple[Box, ...]) -> float:
    """The height of boxes under one another, without the room above the first."""
    return sum(box.height_mm + (box.before_mm if index else 0.0) for index, box in enumerate(boxes))
