"""What changed between two releases, as values. Rows and cords from 1; lengths in mm."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from publisher.errata.compare.content import BuyTold, ColourTold, StepTold, YarnTold
from publisher.frozen import frozen
from publisher.model.part_plan import AssemblyPlan
from publisher.model.plan import Purpose


@frozen
class PieceName:
    """A piece by its kind and id."""

    kind: Literal["chart", "steps"]
    id: str


@frozen
class FactChange:
    """One thing that a piece says of itself, by its name: before and after."""

    name: str
    before: object
    after: object


@frozen
class ColourChange:
    """A colour as it was and as it is; None where it is new, or gone."""

    before: ColourTold | None
    after: ColourTold | None

    @property
    def changed(self) -> tuple[Literal["letter", "name", "srgb", "yarn"], ...]:
        """The values of a colour that was there before which changed."""
        if self.before is None or self.after is None:
            return ()
        names: tuple[Literal["letter", "name", "srgb", "yarn"], ...]
        names = ("letter", "name", "srgb", "yarn")
        return tuple(n for n in names if getattr(self.before, n) != getattr(self.after, n))


@frozen
class YarnChange:
    """A yarn that colours are spun in: what it is, or how it is sold."""

    before: YarnTold | None
    after: YarnTold | None

    @property
    def changed(self) -> tuple[Literal["name", "size", "balls"], ...]:
        """The values that changed of a yarn that was there before: its name, its thickness, weight
        or fibre, its balls."""
        if self.before is None or self.after is None:
            return ()
        was, now = self.before, self.after
        parts: dict[Literal["name", "size", "balls"], bool] = {
            "name": was.name != now.name,
            "size": (was.diameter_mm, was.grams_per_metre, was.fibre)
            != (now.diameter_mm, now.grams_per_metre, now.fibre),
            "balls": (was.ball_metres, was.ball_grams) != (now.ball_metres, now.ball_grams),
        }
        return tuple(name for name, other in parts.items() if other)

    @property
    def is_another(self) -> bool:
        """Whether it is thicker or thinner, or of another fibre, than it was.

        Another name or weight, or balls of another size, make no row other than it was.
        """
        if self.before is None or self.after is None:
            return False  # told with the colours that are spun in it
        was, now = self.before, self.after
        return (was.diameter_mm, was.fibre) != (now.diameter_mm, now.fibre)

    @property
    def sold_otherwise(self) -> bool:
        """Is it the same yarn, on other balls?"""
        if self.before is None or self.after is None:
            return False
        was, now = (
            replace(yarn, ball_metres=None, ball_grams=None) for yarn in (self.before, self.after)
        )
        return was == now


@frozen
class CellRun:
    """Neighbouring knots of a row that changed from one colour to another.

    `row` is the new number, `row_before` the old one; `before` is the old letter, `after` the new.
    """

    row: int
    row_before: int
    first_cord: int
    last_cord: int
    before: str
    after: str

    @property
    def knots(self) -> int:
        return self.last_cord - self.first_cord + 1


@frozen
class RowMove:
    """Rows that have other numbers now. `turned`: they are worked from the other side, too."""

    first_before: int
    last_before: int
    first: int
    turned: bool

    @property
    def last(self) -> int:
        return self.first + self.last_before - self.first_before


@frozen
class ChartChange:
    """One chart. `redrawn`: more than half of its knots, or how many cords it has: then nothing
    of it is told one by one.

    `added` are new row numbers with their cells; `removed` old row numbers. `notes`: the rows in
    which yarns are started, carried, joined or left otherwise. `renamed`: in other rows some
    yarns have another number, and that is all. `lengths`: rows that are worked as they were, with
    yarns cut to other lengths. `ties`: the ends of the back are paired anew.
    """

    piece: str
    size_before: tuple[int, int]
    """Columns and rows."""
    size: tuple[int, int]
    cells: tuple[str, ...]
    redrawn: bool
    knots_changed: int
    runs: tuple[CellRun, ...]
    added: tuple[tuple[int, str], ...]
    removed: tuple[int, ...]
    moved: tuple[RowMove, ...]
    notes: tuple[int, ...]
    renamed: bool
    ties: bool
    facts: tuple[FactChange, ...]
    lengths: tuple[int, ...] = ()

    @property
    def picture_changed(self) -> bool:
        return bool(self.redrawn or self.runs or self.added or self.removed)

    @property
    def rows_changed(self) -> tuple[int, ...]:
        """New numbers of the rows that have to be worked otherwise."""
        rows = {run.row for run in self.runs} | {row for row, _ in self.added} | set(self.notes)
        return tuple(sorted(rows))


@frozen
class StepChange:
    """A step of a part. None: it is new, or left out."""

    before: StepTold | None
    after: StepTold | None


@frozen
class PartChange:
    """One part. `cords`: what to cut for it, or how to lay it. `repeats`: how often steps are
    worked."""

    piece: str
    facts: tuple[FactChange, ...]
    cords: bool
    steps: tuple[StepChange, ...]
    repeats: bool


@frozen
class PlaceChange:
    """A step of putting together. None: it is new, or left out."""

    before: AssemblyPlan | None
    after: AssemblyPlan | None


@frozen
class CutChange:
    """A change in what to cut of one colour for one use: (how many, how long), the longest first.

    `more`: what must still be cut by who has cut by the old list, and uses what is long enough.
    """

    piece: str
    purpose: Purpose
    colour: str
    before: tuple[tuple[int, float], ...]
    after: tuple[tuple[int, float], ...]
    more: tuple[tuple[int, float], ...]


@frozen
class BuyChange:
    """A change in what to buy of one colour. None: it is new, or not needed any more.

    `short`: who has bought by the old list has too little. `before_imperial`, `after_imperial`:
    yards and ounces.
    """

    colour: str
    before: BuyTold | None
    after: BuyTold | None
    short: bool
    before_imperial: tuple[float, float]
    after_imperial: tuple[float, float]


@frozen
class MoreToBuy:
    """The yarn of a colour that is missing to who bought by the old list, cut all of it by the old
    list, and now has lengths to cut besides."""

    colour: str
    length_m: int
    balls: int | None


@frozen
class KnotChange:
    """A knot of the glossary: new, gone, or (`redrawn`) one of the writer's own drawn anew."""

    name: str
    added: bool = False
    removed: bool = False


