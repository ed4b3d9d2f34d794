"""Cut a chart into tiles: the largest cells that keep the fewest pages, one size on all of them."""

from __future__ import annotations

import math
from dataclasses import replace

from publisher.drawing.chart.strips import (
    Band,
    PageRoom,
    bands_for_fewest_pages,
    even_parts,
    longest,
    pages_of,
    tiles_needed,
)
from publisher.drawing.chart.surround import Others, surround
from publisher.frozen import frozen
from publisher.model.look import Look
from publisher.model.pattern import Side

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
    """The cutting of a chart into tiles. Tiles are numbered along the rows, from where the first
    row begins."""

    columns: int
    rows: int
    cell_width_mm: float
    cell_height_mm: float
    overlap: int
    across: int
    down: int
    tiles: tuple[Tile, ...]
    stacks: tuple[tuple[int, ...], ...] = ()
    """The numbers of the tiles on each page, one under another; none: each has its own."""

    @property
    def others(self) -> Others:
        """The sides on which tiles have neighbours."""
        if len(self.tiles) == 1:
            return "none"
        return "among" if self.down > 1 else "beside"

    @property
    def pages(self) -> tuple[tuple[Tile, ...], ...]:
        """The tiles of each page."""
        if not self.stacks:
            return tuple((tile,) for tile in self.tiles)
        return tuple(tuple(map(self.tile, numbers)) for numbers in self.stacks)

    def page_of(self, tile: Tile) -> tuple[Tile, ...]:
        """The tiles that stand on one page with this one, itself among them."""
        return next(page for page in self.pages if tile in page)

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
    first_row_from: Side = "left",
) -> TilePlan:
    """Choose the cell and cut the chart.

    `available` is the room for a whole figure, with numbers and arrows round the grid;
    `cell_ratio` is a cell's width over its height. The shorter side of a cell is never under the
    look's smallest; the longer never over its largest, where the two can agree. Where pages are
    saved by it, low tiles stand on one page, one under another. The first tile is the one where
    the first row begins.
    """
    plan = _chosen(columns, rows, (available_width_mm, available_height_mm), cell_ratio, look)
    return plan if first_row_from == "left" else _from_right(plan)


def _from_right(plan: TilePlan) -> TilePlan:
    """The same tiles, those of each band numbered from the right."""

    def new(number: int) -> int:
        band, along = divmod(number - 1, plan.across)
        return (band + 1) * plan.across - along

    def renumbered(tile: Tile) -> Tile:
        sides = {side: getattr(tile, side) for side in ("left", "right", "above", "below")}
        beside = {side: number and new(number) for side, number in sides.items()}
        return replace(tile, number=new(tile.number), **beside)

    tiles = sorted(map(renumbered, plan.tiles), key=lambda tile: tile.number)
    return replace(plan, tiles=tuple(tiles))


def _chosen(
    columns: int, rows: int, room: tuple[float, float], cell_ratio: float, look: Look
) -> TilePlan:
    """The cut with the fewest pages, numbered from the left."""
    whole = surround(look)
    one = _cut(columns, rows, whole.grid(*room), cell_ratio, look)
    if len(one.tiles) == 1:
        return one
    beside, among = surround(look, "beside"), surround(look, "among")
    low = _cut(columns, rows, beside.grid(*room), cell_ratio, look)
    apart = low if low.down == 1 else _cut(columns, rows, among.grid(*room), cell_ratio, look)
    if apart.across == 1:
        return apart
    page = PageRoom(room[1], beside.above + beside.below, among.above + among.below)
    return _stacked(apart, page, beside.grid(*room)[0], cell_ratio, look)


def _stacked(
    apart: TilePlan, page: PageRoom, width_mm: float, ratio: float, look: Look
) -> TilePlan:
    """The tiles on the fewest pages, with the largest cells that allow it; as they are, where each
    has a page of its own anyway."""
    wide, high = _sides(ratio)
    smallest, largest = _limits(look, wide, high)
    across, overlap = apart.across, apart.overlap
    bands = bands_for_fewest_pages(apart.rows, across, overlap, page, smallest * high)
    fewest = sum(pages_of(bands, across, page, smallest * high))
    if fewest >= len(apart.tiles):
        return apart
    cords = even_parts(apart.columns, across, overlap)
    tallest = page.grid_mm(len(bands)) / high / longest(bands)
    unit = _stepped(min(largest, width_mm / wide / longest(cords), tallest), smallest)
    while sum(pages_of(bands, across, page, unit * high)) > fewest:
        unit = _stepped(unit - _STEP_MM, smallest)
    found = _plan(apart.columns, apart.rows, cords, bands, (unit * wide, unit * high), look)
    stacks = (
        tuple(range(band * across + first, band * across + last + 1))
        for band, pages in enumerate(pages_of(bands, across, page, unit * high))
        for first, last in even_parts(across, pages, 0)
    )
    return replace(found, stacks=tuple(stacks))


def _cut(
    columns: int, rows: int, room_mm: tuple[float, float], ratio: float, look: Look
) -> TilePlan:
    """Each tile on a page of its own."""
    wide, high = _sides(ratio)
    room = room_mm[0] / wide, room_mm[1] / high
    smallest, largest = _limits(look, wide, high)
    overlap = look.chart.overlap
    across, down = (
        tiles_needed(cells, max(overlap + 1, math.floor(space / smallest + _SLACK)), overlap)
        for cells, space in zip((columns, rows), room, strict=True)
    )
    cords = even_parts(columns, across, overlap)
    lines = even_parts(rows, down, overlap)
    unit = min(largest, room[0] / longest(cords), room[1] / longest(lines))
    unit = _stepped(unit, smallest)
    return _plan(columns, rows, cords, lines, (unit * wide, unit * high), look)


def _sides(ratio: float) -> tuple[float, float]:
    """A cell's width and height, the shorter of them 1."""
    return max(1.0, ratio), max(1.0, 1 / ratio)


def _limits(look: Look, wide: float, high: float) -> tuple[float, float]:
    """The least and the most that the shorter side of a cell can be, in mm."""
    smallest = look.chart.cell_min_mm
    return smallest, max(smallest, look.chart.cell_max_mm / max(wide, high))


def _stepped(unit_mm: float, smallest_mm: float) -> float:
    """The shorter side of a cell in whole steps, but never too small."""
    return max(smallest_mm, math.floor(unit_mm / _STEP_MM + _SLACK) * _STEP_MM)


def _plan(
    columns: int,
    rows: int,
    cords: list[Band],
    lines: list[Band],
    cell_mm: tuple[float, float],
    look: Look,
) -> TilePlan:
    across, down = len(cords), len(lines)
    tiles = tuple(_tile(index, cords, lines) for index in range(across * down))
    return TilePlan(columns, rows, *cell_mm, look.chart.overlap, across, down, tiles)


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
