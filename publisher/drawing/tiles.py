"""Cut a chart into tiles: the largest cells that keep the fewest tiles, one size on all of them."""

from __future__ import annotations

import math

from publisher.drawing.look import Look
from publisher.drawing.surround import surround
from publisher.frozen import frozen

_STEP_MM = 0.05
_SLACK = 1e-6


@frozen
class Tile:
    """A part of a chart, its own cells and those it shares; all numbers from 1, both ends in.

    The neighbours are tile numbers. What a tile shares with the one to its right or below is
    worked there, and only shown here.
    """

    number: int
    first_cord: int
    last_cord: int
    first_row: int
    last_row: int
    left: int | None
    right: int | None
    above: int | None
    below: int | None

    @property
    def columns(self) -> int:
        return self.last_cord - self.first_cord + 1

    @property
    def rows(self) -> int:
        return self.last_row - self.first_row + 1


@frozen
class TilePlan:
    """How a chart is cut. Tiles are numbered along the rows, from the top left."""

    columns: int
    rows: int
    cell_width_mm: float
    cell_height_mm: float
    overlap: int
    across: int
    down: int
    tiles: tuple[Tile, ...]

    def tile(self, number: int) -> Tile:
        return self.tiles[number - 1]

    def own_cords(self, tile: Tile) -> tuple[int, int]:
        """The first and last cord that are worked from this tile."""
        return tile.first_cord, tile.last_cord - (self.overlap if tile.right else 0)

    def own_rows(self, tile: Tile) -> tuple[int, int]:
        """The first and last row that are worked from this tile."""
        return tile.first_row, tile.last_row - (self.overlap if tile.below else 0)


def plan_tiles(
    columns: int,
    rows: int,
    available_width_mm: float,
    available_height_mm: float,
    cell_ratio: float,
    look: Look,
) -> TilePlan:
    """Choose the cell and cut the chart.

    `available` is the room for a whole figure, with numbers and arrows round the grid;
    `cell_ratio` is a cell's width over its height. The shorter side of a cell is never under the
    look's smallest; the longer never over its largest, where the two can agree.
    """
    whole = surround(look, with_words=False)
    one = _cut(columns, rows, whole.grid(available_width_mm, available_height_mm), cell_ratio, look)
    if len(one.tiles) == 1:
        return one
    parts = surround(look, with_words=True)
    return _cut(
        columns, rows, parts.grid(available_width_mm, available_height_mm), cell_ratio, look
    )


def tiles_needed(cells: int, capacity: int, overlap: int) -> int:
    """How many tiles of a capacity cover a line of cells, neighbours sharing `overlap`."""
    return 1 if cells <= capacity else math.ceil((cells - overlap) / (capacity - overlap))


def _cut(
    columns: int, rows: int, room_mm: tuple[float, float], ratio: float, look: Look
) -> TilePlan:
    wide, high = max(1.0, ratio), max(1.0, 1 / ratio)
    room = room_mm[0] / wide, room_mm[1] / high
    smallest, largest = look.chart.cell_min_mm, look.chart.cell_max_mm / max(wide, high)
    largest = max(smallest, largest)
    overlap = look.chart.overlap
    across, down = (
        tiles_needed(cells, max(overlap + 1, math.floor(space / smallest + _SLACK)), overlap)
        for cells, space in zip((columns, rows), room, strict=True)
    )
    cords = _parts(columns, across, overlap)
    lines = _parts(rows, down, overlap)
    unit = min(largest, room[0] / _longest(cords), room[1] / _longest(lines))
    unit = max(smallest, math.floor(unit / _STEP_MM + _SLACK) * _STEP_MM)
    tiles = tuple(_tile(index, cords, lines) for index in range(across * down))
    return TilePlan(columns, rows, unit * wide, unit * high, overlap, across, down, tiles)


def _tile(index: int, cords: list[tuple[int, int]], lines: list[tuple[int, int]]) -> Tile:
    across = len(cords)
    down, along = divmod(index, across)
    return Tile(
        index + 1,
        *cords[along],
        *lines[down],
        left=index if along else None,
        right=index + 2 if along < across - 1 else None,
        above=index + 1 - across if down else None,
        below=index + 1 + across if down < len(lines) - 1 else None,
    )


def _parts(cells: int, parts: int, overlap: int) -> list[tuple[int, int]]:
    """First and last cell of each part, as even as can be, the longer ones first."""
    size, longer = divmod(cells + (parts - 1) * overlap, parts)
    found, first = [], 1
    for index in range(parts):
        last = first + size - 1 + (1 if index < longer else 0)
        found.append((first, last))
        first = last - overlap + 1
    return found


def _longest(parts: list[tuple[int, int]]) -> int:
    return max(last - first + 1 for first, last in parts)