@frozen
class WordChange:
    """A text of the writer's, by its name, in paragraphs."""

    name: str
    before: tuple[str, ...]
    after: tuple[str, ...]


@frozen
class Errata:
    """Everything that an earlier buyer may want to know, and nothing else."""

    cautions_added: tuple[str, ...]
    cautions_removed: tuple[str, ...]
    pieces_added: tuple[PieceName, ...]
    pieces_removed: tuple[PieceName, ...]
    colours: tuple[ColourChange, ...]
    yarns: tuple[YarnChange, ...]
    charts: tuple[ChartChange, ...]
    parts: tuple[PartChange, ...]
    assembly: tuple[PlaceChange, ...]
    cutting: tuple[CutChange, ...]
    shopping: tuple[BuyChange, ...]
    after_cutting: tuple[MoreToBuy, ...]
    knots: tuple[KnotChange, ...]
    words: tuple[WordChange, ...]
    order: bool = False
    """Nothing else changed but the order in which some of it is listed."""

    @property
    def is_empty(self) -> bool:
        lists = self.cutting or self.shopping or self.words or self.yarns
        return not (lists or self.order or self._of_the_work)

    @property
    def short(self) -> bool:
        """Whether somebody who bought or cut by the old lists has too little."""
        return any(one.short for one in self.shopping) or any(one.more for one in self.cutting)

    @property
    def touches_finished(self) -> bool:
        """Whether a finished piece may differ from what is told now, or its owner should read
        something: not where only lists and words changed. In doubt, it does."""
        return self._of_the_work or any(change.name == "terms" for change in self.words)

    @property
    def _of_the_work(self) -> bool:
        return bool(
            self.cautions_added
            or self.cautions_removed
            or self.pieces_added
            or self.pieces_removed
            or self.colours
            or not all(change.sold_otherwise for change in self.yarns)
            or self.charts
            or self.parts
            or self.assembly
            or self.knots
        )
