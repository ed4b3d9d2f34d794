"""Where the cells of one tile stand in its figure."""

from __future__ import annotations

from publisher.drawing.chart.surround import Surround, surround
from publisher.drawing.chart.tiles import Tile, TilePlan
from publisher.frozen import frozen
from publisher.model.colour import Colour
from publisher.model.look import Look
from publisher.model.plan import ChartPlan, Row


@frozen
class View:
    """One tile of a plan, in mm from the figure's top left corner."""

    plan: ChartPlan
    tiles: TilePlan
    tile: Tile
    look: Look
    room: Surround
    cell_width: float
    cell_height: float
    left: float
    top: float
    right: float
    bottom: float

    @classmethod
    def of(cls, plan: ChartPlan, tiles: TilePlan, number: int, look: Look) -> View:
        room = surround(look, tiles.others)
        tile = tiles.tile(number)
        wide, tall = tiles.cell_width_mm, tiles.cell_height_mm
        right, bottom = room.side + tile.columns * wide, room.above + tile.rows * tall
        return cls(plan, tiles, tile, look, room, wide, tall, room.side, room.above, right, bottom)

    @property
    def unit(self) -> float:
        """The shorter side of a cell: signs are drawn to it."""
        return min(self.cell_width, self.cell_height)

    @property
    def width_mm(self) -> float:
        return self.right + self.room.side

    @property
    def height_mm(self) -> float:
        return self.bottom + self.room.below

    @property
    def cords(self) -> range:
        return range(self.tile.first_cord, self.tile.last_cord + 1)

    @property
    def row_numbers(self) -> range:
        return range(self.tile.first_row, self.tile.last_row + 1)

    @property
    def rows(self) -> tuple[Row, ...]:
        return self.plan.row_list[self.tile.first_row - 1 : self.tile.last_row]

    def x(self, cord: float) -> float:
        """The left edge of a cord's cells."""
        return self.left + (cord - self.tile.first_cord) * self.cell_width

    def y(self, row: float) -> float:
        """The top edge of a row."""
        return self.top + (row - self.tile.first_row) * self.cell_height

    def letters(self, row: int) -> str:
        """The colours of a row's cells on this tile."""
        return self.plan.cells[row - 1][self.tile.first_cord - 1 : self.tile.last_cord]

    @property
    def own_columns(self) -> int:
        """The number of cells of a row, from the left, that are worked from this tile if the row
        is."""
        return self.tiles.own_cords(self.tile)[1] - self.tile.first_cord + 1

    @property
    def accent(self) -> Colour:
        return self.look.accent
