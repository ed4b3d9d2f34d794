"""Fill columns with boxes: what belongs together stays together, heads come again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import chain, islice, repeat

from publisher.frozen import frozen
from publisher.layout.boxes import Box, Placed

_ROUNDING_MM = 1e-6
_EVEN_MM = 1.0
"""How near to the shortest, columns that are made even come."""


@frozen
class Area:
    """A column: from `top_mm` down to `bottom_mm`."""

    x_mm: float
    top_mm: float
    bottom_mm: float

    @property
    def height_mm(self) -> float:
        return self.bottom_mm - self.top_mm


def fill(boxes: Sequence[Box], areas: Iterable[Area]) -> Iterator[tuple[Placed, ...]]:
    """Yield what stands in each area, in turn, until every box has its place.

    A chunk that no area could hold is parted after all, where the area is full. `areas` must
    not run out before the boxes do.
    """
    waiting = list(_chunks(boxes))[::-1]
    for area in areas:
        placed: list[Placed] = []
        y = area.top_mm
        while waiting:
            chunk = waiting.pop()
            room = area.bottom_mm - y + _ROUNDING_MM
            if _needed(chunk, at_top=not placed) > room:
                if placed:
                    waiting.append(chunk)
                    break
                chunk, rest = _parted(chunk, room)
                if rest:
                    waiting.append(rest)
            y = _place(chunk, area.x_mm, y, placed)
        yield tuple(placed)
        if not waiting:
            return


def even(boxes: Sequence[Box], areas: Sequence[Area]) -> tuple[tuple[Placed, ...], ...]:
    """Return what stands in each of the areas side by side, which hold all boxes: the longest
    column no longer than need be."""

    def within(height_mm: float) -> list[tuple[Placed, ...]]:
        cut = [replace(area, bottom_mm=area.top_mm + height_mm) for area in areas]
        return list(islice(fill(boxes, chain(cut, repeat(cut[-1]))), len(areas) + 1))

    high = areas[0].height_mm
    found = within(high)
    low = max(_needed(chunk, at_top=True) for chunk in _chunks(boxes))
    while high - low > _EVEN_MM:
        middle = (low + high) / 2
        tried = within(middle)
        if len(tried) > len(areas):
            low = middle
        else:
            found, high = tried, middle
    return tuple(found)


def _parted(chunk: tuple[Box, ...], room: float) -> tuple[tuple[Box, ...], tuple[Box, ...]]:
    """Part boxes into as many as there is room for, but at least one, and the others."""
    count = 2 if chunk[0].between else 1
    while count < len(chunk) and _needed(chunk[: count + 1], at_top=True) <= room:
        count += 1
    return chunk[:count], chunk[count:]


def _chunks(boxes: Sequence[Box]) -> Iterator[tuple[Box, ...]]:
    """Boxes that must not be parted, as one chunk each."""
    chunk: list[Box] = []
    for box in boxes:
        chunk.append(box)
        if not box.keep:
            yield tuple(chunk)
            chunk = []
    if chunk:
        yield tuple(chunk)


def _needed(chunk: Sequence[Box], *, at_top: bool) -> float:
    if not at_top:
        return sum(box.before_mm + box.height_mm for box in chunk)
    chunk = _at_top(chunk)
    total = sum(box.before_mm + box.height_mm for box in chunk)
    head = chunk[0].head
    return total - chunk[0].before_mm + (head.height_mm if head else 0.0)


def _at_top(chunk: Sequence[Box]) -> Sequence[Box]:
    """The chunk without what stands only between others."""
    return chunk[1:] if chunk[0].between and len(chunk) > 1 else chunk


def _place(chunk: Sequence[Box], x: float, y: float, placed: list[Placed]) -> float:
    for box in chunk if placed else _at_top(chunk):
        if placed:
            y += box.before_mm
        elif box.head:
            placed.append(Placed(x, y, box.head))
            y += box.head.height_mm
        placed.append(Placed(x, y, box))
        y += box.height_mm
    return y
