"""The order of pages on sheets: saddle-stitched (folded once, stapled in the fold), and two-up."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from publisher.frozen import frozen


@frozen
class Side:
    """One side of a sheet. `left` and `right` are page numbers from 1, None for a blank.

    `inside` counts the sheets that lie around this one in the folded booklet.
    """

    label: str
    left: int | None
    right: int | None
    inside: int = 0


def saddle_stitch(pages: int) -> tuple[Side, ...]:
    """Sheet after sheet, front and back, from the outermost in.

    Blanks that fill up the last sheet stand before the last page, so that the back cover stays
    outside (printers' guides).
    """
    order = _with_blanks(pages)
    last = len(order) - 1
    sides = []
    for sheet in range(len(order) // 4):
        first = 2 * sheet
        front = (order[last - first], order[first])
        back = (order[first + 1], order[last - first - 1])
        sides.append(Side(f"{sheet + 1} front", *front, inside=sheet))
        sides.append(Side(f"{sheet + 1} back", *back, inside=sheet))
    return tuple(sides)


def two_up(pages: int) -> tuple[Side, ...]:
    """Two pages beside each other, in reading order, one side after the other."""
    return tuple(
        Side(str(at // 2 + 1), at + 1, at + 2 if at + 2 <= pages else None)
        for at in range(0, pages, 2)
    )


SCHEMES: Mapping[str, Callable[[int], tuple[Side, ...]]] = MappingProxyType(
    {"booklet": saddle_stitch, "two-up": two_up}
)


def _with_blanks(pages: int) -> list[int | None]:
    blanks: list[int | None] = [None] * (-pages % 4)
    numbers = list(range(1, pages + 1))
    return [*numbers[:-1], *blanks, numbers[-1]] if pages > 1 else [*numbers, *blanks]
