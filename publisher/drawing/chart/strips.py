"""Cut the rows of a chart into bands, so that several tiles of a wide, low one share a page."""

from __future__ import annotations

import math
from collections.abc import Iterator

from publisher.frozen import frozen

GAP_MM = 3.0
"""Between tiles that stand under one another."""
_MORE_BANDS = 3
_SLACK = 1e-6

Band = tuple[int, int]
"""First and last row, or cord, from 1."""


@frozen
class PageRoom:
    """The room for tiles, and what each takes besides its rows, in mm: alone in its column of
    tiles, and with others above or below."""

    height_mm: float
    around_alone_mm: float
    around_mm: float

    def grid_mm(self, bands: int) -> float:
        """The height for the rows of a tile that has the page for itself."""
        return self.height_mm - (self.around_mm if bands > 1 else self.around_alone_mm)

    def holds(self, rows: int, bands: int, row_mm: float) -> int:
        """Return how many tiles of so many rows stand on a page, one under another; at least
        one."""
        tall = rows * row_mm + self.height_mm - self.grid_mm(bands)
        return max(1, math.floor((self.height_mm + GAP_MM) / (tall + GAP_MM) + _SLACK))


def pages_of(bands: list[Band], across: int, page: PageRoom, row_mm: float) -> list[int]:
    """Return how many pages each band of tiles takes; no two bands share one."""
    held = (page.holds(last - first + 1, len(bands), row_mm) for first, last in bands)
    return [math.ceil(across / count) for count in held]


def bands_for_fewest_pages(
    rows: int, across: int, overlap: int, page: PageRoom, row_mm: float
) -> list[Band]:
    """The bands that take the fewest pages; of those, the fewest and the most even."""
    choices = _choices(rows, overlap, page, row_mm)

    def cost(bands: list[Band]) -> tuple[int, int, int]:
        return sum(pages_of(bands, across, page, row_mm)), len(bands), longest(bands)

    return min(choices, key=cost)


def _choices(rows: int, overlap: int, page: PageRoom, row_mm: float) -> Iterator[list[Band]]:
    """Even bands, and some that are as high as can be with a lower one at the end."""
    alone, most = (math.floor(page.grid_mm(bands) / row_mm + _SLACK) for bands in (1, 2))
    if rows <= alone:
        yield [(1, rows)]
    most = max(overlap + 1, most)
    fewest = max(2, tiles_needed(rows, most, overlap))
    for count in range(fewest, fewest + _MORE_BANDS):
        if rows > count + overlap:
            yield even_parts(rows, count, overlap)
    even = math.ceil((rows + (fewest - 1) * overlap) / fewest)
    for high in range(even, min(most, rows - 1) + 1):
        firsts = range(1, rows - overlap + 1, high - overlap)
        yield [(first, min(rows, first + high - 1)) for first in firsts]


def tiles_needed(cells: int, capacity: int, overlap: int) -> int:
    """Return how many tiles of a capacity cover a line of cells, neighbours sharing `overlap`."""
    return 1 if cells <= capacity else math.ceil((cells - overlap) / (capacity - overlap))


def even_parts(cells: int, parts: int, overlap: int) -> list[Band]:
    """First and last cell of each part, as even as can be, the longer ones first."""
    size, longer = divmod(cells + (parts - 1) * overlap, parts)
    found, first = [], 1
    for index in range(parts):
        last = first + size - 1 + (1 if index < longer else 0)
        found.append((first, last))
        first = last - overlap + 1
    return found


def longest(bands: list[Band]) -> int:
    return max(last - first + 1 for first, last in bands)
