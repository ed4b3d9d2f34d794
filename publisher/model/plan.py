"""The working plan as values. Every number that is printed anywhere is read from here.

Lengths in mm, rows and cords counted from 1, as makers count them.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from publisher.frozen import frozen
from publisher.model.part_plan import AssemblyPlan, PlanOfPiece, StepsPlan
from publisher.model.pattern import ChartPiece, Side, YarnColour

EndKind = Literal["start", "finish", "join-finish", "join-start"]
NoteKind = Literal["start", "pick-up", "join", "leave"]


@frozen
class Spot:
    """A cell: row and cord."""

    row: int
    cord: int


@frozen
class Run:
    """Neighbouring cells of one colour in one row, in working order."""

    colour: str
    knots: int
    first_cord: int
    last_cord: int


@frozen
class Note:
    """A note on a yarn before (leave: after) the knot at a cord, in the order met.

    `behind` names the first and last cord that a picked-up yarn passes behind, in the way it
    travels; None where it hangs between the same two cords already. `cut_mm`: how long the length
    is that starts or joins here; None for others, and where nobody told it yet. `contested`: a
    picked-up yarn could be taken for another open yarn of its colour, which hangs between the
    same two cords, or as near or nearer to where this one is wanted.
    """

    kind: NoteKind
    yarn: str
    cord: int
    behind: tuple[int, int] | None = None
    rows_down: int = 0
    cut_mm: float | None = None
    contested: bool = False

    @property
    def needs_row(self) -> bool:
        """Must its row be named for a yarn to be found: is it not the one in sight?"""
        return self.kind == "pick-up" and (self.contested or self.rows_down > 1)

    @property
    def told(self) -> bool:
        """Is it told in words and marked on the chart?

        Only a yarn that hangs right where it is wanted, in this row or the row above, and is the
        nearest open yarn of its colour, is picked up without a note.
        """
        return self.kind != "pick-up" or self.behind is not None or self.needs_row


@frozen
class Row:
    """One row as it is worked: its runs, and what happens to the yarns on the way."""

    row: int
    start: Side
    """The side that the row starts from."""
    runs: tuple[Run, ...]
    notes: tuple[Note, ...]

    @property
    def told_notes(self) -> tuple[Note, ...]:
        """The notes that a maker needs: what words tell and charts mark."""
        return tuple(note for note in self.notes if note.told)


@frozen
class Stretch:
    """Cells that a yarn works without leaving the row."""

    row: int
    first_cord: int
    last_cord: int
    knots: int


@frozen
class Carry:
    """A yarn's way behind the work, from the last cell of one run to the first of another."""

    origin: Spot
    target: Spot
    length_mm: float


@frozen
class YarnRoute:
    """One yarn's whole chain. Its cut lengths are several where one length would not reach."""

    id: str
    colour: str
    knots: int
    length_mm: float
    """Knots, carries, and a tail at each end and at both sides of each join; no allowance."""
    stretches: tuple[Stretch, ...]
    carries: tuple[Carry, ...]
    joins: tuple[Spot, ...]
    """Where each further length takes over: the first knot made with it."""
    cut_lengths_mm: tuple[float, ...]
    """With allowance, rounded up: what to cut, in the order used."""

    @property
    def carried_mm(self) -> float:
        return sum(carry.length_mm for carry in self.carries)

    @property
    def left_over_mm(self) -> float:
        """The yarn that is cut and neither knotted, carried nor left as a tail."""
        return sum(self.cut_lengths_mm) - self.length_mm


@frozen
class End:
    """A yarn end that hangs at the back of a cell."""

    id: str
    yarn: str
    kind: EndKind
    row: int
    cord: int


@frozen
class HangingCord:
    """One mounted cord as it is cut, folded in half. `columns`: the chart columns it serves."""

    columns: tuple[int, ...]
    length_mm: float
    """Cut length: allowance included, rounded up."""
    fringe_mm: float
    """What hangs below the last row, at the column where that is longest."""


@frozen
class CellSize:
    """One knot's share of the cloth. `measured`: from the writer's swatch, not computed."""

    width_mm: float
    height_mm: float
    measured: bool


@frozen
class RowHeights:
    """The heights that a row may come out at where no swatch tells, in mm: the least and the most
    that are usual, and what hanging cords are cut for."""

    least_mm: float
    planned_mm: float
    most_mm: float


