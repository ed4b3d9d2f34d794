"""Say for each row what happens to the yarns, in the order that a maker meets it."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.model.pattern import Side
from publisher.model.plan import Carry, CellSize, Note, Row, Spot, YarnRoute
from publisher.plan.rows.working_order import WorkingRow


def write_notes(
    rows: Sequence[WorkingRow], yarns: Sequence[YarnRoute], cell: CellSize
) -> tuple[Row, ...]:
    """The rows with their notes: start, pick up, join, leave."""
    starts = [row.start for row in rows]
    contested = _contested(yarns, starts, cell)
    noted: list[list[tuple[int, int, Note]]] = [[] for _ in rows]

    def add(row: int, cord: int, turn: int, note: Note) -> None:
        noted[row - 1].append((_along(cord, starts[row - 1]), turn, note))

    for yarn in yarns:
        first, last = yarn.stretches[0], yarn.stretches[-1]
        cut, *further = yarn.cut_lengths_mm
        start = Note("start", yarn.id, first.first_cord, cut_mm=cut)
        add(first.row, first.first_cord, 0, start)
        for carry in yarn.carries:
            pick_up = _pick_up(yarn.id, carry, starts, carry.target in contested)
            add(carry.target.row, carry.target.cord, 0, pick_up)
        for spot, cut in zip(yarn.joins, further, strict=True):
            add(spot.row, spot.cord, 1, Note("join", yarn.id, spot.cord, cut_mm=cut))
        add(last.row, last.last_cord, 2, Note("leave", yarn.id, last.last_cord))
    return tuple(
        Row(row.row, row.start, row.runs, tuple(n[2] for n in sorted(met, key=lambda n: n[:2])))
        for row, met in zip(rows, noted, strict=True)
    )


def _pick_up(yarn: str, carry: Carry, starts: Sequence[Side], contested: bool) -> Note:
    origin, target = carry.origin, carry.target
    behind = passed_behind(origin.cord, starts[origin.row - 1], target.cord, starts[target.row - 1])
    return Note("pick-up", yarn, target.cord, behind, target.row - origin.row, contested=contested)


def passed_behind(
    origin: int, origin_from: Side, target: int, target_from: Side
) -> tuple[int, int] | None:
    """First and last cord that a carried yarn passes behind, on its way; None if none.

    It leaves the cord it was last knotted on at the far side of that row's working, and comes to
    the new one from the side where that row starts.
    """
    leaves, arrives = _gap_after(origin, origin_from), _gap_before(target, target_from)
    if leaves < arrives:
        return leaves + 1, arrives
    if leaves > arrives:
        return leaves, arrives + 1
    return None


def _gap_after(cord: int, start: Side) -> int:
    """The gap that a yarn rests in after a knot, by the cord to the left of it."""
    return cord if start == "left" else cord - 1


def _gap_before(cord: int, start: Side) -> int:
    """The gap that a yarn comes from to a knot."""
    return cord - 1 if start == "left" else cord


def _along(cord: int, start: Side) -> int:
    """A number that grows with every cord as the row is worked."""
    return cord if start == "left" else -cord


def _contested(
    yarns: Sequence[YarnRoute], starts: Sequence[Side], cell: CellSize
) -> frozenset[Spot]:
    """Return where a yarn is picked up that could be taken for another open one of its colour.

    The other rests in the same gap, or as near or nearer to where this one is wanted. Nearness
    goes along the cords and across, as yarns are carried; across, a cord counts for no more than
    a row, as a yarn right beside looks as near as one right above.
    """
    height_mm, width_mm = cell.height_mm, min(cell.width_mm, cell.height_mm)
    targets = [{carry.target: carry.origin for carry in yarn.carries} for yarn in yarns]
    resting: dict[str, dict[int, tuple[int, int]]] = {yarn.colour: {} for yarn in yarns}
    found = set()
    for row, _, number, at in _in_working_order(yarns, starts):
        yarn = yarns[number]
        stretch, start, others = yarn.stretches[at], starts[row - 1], resting[yarn.colour]
        others.pop(number, None)
        spot = Spot(row, stretch.first_cord)
        origin = targets[number].get(spot)
        if origin and others:
            left = _gap_after(origin.cord, starts[origin.row - 1])
            wanted = _gap_before(spot.cord, start)
            own_mm = abs(left - wanted) * width_mm + (row - origin.row) * height_mm
            if any(
                gap == left
                or abs(gap - wanted) * width_mm + (row - above) * height_mm <= own_mm + 1e-6
                for gap, above in others.values()
            ):
                found.add(spot)
        if at + 1 < len(yarn.stretches):
            others[number] = _gap_after(stretch.last_cord, start), row
    return frozenset(found)


def _in_working_order(
    yarns: Sequence[YarnRoute], starts: Sequence[Side]
) -> list[tuple[int, int, int, int]]:
    """Return all stretches: row, how far along it, and the numbers of the yarn and its stretch from
    0."""
    return sorted(
        (stretch.row, _along(stretch.first_cord, starts[stretch.row - 1]), number, at)
        for number, yarn in enumerate(yarns)
        for at, stretch in enumerate(yarn.stretches)
    )
