"""Find room for small labels beside what they name, clear of lines, dots and each other."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache

from publisher.frozen import frozen

Box = tuple[float, float, float, float]
"""Left, top, right, bottom."""

_BUCKET_MM = 5.0
_CLEAR_MM = 0.9
_SEEN = _CLEAR_MM + 1e-6  # what is farther off matters to nobody
_REACHES_MM = (0.95, 1.5, 2.2, 3.2, 4.5, 6.0)
_ANGLES = (0, 180, 90, 270, 45, 135, 315, 225, 20, 160, 340)
_WAYS = tuple(
    (
        reach,
        math.cos(math.radians(angle)),
        math.sin(math.radians(angle)),
        0.12 * (reach - _REACHES_MM[0]) + 0.004 * index,
    )
    for reach in _REACHES_MM
    for index, angle in enumerate(_ANGLES)
)
"""How far off, which way, and what that costs; the nearest first."""
_LONG_MM = 6.0
_GOOD, _BAD = 0.06, 0.25
_ROUNDS = 2


@frozen
class Wanted:
    """A label of a size that wants to stand near a line (or a point, its ends the same)."""

    start: tuple[float, float]
    end: tuple[float, float]
    width: float
    height: float


_Item = tuple[float, float, float, float, int]
"""A box and its owner."""


class _Field:
    """The things in the way of labels, by owner, found quickly by place."""

    def __init__(self) -> None:
        self._buckets: dict[tuple[float, float], list[_Item]] = {}

    def add(self, box: Box, owner: int) -> None:
        for key in _keys(box):
            self._buckets.setdefault(key, []).append((*box, owner))

    def remove(self, box: Box, owner: int) -> None:
        for key in _keys(box):
            self._buckets[key].remove((*box, owner))

    def cost(self, box: Box, owner: int, limit: float) -> float:
        """Return how much it covers, and how near it is to what belongs to others; no matter how
        far over the limit."""
        left, top, right, bottom = box
        least_x, least_y, most_x, most_y = left - _SEEN, top - _SEEN, right + _SEEN, bottom + _SEEN
        around = (left - _CLEAR_MM, top - _CLEAR_MM, right + _CLEAR_MM, bottom + _CLEAR_MM)
        cost, buckets = 0.0, self._buckets
        for key in _keys(around):
            for x0, y0, x1, y1, other in buckets.get(key, ()):
                if x0 > most_x or x1 < least_x or y0 > most_y or y1 < least_y:
                    continue
                across = (right if right < x1 else x1) - (left if left > x0 else x0)
                down = (bottom if bottom < y1 else y1) - (top if top > y0 else y0)
                if across > 0 and down > 0:
                    cost += 2.0 + 4.0 * across * down
                elif other != owner and across > -_CLEAR_MM and down > -_CLEAR_MM:
                    gap = _gap(across, down)
                    if gap >= _CLEAR_MM:
                        continue
                    cost += 0.25 * (_CLEAR_MM - gap)
                else:
                    continue
                if cost >= limit:
                    return cost
        return cost


def _gap(across: float, down: float) -> float:
    """Return how far apart two boxes are that overlap so much, which is less than nothing, or so
    little, along each axis."""
    if across > 0:
        return -down
    return -across if down > 0 else math.hypot(across, down)


def place_labels(
    wanted: Sequence[Wanted], obstacles: Sequence[tuple[Box, int]], room: Box
) -> list[Box]:
    """A box for every label, inside the room. `obstacles` name the label that they belong to."""
    around = _Field()
    for box, owner in obstacles:
        around.add(box, owner)
    placed: list[Box] = []
    costs: list[float] = []
    for owner, label in enumerate(wanted):
        box, cost = _best(label, owner, around, room)
        around.add(box, owner)
        placed.append(box)
        costs.append(cost)
    for _ in range(_ROUNDS):
        for owner, label in enumerate(wanted):
            if costs[owner] > _BAD:
                around.remove(placed[owner], owner)
                placed[owner], costs[owner] = _best(label, owner, around, room)
                around.add(placed[owner], owner)
    return placed


def _best(label: Wanted, owner: int, around: _Field, room: Box) -> tuple[Box, float]:
    best, least = (0.0, 0.0, label.width, label.height), math.inf
    for box, far in _places(label):
        if far >= least:
            continue
        inside, cost = box, far
        if box[0] < room[0] or box[1] < room[1] or box[2] > room[2] or box[3] > room[3]:
            inside = _inside(box, room)
            cost += 3.0 * _shift(box, inside)
        if cost < least:
            cost += around.cost(inside, owner, least - cost)
            if cost < least:
                best, least = inside, cost
        if least <= far + _GOOD:
            break
    return best, least


def _places(label: Wanted) -> Iterator[tuple[Box, float]]:
    """Boxes about the label's line, the nearest first, and what their distance costs."""
    (x0, y0), (x1, y1) = label.start, label.end
    half_width, half_height = label.width / 2, label.height / 2
    shares = (0.5, 0.3, 0.7) if math.hypot(x1 - x0, y1 - y0) > _LONG_MM else (0.5,)
    points = [(x0 + (x1 - x0) * share, y0 + (y1 - y0) * share) for share in shares]
    for reach, cos, sin, far in _WAYS:
        dx, dy = cos * (reach + half_width), sin * (reach + half_height)
        for px, py in points:
            x, y = px + dx, py + dy
            yield (x - half_width, y - half_height, x + half_width, y + half_height), far


def _inside(box: Box, room: Box) -> Box:
    """The box moved into the room."""
    dx = max(room[0] - box[0], 0.0) + min(room[2] - box[2], 0.0)
    dy = max(room[1] - box[1], 0.0) + min(room[3] - box[3], 0.0)
    return box[0] + dx, box[1] + dy, box[2] + dx, box[3] + dy


def _shift(one: Box, other: Box) -> float:
    return abs(one[0] - other[0]) + abs(one[1] - other[1])


def _keys(box: Box) -> tuple[tuple[float, float], ...]:
    """The buckets that a box lies in."""
    left, top, right, bottom = box
    return _between(
        left // _BUCKET_MM, top // _BUCKET_MM, right // _BUCKET_MM, bottom // _BUCKET_MM
    )


@lru_cache(maxsize=2048)
def _between(
    left: float, top: float, right: float, bottom: float
) -> tuple[tuple[float, float], ...]:
    columns, rows = range(int(left), int(right) + 1), range(int(top), int(bottom) + 1)
    return tuple((x, y) for x in columns for y in rows)
