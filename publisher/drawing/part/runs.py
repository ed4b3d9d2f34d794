"""Lay out a run of double half hitches: one leg that travels, and those that it meets."""

from __future__ import annotations

import math
from collections.abc import Sequence

from publisher.drawing.part.body import Path, moved, way_round
from publisher.drawing.part.lay import Lay
from publisher.frozen import frozen
from publisher.knots import Knot
from publisher.knots.curve import Point
from publisher.knots.refill import with_fillers
from publisher.model.part_plan import Leg, PartStep

STEP = 3.1
"""From hitch to hitch along the leader."""
GATHERED_STEP = 3.6
SLOPE_DEGREES, STEEPEST_DEGREES = 42.0, 62.0
"""How a run leads down at most where there is room, and where there is little."""
_BESIDE = 0.92
"""From cord to cord in a bundle."""
_CLEAR = 2.4
"""What a run keeps clear of what comes from the other side."""
_APART = 1.3
"""How far a run ends from the middle between it and what hangs beyond."""
_BACK = 0.8
"""How far a leader may go back to where its run begins."""
_HALF = 1.9
"""From the middle of a hitch to where the leader comes into it."""


@frozen
class _Frame:
    """A run's own axes: x along the leader, y to the side that hanging legs go out on."""

    origin: complex
    way: int
    slope: float

    def put(self, point: Point, along: float = 0.0, aside: float = 0.0) -> Point:
        x, y = point.x + along, point.y + aside
        cos, sin = math.cos(self.slope), math.sin(self.slope)
        place = self.origin + complex(self.way * (x * cos - y * sin), x * sin + y * cos)
        heading = point.heading
        if heading is not None:
            turned = heading + math.degrees(self.slope)
            heading = turned if self.way > 0 else (180 - turned) % 360
        return Point(place.real, place.imag, point.z, heading)


def lay_leader_run(lay: Lay, step: PartStep, knot: Knot) -> None:
    """The leader goes straight through; each leg is hitched round it in turn."""
    assert step.travels is not None
    gathers = knot.tying.gathers
    way = 1 if step.way == "right" else -1
    pitch = GATHERED_STEP if gathers else STEP
    slope = math.radians(min(knot.tying.slope_degrees, SLOPE_DEGREES))
    if slope and not gathers:
        slope = max(slope, _steepness(lay, step.travels, step.legs, way, pitch))
    frame = _frame(lay, step.travels, step.legs, way, slope, pitch, gathers)
    last = (len(step.legs) - 1) * pitch
    beside = _Bundle(len(step.legs) + 1 if gathers else 1)
    leader = beside.aside(0)
    ends = ((-_HALF, leader), (last + _HALF, leader))
    lay.lead(step.travels, [frame.put(Point(x, y, 0, 0)) for x, y in ends])
    _hang(lay, step.travels, frame, leader)
    hitch = way_round(knot)
    for index, leg in enumerate(step.legs):
        core = index + 1 if gathers else 1
        middle, radius = beside.core(core)
        through = [_scaled(point, radius) for point in hitch]
        lay.lead(leg, [frame.put(point, index * pitch, middle) for point in through])
        if gathers:
            _join(lay, leg, frame, index * pitch, middle + 1.75 * radius, last, beside, index + 1)
        else:
            out = frame.put(Point(0.2, 2.6, 0), index * pitch, middle)
            lay.drop_to(leg, out.x, lay.at(leg).y + 1.5)
    lay.moving.update((step.travels, *step.legs))


@frozen
class _Bundle:
    """Cords side by side in one bundle: the leader first, on its upper side."""

    cords: int

    def aside(self, index: int) -> float:
        return (index - (self.cords - 1) / 2) * _BESIDE

    def core(self, cords: int) -> tuple[float, float]:
        """The middle of the first so many cords, and the radius of a hitch round them."""
        return (self.aside(0) + self.aside(cords - 1)) / 2, 0.5 + cords * _BESIDE / 2


