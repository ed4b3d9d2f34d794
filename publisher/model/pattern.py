"""A pattern as it was written, validated and immutable. Lengths in mm; rows and cords from 1."""

from __future__ import annotations

import datetime
from typing import Literal

from publisher.errors import Place
from publisher.frozen import frozen
from publisher.model.colour import Colour
from publisher.model.parts import AssemblyStep, StepsPiece

Fibre = Literal["cotton", "wool", "jute", "synthetic"]
Side = Literal["left", "right"]
Order = Literal["zigzag", "one-way"]
FringeShape = Literal["straight", "point", "arch"]
UnitOrder = Literal["metric-first", "inch-first"]


@frozen
class Yarn:
    """A yarn that can be bought. A ball's length or its weight may be known, both, or neither:
    where both are, its length is taken."""

    key: str
    name: str
    diameter_mm: float
    grams_per_metre: float
    ball_metres: float | None = None
    ball_grams: float | None = None
    price: float | None = None
    fibre: Fibre | None = None


@frozen
class CarryLimit:
    """The furthest a yarn may be carried. `along_row`: as far as needed within a row; the columns
    then hold from one row to another."""

    columns: int = 6
    rows: int = 2
    along_row: bool = False


@frozen
class YarnColour:
    """One colour of the chart. `carry` None: the piece's own limit holds."""

    letter: str
    name: str
    srgb: Colour
    yarn: Yarn
    carry: CarryLimit | None = None


@frozen
class Gauge:
    """The writer's own swatch; what is None is computed from the cord's diameter."""

    columns: int | None = None
    width_mm: float | None = None
    rows: int | None = None
    height_mm: float | None = None
    yarn_mm_per_knot: float | None = None

    @property
    def tells_yarn(self) -> bool:
        """Whether it gives the yarn that a knot takes."""
        return self.yarn_mm_per_knot is not None


@frozen
class Mount:
    """The mounting of the cords."""

    knot: str
    on: str = "dowel"
    diameter_mm: float = 12.0


@frozen
class Cords:
    """The mounted cords: their colour's letter, and strands a column (1 or 2)."""

    colour: str
    strands: int = 2


@frozen
class Fringe:
    """The fringe below the last row; a straight one is as long as its longest."""

    shape: FringeShape = "straight"
    longest_mm: float = 150.0
    shortest_mm: float = 150.0


@frozen
class ChartPiece:
    """A piece worked from a chart. `cells[row - 1][cord - 1]` is a colour's letter."""

    id: str
    make: int
    cells: tuple[str, ...]
    first_row_from: Side
    order: Order
    knot: str
    mount: Mount
    cords: Cords
    fringe: Fringe
    working_length_mm: float
    tail_mm: float
    carry: CarryLimit
    gauge: Gauge
    allowance_percent: float
    seconds_per_knot: float | None
    place: Place
    """The chart's first row in its file (a PNG has no lines)."""
    pixel_proportion: float | None = None
    """Width over height of its picture's pixels, as they are meant to be seen; None: no picture."""

    @property
    def rows(self) -> int:
        return len(self.cells)

    @property
    def columns(self) -> int:
        return len(self.cells[0])


Piece = ChartPiece | StepsPiece


@frozen
class OwnKnot:
    """A knot of the writer's own: the text of its file, `knots/NAME.toml` beside the pattern."""

    name: str
    text: str


@frozen
class Pattern:
    """One pattern with the house settings already in it."""

    slug: str
    title: str
    version: str
    subtitle: str
    designer: str
    contact: str
    date: datetime.date | None
    level: str
    about: tuple[str, ...]
    """Paragraphs."""
    terms: str
    currency: str | None
    units: UnitOrder
    colours: tuple[YarnColour, ...]
    """In the file's order."""
    pieces: tuple[Piece, ...]
    path: str
    files: tuple[str, ...]
    """Every file it was read from: itself, house.toml, pictures."""
    assembly: tuple[AssemblyStep, ...] = ()
    own_knots: tuple[OwnKnot, ...] = ()
    """Those that the steps tie, by name."""
    prices_as_of: datetime.date | None = None
    """When the prices that are printed were looked up; None: none are printed."""

    @property
    def charts(self) -> tuple[ChartPiece, ...]:
        """The pieces that are worked from a chart."""
        return tuple(piece for piece in self.pieces if isinstance(piece, ChartPiece))

    @property
    def parts(self) -> tuple[StepsPiece, ...]:
        """The pieces that are worked in steps."""
        return tuple(piece for piece in self.pieces if isinstance(piece, StepsPiece))

    def colour(self, letter: str) -> YarnColour:
        """The colour of a letter; KeyError if there is none."""
        for colour in self.colours:
            if colour.letter == letter:
                return colour
        raise KeyError(letter)