@frozen(slots=False)
class ChartPlan(PlanOfPiece):
    """The plan of one chart piece, made once (times `make` only in the lists)."""

    piece: ChartPiece
    """The piece as it was written, but for its place in a file."""
    cell: CellSize
    row_heights: RowHeights | None
    """None where a swatch gives the height of a row."""
    yarn_mm_per_knot: Mapping[str, float]
    """By colour letter."""
    width_mm: float
    height_mm: float
    """Of the knotted area, without mount and fringe."""
    knots: Mapping[str, int]
    row_list: tuple[Row, ...]
    yarns: tuple[YarnRoute, ...]
    ends: tuple[End, ...]
    end_pairs: tuple[tuple[str, str], ...]
    single_ends: tuple[str, ...]
    hanging_cords: tuple[HangingCord, ...]
    fringe_mm: tuple[float, ...]
    """Below each column, from the left."""
    full_length_mm: float
    """A working length as it is cut: what yarns are cut to as long as they need it."""
    dowel_length_mm: float
    hanging_loop_mm: float
    """The cord that the dowel hangs by; cut from the cords' colour."""
    work_seconds: float | None
    """For the knots of one piece; None where the writer gives no time a knot."""

    @property
    def kind(self) -> Literal["chart"]:
        return "chart"

    @property
    def cells(self) -> tuple[str, ...]:
        return self.piece.cells

    @property
    def rows(self) -> int:
        return self.piece.rows

    @property
    def columns(self) -> int:
        return self.piece.columns


PiecePlan = ChartPlan | StepsPlan
Purpose = Literal["cords", "working yarn", "hanging loop", "part cords"]


@frozen
class CutLine:
    """A line of the cutting list: so many lengths of one colour, for the pattern as a whole (`make`
    counted in)."""

    piece: str
    purpose: Purpose
    colour: str
    count: int
    length_mm: float


@frozen
class BuyLine:
    """A line of the shopping list: the sum of what is cut of one colour, each amount rounded up
    once.

    `length_m` is of lengths cut in cm, and weight and balls are for these; `length_yd` is of the
    same lengths cut in quarter inches. `left_m`: what stays on the balls when everything is cut.
    None where the yarn does not say.
    """

    colour: str
    yarn: str
    length_m: float
    length_yd: float
    mass_g: float
    mass_oz: float
    balls: int | None
    price: float | None
    left_m: float | None


@frozen
class Advice:
    """Something worth a look, never an error. `values` fill the words that belong to `code`."""

    code: str
    piece: str
    row: int | None
    cord: int | None
    values: Mapping[str, str | int | float]


@frozen
class Plan:
    """The working plan of a whole pattern: its pieces, and the lists for all that are made."""

    slug: str
    title: str
    version: str
    colours: tuple[YarnColour, ...]
    """Those that something is cut from, in the pattern's order."""
    pieces: tuple[PiecePlan, ...]
    cutting_list: tuple[CutLine, ...]
    shopping: tuple[BuyLine, ...]
    finished_mass_g: float
    """Yarn in the finished pieces, dowels and all: everything that is made."""
    masses_g: Mapping[str, float]
    """Of one of each piece, by id, with the parts that are fastened on it."""
    cautions: tuple[str, ...]
    knot_names: tuple[str, ...]
    advice: tuple[Advice, ...]
    assembly: tuple[AssemblyPlan, ...] = ()
    free_cord_mm: float = 0.0
    """The longest cord that hangs free in the finished work: fringe, loop, strap."""

    @property
    def charts(self) -> tuple[ChartPlan, ...]:
        """The pieces that are worked from a chart."""
        return tuple(piece for piece in self.pieces if isinstance(piece, ChartPlan))

    @property
    def parts(self) -> tuple[StepsPlan, ...]:
        """The pieces that are worked in steps."""
        return tuple(piece for piece in self.pieces if isinstance(piece, StepsPlan))

    def piece(self, name: str) -> PiecePlan:
        """The piece of an id; KeyError if there is none."""
        for piece in self.pieces:
            if piece.id == name:
                return piece
        raise KeyError(name)

    def colour(self, letter: str) -> YarnColour:
        """The colour of a letter; KeyError if there is none."""
        for colour in self.colours:
            if colour.letter == letter:
                return colour
        raise KeyError(letter)
