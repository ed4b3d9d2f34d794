"""A knot as values: its cords as curves in space, its stages, and its words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import field, replace
from functools import cached_property
from hashlib import blake2b
from typing import Literal, TypeVar

from publisher.frozen import frozen
from publisher.knots.crossings import Crossing, find_crossings
from publisher.knots.curve import Curve, Point, smooth_curve
from publisher.knots.measures import Head, Measures, SideBySide, Taken
from publisher.knots.tying import NOT_TIED, Tying

Kind = Literal["knot", "procedure"]
Role = Literal["working", "second", "filler", "leader", "dowel", "guide"]
End = Literal["start", "end"]
Formula = TypeVar("Formula", bound=Measures)


@frozen(slots=False)
class Strand:
    """One cord from where it enters the knot to where it leaves it.

    Lengths in diameters of the working cord. `label_at` is where its label stands, if it has one.
    """

    name: str
    role: Role
    points: tuple[Point, ...]
    diameter: float = 1.0
    label: str = ""
    label_at: complex | None = None

    @cached_property
    def curve(self) -> Curve:
        return smooth_curve(self.points)


@frozen
class ViewBox:
    """A part of the plane, in cord diameters."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.bottom - self.top

    @property
    def centre(self) -> complex:
        return complex((self.left + self.right) / 2, (self.top + self.bottom) / 2)

    def mirrored(self) -> ViewBox:
        return ViewBox(-self.right, self.top, -self.left, self.bottom)


@frozen(slots=False)
class KnotForm:
    """The cords in one state: loose for the stages, tight for the finished view."""

    strands: Mapping[str, Strand]
    view: ViewBox

    @cached_property
    def curves(self) -> Mapping[str, Curve]:
        return {name: strand.curve for name, strand in self.strands.items()}

    @cached_property
    def crossings(self) -> tuple[Crossing, ...]:
        return find_crossings(self.curves)


@frozen
class VisibleStretch:
    """The stretch of a strand that a stage shows, in its curve's parameter.

    `lead` and `tail` are the way it takes before and after that in this stage only: a waiting
    end, or the run-out under an arrow. What lies inside `earlier` was there a stage before and is
    drawn quietly; with `moving` false all of it is. `arrows` are the ends with an arrow head.
    """

    start: float
    end: float
    lead: tuple[Point, ...] = ()
    tail: tuple[Point, ...] = ()
    earlier: tuple[float, float] | None = None
    moving: bool = True
    arrows: tuple[End, ...] = ()


@frozen(slots=False)
class Stage:
    """One movement. `words` carry *strong* marks. `shown` None: the finished, tight view.

    `labels` moves a strand's label in this stage, or (None) takes it away. `view` is what the
    picture takes in, where that is not the whole form's.
    """

    words: str
    shown: Mapping[str, VisibleStretch] | None
    labels: Mapping[str, complex | None] = field(default_factory=dict)
    view: ViewBox | None = None

    @property
    def finished(self) -> bool:
        return self.shown is None

    @property
    def alt(self) -> str:
        """The words without their marks."""
        return self.words.replace("*", "")


@frozen(slots=False)
class Knot:
    """One knot or procedure. Its words may carry *strong* marks.

    `with_article` is how a step calls it, where that is not "a" and its title; `way` says what this
    hand of it is called ("worked to the right"), `check` answers "Is it right?", `uses` names what
    it is tied with. With `fillers_vary` it can be drawn round more or fewer fillers. `sides` are
    the words that change places in a mirror, `faces` those that do when the work is turned over.
    `cords_in` and `cords_out`: the strands from the left, as they come in at the top and go out at
    the bottom, where the file says so. `tying`: how the steps of a part tie it, if they can;
    `measures`: what it takes and how large it is, if that is known.
    """

    name: str
    kind: Kind
    titles: tuple[str, ...]
    loose: KnotForm
    tight: KnotForm | None
    stages: tuple[Stage, ...]
    fillers_vary: bool
    sides: tuple[str, ...]
    faces: tuple[tuple[str, str], ...]
    with_article: str = ""
    abbreviation: str = ""
    way: str = ""
    intro: str = ""
    check: str = ""
    uses: tuple[str, ...] = ()
    cords_in: tuple[str, ...] = ()
    cords_out: tuple[str, ...] = ()
    tying: Tying = NOT_TIED
    measures: Measures | None = None

    @property
    def title(self) -> str:
        return self.titles[0]

    def formula(self, kind: type[Formula]) -> Formula:
        """Return what it is measured by, which is of this kind."""
        if not isinstance(self.measures, kind):
            raise TypeError(f"{self.name} is not measured as a {kind.__name__}")
        return self.measures

    def taken(self, diameters: Sequence[float], facing: str = "left") -> Taken:
        """Return what it takes of cords side by side, from the left; facing right, mirrored."""
        if not isinstance(self.measures, SideBySide):
            raise TypeError(f"{self.name} is not tied on cords side by side")
        if facing == "left":
            return self.measures.taken(diameters)
        found = self.measures.taken(diameters[::-1])
        return replace(found, cords_mm=found.cords_mm[::-1])

    @property
    def mounts(self) -> bool:
        """Can a folded cord be mounted with it?"""
        return isinstance(self.measures, Head)

    @property
    def fills_cells(self) -> bool:
        """Can it be the knot of a chart, whose yarn goes on from cord to cord?"""
        return self.tying.travels == "worker"

    @cached_property
    def digest(self) -> str:
        """The same for knots that are the same, in every process."""
        return blake2b(repr(self).encode(), digest_size=16).hexdigest()
