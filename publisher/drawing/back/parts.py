"""Number what is done at the back of a piece, and cut its map into parts that can be read."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from operator import itemgetter

from publisher.frozen import frozen
from publisher.model.plan import ChartPlan, End

_SMALLEST_CELL_MM = 1.2
_LARGEST_CELL_MM = 4.0
_MOST_PARTS = 400
_LONGEST = 3.0
"""How many times as long as wide a part of several may be."""
_WORTH = 1.2
"""How much larger than in one part a map has to be in several."""
_TOLERANCE = 1e-6


@frozen
class BackTask:
    """Two ends to tie, or one to weave in. Numbers run from the top to the bottom.

    `row` and `cord`: the middle between its ends.
    """

    number: int
    ends: tuple[End, ...]
    row: float
    cord: float

    @classmethod
    def of(cls, number: int, ends: tuple[End, ...]) -> BackTask:
        rows, cords = ([getattr(end, name) for end in ends] for name in ("row", "cord"))
        return cls(number, ends, sum(rows) / len(ends), sum(cords) / len(ends))


@frozen
class Part:
    """A part of the back: the cells it shows, counted from 1, both ends in, and its tasks."""

    first_cord: int
    last_cord: int
    first_row: int
    last_row: int
    tasks: tuple[BackTask, ...]

    @property
    def columns(self) -> int:
        return self.last_cord - self.first_cord + 1

    @property
    def rows(self) -> int:
        return self.last_row - self.first_row + 1


def back_tasks(plan: ChartPlan) -> tuple[BackTask, ...]:
    """Every pair to tie and every end to weave in, numbered as the map numbers them."""
    ends = {end.id: end for end in plan.ends}
    groups = [tuple(ends[name] for name in pair) for pair in plan.end_pairs]
    groups += [(ends[name],) for name in plan.single_ends]
    groups.sort(key=_place)
    return tuple(BackTask.of(number, group) for number, group in enumerate(groups, 1))


def _place(group: tuple[End, ...]) -> tuple[int, int, str]:
    """From the top, and from the left as seen from the back."""
    first = min(group, key=lambda end: (end.row, -end.cord))
    return first.row, -first.cord, first.id


def cut_back(
    plan: ChartPlan,
    tasks: Sequence[BackTask],
    box_mm: tuple[float, float],
    room_mm2: float,
    larger: float = 1.0,
) -> tuple[tuple[Part, ...], float]:
    """The fewest parts that leave so much room for every task, and their scale: mm of paper a mm
    of cloth. `box_mm`: the width and height that a part can have. `larger`: how much larger than
    in a booklet cells may be.

    They are read from the left as seen from the back, row by row. A map is only cut where it gets
    larger by it.
    """
    whole = _scale(plan, _parts(plan, tasks, 1, 1), box_mm, larger)
    for grid in _grids(plan):
        if _promising(plan, grid, len(tasks), box_mm, room_mm2, larger):
            parts, scale = _cut(plan, tasks, grid, box_mm, larger)
            worth = grid == (1, 1) or scale >= _WORTH * whole
            if worth and _readable(plan, parts, scale, room_mm2):
                return parts, scale
    return _largest(plan, tasks, box_mm, larger)


def _largest(
    plan: ChartPlan, tasks: Sequence[BackTask], box_mm: tuple[float, float], larger: float
) -> tuple[tuple[Part, ...], float]:
    """The largest map that can be had, in as few parts as it takes.

    Grids are tried from the one that would be largest without tasks: the search ends where the
    next can't be larger than what was found.
    """
    bare = [(grid, _cut(plan, (), grid, box_mm, larger)[1]) for grid in _grids(plan)]
    found: tuple[tuple[Part, ...], float] = ((), 0.0)
    for grid, most in sorted(bare, key=itemgetter(1), reverse=True):
        if found[1] >= most:
            break
        parts, scale = _cut(plan, tasks, grid, box_mm, larger)
        if (scale, -len(parts)) > (found[1], -len(found[0])):
            found = parts, scale
    return found


def uncut_back(
    plan: ChartPlan, tasks: Sequence[BackTask], room_mm2: float, larger: float = 1.0
) -> tuple[Part, float]:
    """The back in one part, as large as its tasks need, and its scale."""
    (part,) = _parts(plan, tasks, 1, 1)
    needed = math.sqrt(room_mm2 * len(tasks) / (plan.width_mm * plan.height_mm))
    return part, max(needed, _scale(plan, (part,), (math.inf, math.inf), larger))


def _cut(
    plan: ChartPlan,
    tasks: Sequence[BackTask],
    grid: tuple[int, int],
    box_mm: tuple[float, float],
    larger: float,
) -> tuple[tuple[Part, ...], float]:
    parts = _parts(plan, tasks, *grid)
    return parts, _scale(plan, parts, box_mm, larger)


def _promising(
    plan: ChartPlan,
    grid: tuple[int, int],
    tasks: int,
    box_mm: tuple[float, float],
    room_mm2: float,
    larger: float,
) -> bool:
    """Return whether a grid can be readable at all: tasks make its parts larger, never smaller."""
    bare = _parts(plan, (), *grid)
    cell = _scale(plan, bare, box_mm, larger) * min(plan.cell.width_mm, plan.cell.height_mm)
    room = len(bare) * box_mm[0] * box_mm[1] * (1 + _TOLERANCE)
    return room >= room_mm2 * tasks and cell >= _SMALLEST_CELL_MM


def _grids(plan: ChartPlan) -> Iterator[tuple[int, int]]:
    """(parts across, parts down), the fewest parts first, then the squarest; none in strips."""

    def stretch(grid: tuple[int, int]) -> float:
        across, down = grid
        return abs(math.log(plan.width_mm / across / (plan.height_mm / down)))

    for count in range(1, _MOST_PARTS + 1):
        grids = [
            (across, count // across)
            for across in range(1, count + 1)
            if count % across == 0 and across <= plan.columns and count // across <= plan.rows
        ]
        yield from (
            grid
            for grid in sorted(grids, key=stretch)
            if count == 1 or stretch(grid) <= math.log(_LONGEST)
        )


def _parts(plan: ChartPlan, tasks: Sequence[BackTask], across: int, down: int) -> tuple[Part, ...]:
    """Cut evenly; every task goes to the part where its middle is, which shows all its ends."""
    columns, rows = _cuts(plan.columns, across), _cuts(plan.rows, down)
    last_cords, last_rows = ([last for _, last in cuts] for cuts in (columns, rows))
    held: dict[tuple[int, int], list[BackTask]] = {}
    for task in tasks:
        place = bisect_left(last_rows, task.row), bisect_left(last_cords, task.cord)
        held.setdefault(place, []).append(task)
    parts = []
    for down_at in range(down):
        for across_at in reversed(range(across)):
            mine = tuple(held.get((down_at, across_at), ()))
            cords = [end.cord for task in mine for end in task.ends]
            lines = [end.row for task in mine for end in task.ends]
            first_cord, last_cord = columns[across_at]
            first_row, last_row = rows[down_at]
            parts.append(
                Part(
                    min([first_cord, *cords]),
                    max([last_cord, *cords]),
                    min([first_row, *lines]),
                    max([last_row, *lines]),
                    mine,
                )
            )
    return tuple(parts)


def _cuts(cells: int, parts: int) -> list[tuple[int, int]]:
    edges = [round(index * cells / parts) for index in range(parts + 1)]
    return [(edges[index] + 1, edges[index + 1]) for index in range(parts)]


def _scale(
    plan: ChartPlan, parts: Sequence[Part], box_mm: tuple[float, float], larger: float
) -> float:
    cell = plan.cell
    wide = max(part.columns for part in parts) * cell.width_mm
    tall = max(part.rows for part in parts) * cell.height_mm
    largest = larger * _LARGEST_CELL_MM / max(cell.width_mm, cell.height_mm)
    return min(box_mm[0] / wide, box_mm[1] / tall, largest)


def _readable(plan: ChartPlan, parts: Sequence[Part], scale: float, room_mm2: float) -> bool:
    wide, tall = plan.cell.width_mm * scale, plan.cell.height_mm * scale
    roomy = all(
        part.columns * wide * part.rows * tall >= room_mm2 * len(part.tasks) for part in parts
    )
    return roomy and min(wide, tall) >= _SMALLEST_CELL_MM
