"""Say for each row what happens to the yarns, in the order that a maker meets it."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.plan.rows import WorkingRow
from publisher.plan.values import Carry, Note, Row, YarnRoute
from publisher.source.pattern import Side


def write_notes(rows: Sequence[WorkingRow], yarns: Sequence[YarnRoute]) -> tuple[Row, ...]:
    """The rows with their notes: start, pick up, join, leave."""
    starts = [row.start for row in rows]
    noted: list[list[tuple[int, int, Note]]] = [[] for _ in rows]

    def add(row: int, cord: int, turn: int, note: Note) -> None:
        along = cord if starts[row - 1] == "left" else -cord
        noted[row - 1].append((along, turn, note))

    for yarn in yarns:
        first, last = yarn.stretches[0], yarn.stretches[-1]
        cut, *further = yarn.cut_lengths_mm
        start = Note("start", yarn.id, first.first_cord, cut_mm=cut)
        add(first.row, first.first_cord, 0, start)
        for carry in yarn.carries:
            add(carry.target.row, carry.target.cord, 0, _pick_up(yarn.id, carry, starts))
        for spot, cut in zip(yarn.joins, further, strict=True):
            add(spot.row, spot.cord, 1, Note("join", yarn.id, spot.cord, cut_mm=cut))
        add(last.row, last.last_cord, 2, Note("leave", yarn.id, last.last_cord))
    return tuple(
        Row(row.row, row.start, row.runs, tuple(n[2] for n in sorted(met, key=lambda n: n[:2])))
        for row, met in zip(rows, noted, strict=True)
    )


def _pick_up(yarn: str, carry: Carry, starts: Sequence[Side]) -> Note:
    origin, target = carry.origin, carry.target
    behind = passed_behind(origin.cord, starts[origin.row - 1], target.cord, starts[target.row - 1])
    return Note("pick-up", yarn, target.cord, behind, target.row - origin.row)


def passed_behind(
    origin: int, origin_from: Side, target: int, target_from: Side
) -> tuple[int, int] | None:
    """First and last cord that a carried yarn passes behind, on its way; None if none.

    It leaves the cord it was last knotted on at the far side of that row's working, and comes to
    the new one from the side where that row starts.
    """
    leaves = origin + 1 if origin_from == "left" else origin
    arrives = target if target_from == "left" else target + 1
    if leaves < arrives:
        return leaves, arrives - 1
    if leaves > arrives:
        return leaves - 1, arrives
    return None
