"""A small knotted part as it was written: its cords, and the steps that are worked on them.

Cords are numbered by position, from 1 at the left, as they lie when a step begins. Lengths in mm.
"""

from __future__ import annotations

from typing import Literal

from publisher.errors import Place
from publisher.frozen import frozen

Lay = Literal["across", "folded", "single"]
"""How a cord begins: laid across, both halves worked; folded in half; or hanging by one end."""
Facing = Literal["left", "right"]
Deed = Literal["sew", "glue", "hang"]
Hold = Literal["tails", "top"]


@frozen
class PartCord:
    """One cord. `on`: the number of the cord laid across that it is mounted on; None: the piece's
    own bar, or nothing (laid across, single)."""

    colour: str
    lay: Lay
    on: int | None = None
    knot: str = ""


@frozen
class Bar:
    """The bar that a part is begun on: a ring, a hook, a dowel; how thick it is."""

    name: str
    diameter_mm: float


@frozen(kw_only=True)
class _Step:
    """`note`: the writer's own words, printed after the step's."""

    note: str = ""


@frozen(kw_only=True)
class Tie(_Step):
    """Tie a knot, `times` times one below the other.

    `on`: positions side by side. For hitches, `leader` is the position that is held taut while
    those of `on` are hitched round it in this order, or `worker` the one that hitches round
    each of them.
    """

    knot: str
    on: tuple[int, ...]
    leader: int | None = None
    worker: int | None = None
    facing: Facing = "left"
    times: int = 1


@frozen(kw_only=True)
class Gap(_Step):
    """Leave so much below the lowest knot of the positions (none named: all) before going on."""

    gap_mm: float
    on: tuple[int, ...] = ()


@frozen(kw_only=True)
class Cross(_Step):
    """Two neighbours change places; the first one passes in front."""

    front: int
    back: int


@frozen(kw_only=True)
class Gather(_Step):
    """Draw cords together, side by side."""

    on: tuple[int, ...]


@frozen(kw_only=True)
class Drop(_Step):
    """Lay cords aside: they hang at the back and are not counted any more."""

    on: tuple[int, ...]


@frozen(kw_only=True)
class Add(_Step):
    """Lay in a new cord: its end, or its two ends if folded, hang from position `at` on; laid
    across, its ends become the first and the last cord."""

    colour: str
    lay: Lay
    at: int


@frozen(kw_only=True)
class Wrap(_Step):
    """Wrap cords with a cord of its own, so many turns."""

    on: tuple[int, ...]
    turns: int
    colour: str


@frozen(kw_only=True)
class Trim(_Step):
    """Cut ends so far below the last knot (none named: all)."""

    trim_mm: float
    on: tuple[int, ...] = ()


@frozen(kw_only=True)
class Glue(_Step):
    """Glue what the words say."""

    what: str


@frozen(kw_only=True)
class Sew(_Step):
    """Sew what the words say."""

    what: str


@frozen(kw_only=True)
class Repeat(_Step):
    """Work the steps so many times in all."""

    times: int
    steps: tuple[Step, ...]


Step = Tie | Gap | Cross | Gather | Drop | Add | Wrap | Trim | Glue | Sew | Repeat


@frozen
class StepsPiece:
    """A piece worked in steps on numbered cords."""

    id: str
    make: int
    bar: Bar | None
    cords: tuple[PartCord, ...]
    steps: tuple[Step, ...]
    tail_mm: float
    allowance_percent: float
    seconds_per_knot: float | None
    place: Place
    """The piece's first line in its file."""


@frozen
class PartPlace:
    """A place for a part: a piece, and in a chart its row and cord."""

    piece: str
    row: int | None = None
    cord: int | None = None


@frozen
class AssemblyStep:
    """A step with finished pieces, in order.

    `count`: how many of the piece. `turn_degrees`: how far the part leans, clockwise, from
    standing upright above its place; `hold`: which of its ends is fastened.
    """

    deed: Deed
    piece: str
    count: int
    at: PartPlace | None
    turn_degrees: float
    hold: Hold
    note: str
