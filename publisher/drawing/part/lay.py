"""Lay a part's legs out on paper: each as a way from its beginning to where it hangs now.

Lengths in diameters of the thickest cord; y runs down. Ways are kept as control points, so that a
whole leg is one smooth curve through all the knots that it is in.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from publisher.drawing.part.body import Body, moved
from publisher.frozen import frozen
from publisher.knots.curve import Point
from publisher.model.part_plan import Leg

LEAD = 0.8
"""How far a knot stands below the lowest cord in it, by how far its cords come from the side."""
LEAST_LEAD = 0.5
SLOT = 2.7
"""From cord to cord where they are spread to show their numbers."""
TAIL = 3.0
SNUG = 1.05
"""From cord to cord where they lie together."""
THINNEST = 0.15
"""What a cord, or a bar, is drawn as at least."""
BREAK = 1.5
"""What is left open where knots are left out."""


@frozen
class NumberedSpot:
    """A place with a number: of the cord that passes, or below its end."""

    x: float
    y: float
    number: int


@frozen
class Cut:
    """A line across, from x to x, where ends are cut or knots are left out."""

    left: float
    right: float
    y: float


@frozen
class LegPositions:
    """The legs at some moment: where their ways ended, how many wraps there were, and how high up
    the highest leg that hung then ended."""

    order: tuple[Leg, ...]
    ends: Mapping[Leg, tuple[int, int]]
    wraps: int
    top: float


@dataclass(slots=True)
class Lay:
    """Legs being laid out. `ways` by leg: stretches of points, parted where something is left
    out; `fresh` is where what moves now begins: the stretch, and the point in it."""

    thick: Mapping[Leg, float]
    """By leg: its diameter in the unit."""
    unit_mm: float
    order: list[Leg] = field(default_factory=list)
    ways: dict[Leg, list[list[Point]]] = field(default_factory=dict)
    fresh: dict[Leg, tuple[int, int]] = field(default_factory=dict)
    moving: set[Leg] = field(default_factory=set)
    extra: list[tuple[Leg, list[Point]]] = field(default_factory=list)
    """Wrapping cords, which are used up where they are."""
    bar: tuple[Point, ...] = ()
    bar_thick: float = 1.0
    entries: list[NumberedSpot] = field(default_factory=list)
    exits: list[NumberedSpot] = field(default_factory=list)
    cuts: list[Cut] = field(default_factory=list)
    breaks: list[Cut] = field(default_factory=list)
    above: Cut | None = None
    """Where legs come in from what is above the picture."""
    ended: set[Leg] = field(default_factory=set)
    """Legs that are cut or dropped: they go no further."""

    seals: list[int] = field(default_factory=list)
    """How many wraps there were when stretches were sealed off."""
    top: float = math.inf
    """Where the highest leg begins."""

    def state(self) -> LegPositions:
        """Return where every leg is now."""
        ends = {leg: (len(ways) - 1, len(ways[-1]) - 1) for leg, ways in self.ways.items()}
        return LegPositions(tuple(self.order), ends, len(self.extra), self._highest(ends))

    def last_break(self) -> LegPositions:
        """Return where every leg went on when something was left out last."""
        ends = {leg: (len(ways) - 1, 0) for leg, ways in self.ways.items()}
        return LegPositions(tuple(self.order), ends, len(self.extra), self._highest(ends))

    def _highest(self, ends: Mapping[Leg, tuple[int, int]]) -> float:
        places = (self.ways[leg][ends[leg][0]][ends[leg][1]] for leg in self.order)
        return min((point.y for point in places), default=math.inf)

    def copied(self, state: LegPositions | None = None) -> Lay:
        """A layout to go on with apart from this one. With a state, what was before that is left
        out: the legs come in from above, all at one height."""
        copy = Lay(
            self.thick,
            self.unit_mm,
            list(self.order),
            bar=self.bar,
            bar_thick=self.bar_thick,
            breaks=list(self.breaks),
            ended=set(self.ended),
            above=self.above,
            top=self.top,
        )
        if state is None:
            copy.ways = {leg: [list(way) for way in ways] for leg, ways in self.ways.items()}
            copy.extra = list(self.extra)
            return copy
        starts = {leg: self.ways[leg][at][point] for leg, (at, point) in state.ends.items()}
        copy.top = state.top - 1.5
        for leg, ways in self.ways.items():
            if leg not in state.ends:  # it was added since
                copy.ways[leg] = [list(way) for way in ways]
            elif leg in state.order:
                at, point = state.ends[leg]
                first = [Point(starts[leg].x, copy.top, 0, 90), starts[leg]._replace(heading=90)]
                later = [list(way) for way in ways[at + 1 :]]
                copy.ways[leg] = [first + ways[at][point + 1 :], *later]
        copy.extra, copy.bar = self.extra[state.wraps :], ()
        copy.breaks = [one for one in self.breaks if one.y > copy.top + 2]
        xs = [starts[leg].x for leg in state.order]
        copy.above = Cut(min(xs) - 1.2, max(xs) + 1.2, copy.top)
        return copy

    def begin(self, leg: Leg, points: Iterable[Point]) -> None:
        way = list(points)
        self.ways[leg] = [*([] for _ in self.seals), way]
        self.top = min(self.top, *(point.y for point in way))

    def at(self, leg: Leg) -> Point:
        """Return where a leg's way ends now."""
        ways = self.ways[leg]
        return ways[-1][-1] if ways[-1] else next(way[-1] for way in reversed(ways) if way)

    def lead(self, leg: Leg, points: Iterable[Point]) -> None:
        """Lead a leg on; a point where it is already adds nothing."""
        way = self.ways[leg][-1]
        if not way:
            way.append(self.at(leg))
        last = way[-1]
        for point in points:
            if math.hypot(point.x - last.x, point.y - last.y) > 0.05:
                way.append(point)
                last = point

    def drop_to(self, leg: Leg, x: float, y: float, z: float = 0.0) -> None:
        """Lead a leg down to a place, so that it hangs there."""
        self.lead(leg, [Point(x, y, z, 90)])

    def lowest(self, legs: Sequence[Leg]) -> float:
        return max(self.at(leg).y for leg in legs)

    def tie(self, legs: Sequence[Leg], body: Body) -> None:
        """Put a knot on legs that hang side by side, in the middle between them."""
        middle = sum(self.at(leg).x - way[0].x for leg, way in zip(legs, body.ways, strict=True))
        middle /= len(legs)
        aside = max(
            abs(self.at(leg).x - way[0].x - middle)
            for leg, way in zip(legs, body.ways, strict=True)
        )
        top = self.lowest(legs) + max(LEAST_LEAD, LEAD * aside)
        for leg, way in zip(legs, body.ways, strict=True):
            self.lead(leg, moved(way, middle, top - body.top))
        self.moving.update(legs)

    def spread(self, slot: float) -> None:
        """Spread the legs evenly, so far from one another, and number them."""
        hanging = [leg for leg in self.order if leg not in self.ended]
        if not hanging:
            return
        middle = sum(self.at(leg).x for leg in hanging) / len(hanging)
        slots = {
            leg: middle + (index - (len(hanging) - 1) / 2) * slot
            for index, leg in enumerate(hanging)
        }
        aside = max(abs(self.at(leg).x - slots[leg]) for leg in hanging)
        y = self.lowest(hanging) + max(1.2, 0.75 * aside)
        for leg in hanging:
            self.drop_to(leg, slots[leg], y)
            self.drop_to(leg, slots[leg], y + 2.2)
            self.entries.append(NumberedSpot(slots[leg], y + 1.1, self.order.index(leg) + 1))

    def refresh(self) -> None:
        """From here on, what is drawn is new."""
        self.fresh = {leg: (len(ways) - 1, len(ways[-1]) - 1) for leg, ways in self.ways.items()}
        self.moving.clear()

    def part(self, legs: Iterable[Leg]) -> None:
        """Leave something out: the legs begin anew a little lower, all at one height."""
        legs = [leg for leg in legs if leg not in self.ended]
        top = self.lowest(legs) + 0.4
        for leg in legs:
            self.drop_to(leg, self.at(leg).x, top)
            self.ways[leg].append([Point(self.at(leg).x, top + BREAK, 0, 90)])
        xs = [self.at(leg).x for leg in legs]
        self.breaks.append(Cut(min(xs) - 1.2, max(xs) + 1.2, top + BREAK / 2))

    def seal(self) -> None:
        """End every stretch at one height, and begin the next there: each can be painted alone,
        as nothing of one crosses anything of another."""
        legs = [leg for leg in self.order if leg not in self.ended]
        y = self.lowest(legs) + 0.25
        for leg in legs:
            self.drop_to(leg, self.at(leg).x, y)
        for leg, ways in self.ways.items():
            ways.append([self.at(leg)] if leg in legs else [])
        self.seals.append(len(self.extra))

    def snug(self, legs: Sequence[Leg], pitch: float = SNUG) -> None:
        """Draw legs together, side by side."""
        middle = sum(self.at(leg).x for leg in legs) / len(legs)
        slots = [middle + (k - (len(legs) - 1) / 2) * pitch for k in range(len(legs))]
        aside = max(abs(self.at(leg).x - slot) for leg, slot in zip(legs, slots, strict=True))
        y = self.lowest(legs) + max(0.6, LEAD * aside)
        for leg, slot in zip(legs, slots, strict=True):
            self.drop_to(leg, slot, y)
        self.moving.update(legs)