def _frame(
    lay: Lay, leader: Leg, hung: Sequence[Leg], way: int, slope: float, pitch: float, tip: bool
) -> _Frame:
    """Return where the first hitch is: so low that every leg comes from above. A run that ends in a
    tip ends where its last leg hung; any other one lies below the middle of its legs."""
    last, level = (len(hung) - 1) * pitch, math.cos(slope)
    clear = way * lay.at(leader).x + _HALF * level
    if tip:
        x = way * lay.at(hung[-1]).x - (last + _HALF + _CLEAR) * level
        if lay.entries:
            x = max(x, min(clear + 0.4, _room(lay, hung, way) - (last + _HALF) * level))
    else:
        middle = sum(lay.at(leg).x for leg in hung) / len(hung)
        x = min(way * middle - last * level / 2, _room(lay, hung, way) - (last + _HALF) * level)
        x = max(x, clear - _BACK)
    drop = math.sin(slope)
    y = max(lay.at(leg).y + 2.2 - k * pitch * drop for k, leg in enumerate(hung))
    y = max(y, lay.at(leader).y + 1.9 + _HALF * drop)
    return _Frame(complex(way * x, y), way, slope)


def _steepness(lay: Lay, leader: Leg, hung: Sequence[Leg], way: int, pitch: float) -> float:
    """Return how steep a run has to be to end before it meets what hangs beyond it, in radians."""
    long = (len(hung) - 1) * pitch + 2 * _HALF
    room = _room(lay, hung, way) - way * lay.at(leader).x + _BACK
    return math.acos(min(1.0, max(room / long, math.cos(math.radians(STEEPEST_DEGREES)))))


def _room(lay: Lay, hung: Sequence[Leg], way: int) -> float:
    """Return how far a run can go on, counted its way, before it meets what hangs beyond it."""
    beyond = lay.order.index(hung[-1]) + way
    if not 0 <= beyond < len(lay.order):
        return math.inf
    return way * (lay.at(hung[-1]).x + lay.at(lay.order[beyond]).x) / 2 - _APART


def _scaled(point: Point, radius: float) -> Point:
    """A point of a hitch round one cord, drawn round a thicker core."""
    return point._replace(y=point.y * radius, z=point.z * max(1.0, 0.7 * radius))


def _join(
    lay: Lay,
    leg: Leg,
    frame: _Frame,
    along: float,
    out: float,
    last: float,
    beside: _Bundle,
    index: int,
) -> None:
    """A gathered leg bends round to lie along the bundle, and goes on in it."""
    aside = beside.aside(index)
    points = [Point(along + 1.2, max(out + 0.25, aside), 0)]
    if along + GATHERED_STEP <= last + 1e-6:
        points.append(Point(along + 2.25, aside, 0, 0))
    points.append(Point(last + _HALF + 0.5, aside, 0, 0))
    lay.lead(leg, [frame.put(point) for point in points])
    _hang(lay, leg, frame, aside)


def _hang(lay: Lay, leg: Leg, frame: _Frame, aside: float) -> None:
    """From the end of a run, a leg turns down."""
    at = lay.at(leg)
    reach = (0.9 - 0.5 * aside) if frame.slope else 1.4
    lay.drop_to(leg, at.x + frame.way * max(0.3, reach), at.y + 1.7)


def lay_worker_run(lay: Lay, step: PartStep, knot: Knot) -> None:
    """The worker goes round each leg in turn."""
    assert step.travels is not None
    way = 1 if step.way == "right" else -1
    legs = (step.travels, *step.legs)
    top = lay.lowest(legs) + 0.8
    through = way_round(with_fillers(knot, 1), mirrored=way < 0)
    first = lay.at(step.legs[0]).x
    for index, leg in enumerate(step.legs):
        x = first + way * index * STEP
        lay.drop_to(leg, x, top)
        lay.drop_to(leg, x, top + 5.0)
        lay.lead(step.travels, _shifted(through, x, top + 2.5))
    at = lay.at(step.travels)
    lay.drop_to(step.travels, at.x + way * 1.2, top + 5.0)
    lay.moving.update(legs)


def _shifted(path: Path, x: float, y: float) -> list[Point]:
    return list(moved(path, x, y))
