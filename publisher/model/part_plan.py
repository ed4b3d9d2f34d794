"""The plan of a small knotted part, and of putting pieces together, as values.

A cord keeps its number from the first step to the last; its legs are its working ends. Positions
count from 1 at the left, as the legs lie when a step begins. Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import Literal

from publisher.frozen import frozen
from publisher.model.parts import Deed, Facing, Hold, Lay, StepsPiece
from publisher.model.pattern import Piece
from publisher.store import digest_of_values

Leaving = Literal["left", "right", "only"]
StepKind = Literal["tie", "gap", "cross", "gather", "drop", "add", "wrap", "trim", "glue", "sew"]


@frozen
class Leg:
    """A working end of a cord: of one folded or laid across, the left or the right one."""

    cord: int
    side: Leaving


@frozen
class LegPlan:
    """One leg's length. `used_mm` from the fold or the middle to the last knot it is in."""

    leg: Leg
    used_mm: float
    tail_mm: float
    """What hangs below that knot when the part is done."""
    cut_mm: float
    """Its share of the cut length: where to fold the cord."""


@frozen
class PartCordPlan:
    """One cord of a part, `make` not counted in.

    `step`: the number of the step that brings it in, 0 for those there from the start. `wraps`:
    it is used up in a wrapping knot, and has no legs.
    """

    number: int
    colour: str
    diameter_mm: float
    lay: Lay
    on: int | None
    knot: str
    step: int
    wraps: bool
    legs: tuple[LegPlan, ...]
    used_mm: float
    cut_mm: float
    """With allowance, rounded up."""

    @property
    def even(self) -> bool:
        """Whether it is folded, or laid across, in its middle."""
        return len({leg.cut_mm for leg in self.legs}) <= 1


@frozen
class PartStep:
    """One step as it is worked once. What a kind does not need stays at its default.

    `number` is the step's in the instructions: the same in every pass of a repeat, of which
    `first_pass` is told. `legs` are those at the positions `on`, in that order; `travels` is the
    leg of the leader, or of the worker, and `way` where it goes.
    """

    number: int
    kind: StepKind
    before: tuple[Leg, ...]
    after: tuple[Leg, ...]
    first_pass: bool
    on: tuple[int, ...] = ()
    legs: tuple[Leg, ...] = ()
    knot: str = ""
    leader: int | None = None
    worker: int | None = None
    travels: Leg | None = None
    way: Facing = "right"
    facing: Facing = "left"
    times: int = 1
    turns: int = 0
    length_mm: float = 0.0
    """Of a gap, or of what is left by a trim."""
    cord: int | None = None
    """The cord that is added, or that wraps."""
    what: str = ""
    note: str = ""


@frozen
class RepeatPlan:
    """Work the steps from number `first` to number `last` so many times in all."""

    first: int
    last: int
    times: int
    note: str


class PlanOfPiece:
    """A mixin for the plans of all pieces: what they have from the piece, and of their knots."""

    piece: Piece
    knots: Mapping[str, int]

    @property
    def id(self) -> str:
        return self.piece.id

    @property
    def make(self) -> int:
        return self.piece.make

    @property
    def total_knots(self) -> int:
        return sum(self.knots.values())

    @cached_property
    def digest(self) -> str:
        """The same for equal plans, in every process."""
        return digest_of_values(self)


@frozen(slots=False)
class StepsPlan(PlanOfPiece):
    """The plan of one part, made once (times `make` only in the lists)."""

    piece: StepsPiece
    """The piece as it was written, but for its place in a file."""
    cords: tuple[PartCordPlan, ...]
    order: tuple[Leg, ...]
    """The legs from the left when the cords are mounted."""
    steps: tuple[PartStep, ...]
    """As worked: every pass of every repeat."""
    repeats: tuple[RepeatPlan, ...]
    width_mm: float
    height_mm: float
    """Of what is knotted, without the ends that hang below it."""
    depth_mm: float
    knots: Mapping[str, int]
    """Of one part, by name, mounting included."""
    seconds: float | None
    """To make all of them, where the writer has timed a knot."""

    @property
    def kind(self) -> Literal["steps"]:
        return "steps"

    @property
    def told(self) -> tuple[PartStep, ...]:
        """The steps that the instructions tell, each once."""
        return tuple(step for step in self.steps if step.first_pass)

    @property
    def ends_mm(self) -> float:
        """The longest end that hangs below the last knot; 0 if none does."""
        legs = (leg for cord in self.cords for leg in cord.legs)
        return max((leg.tail_mm for leg in legs), default=0.0)

    def cord(self, number: int) -> PartCordPlan:
        return self.cords[number - 1]


@frozen
class Placement:
    """The place where one part is fastened: at a cell of a chart, or on another part (no row and
    cord).

    `mark` is its number on chart, cover and in the words; None where there is no chart.
    """

    mark: int | None
    piece: str
    """What it is fastened to."""
    row: int | None
    cord: int | None
    turn_degrees: float
    hold: Hold
    between: tuple[tuple[int, int], tuple[int, int]] | None
    """The cords that each tail goes to the back between; 0 and one past the last: the edges."""


@frozen
class AssemblyPlan:
    """One step of putting the pieces together."""

    number: int
    deed: Deed
    piece: str
    count: int
    placement: Placement | None
    note: str
