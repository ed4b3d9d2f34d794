"""Put a part's cords on the bench: mounted, their legs in order, nothing tied yet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from publisher.frozen import frozen
from publisher.knots import KnotLibrary, lengths
from publisher.knots.measures import Head
from publisher.knots.tying import Tying
from publisher.model.part_plan import Leg, PartStep, RepeatPlan
from publisher.model.parts import Bar, Lay, PartCord

PITCH = 1.1
"""From one hanging cord to the next, in diameters."""


@frozen
class KnotExtent:
    """The room that a knot takes up: from the top down, its legs, its width and depth, and how many
    legs hang there in all."""

    top_mm: float
    bottom_mm: float
    legs: frozenset[Leg]
    width_mm: float
    depth_mm: float
    hanging: int


@dataclass(slots=True)
class NewCord:
    """A cord as it is worked. `fixed_mm`: what it takes apart from its legs' own ways."""

    colour: str
    lay: Lay
    on: int | None
    knot: str
    step: int
    wraps: bool = False
    fixed_mm: float = 0.0


@dataclass(slots=True)
class PartInWork:
    """A part in work. `diameters` by colour letter."""

    diameters: Mapping[str, float]
    tail_mm: float
    library: KnotLibrary
    cords: list[NewCord] = field(default_factory=list)
    order: list[Leg] = field(default_factory=list)
    used: dict[Leg, float] = field(default_factory=dict)
    low: dict[Leg, float] = field(default_factory=dict)
    """How far below the bar each leg's last knot ends."""
    tails: dict[Leg, float] = field(default_factory=dict)
    """What trimmed legs keep below it."""
    steps: list[PartStep] = field(default_factory=list)
    repeats: list[RepeatPlan] = field(default_factory=list)
    spans: list[KnotExtent] = field(default_factory=list)
    knots: Counter[str] = field(default_factory=Counter)
    mounted_mm: float = 0.0
    """The width of what is mounted."""
    top_mm: float = 0.0
    """What stands above the bar's middle."""

    def tying(self, knot: str) -> Tying:
        """The rule of a knot that a step ties."""
        return self.library[knot].tying

    def thick(self, leg: Leg) -> float:
        return self.diameters[self.cords[leg.cord - 1].colour]

    def at(self, positions: Iterable[int]) -> tuple[Leg, ...]:
        """The legs that lie at some positions now."""
        return tuple(self.order[position - 1] for position in positions)

    def note_span(
        self, top_mm: float, bottom_mm: float, legs: Iterable[Leg], width_mm: float, depth_mm: float
    ) -> None:
        """Remember the room that a knot takes up."""
        hanging = len(self.order)
        span = KnotExtent(top_mm, bottom_mm, frozenset(legs), width_mm, depth_mm, hanging)
        self.spans.append(span)

    @property
    def uncut(self) -> tuple[Leg, ...]:
        """The legs that hang and were not trimmed."""
        return tuple(leg for leg in self.order if leg not in self.tails)

    def bring_down(self, leg: Leg, top_mm: float) -> None:
        """Lead a leg straight down to where it is wanted."""
        self.used[leg] += max(0.0, top_mm - self.low[leg])
        self.low[leg] = max(top_mm, self.low[leg])


def mount(work: PartInWork, cords: Sequence[PartCord], bar: Bar | None) -> None:
    """Mount the cords from the left, each one laid across with those that hang on it."""
    for cord in cords:
        work.cords.append(NewCord(cord.colour, cord.lay, cord.on, cord.knot, 0))
    for number, cord in enumerate(cords, 1):
        if cord.on is None:
            work.order += _block(work, number, cords, bar)
    for leg in work.order:
        work.used.setdefault(leg, 0.0)
        work.low.setdefault(leg, 0.0)


def _block(work: PartInWork, number: int, cords: Sequence[PartCord], bar: Bar | None) -> list[Leg]:
    """A cord with all that is mounted on it, from the left."""
    cord, thick = cords[number - 1], work.diameters[cords[number - 1].colour]
    if cord.lay == "single":
        work.cords[number - 1].fixed_mm = work.tail_mm
        work.mounted_mm += thick
        return [Leg(number, "only")]
    if cord.lay == "folded":
        return _head(work, number, bar.diameter_mm if bar else thick)
    on_it = [index for index, other in enumerate(cords, 1) if other.on == number]
    inner = [leg for index in on_it for leg in _head(work, index, thick)]
    heads = sum(_head_width(work, work.cords[index - 1]) for index in on_it)
    left, right = Leg(number, "left"), Leg(number, "right")
    for leg in (left, right):
        work.used[leg], work.low[leg] = lengths.straight(heads / 2), 0.0
    work.mounted_mm += 2 * thick
    return [left, *inner, right]


def _head_width(work: PartInWork, cord: NewCord) -> float:
    return work.library[cord.knot].formula(Head).width * work.diameters[cord.colour]


def _head(work: PartInWork, number: int, bar_mm: float) -> list[Leg]:
    """A folded cord's two legs, mounted on a bar."""
    cord = work.cords[number - 1]
    thick = work.diameters[cord.colour]
    mounting = work.library[cord.knot].formula(Head).mounting(bar_mm, thick)
    legs = [Leg(number, "left"), Leg(number, "right")]
    for leg in legs:
        work.low[leg] = bar_mm / 2 + 2 * thick
        work.used[leg] = mounting / 2 + work.low[leg]
    work.mounted_mm += _head_width(work, cord)
    work.top_mm = max(work.top_mm, bar_mm / 2 + thick)
    work.knots[cord.knot] += 1
    return legs
