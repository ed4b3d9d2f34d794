"""Turn the steps of putting pieces together into placements, numbered for chart and cover."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from publisher.model.part_plan import AssemblyPlan, Placement
from publisher.model.parts import AssemblyStep, PartPlace
from publisher.model.pattern import ChartPiece, Pattern


def plan_assembly(pattern: Pattern) -> tuple[AssemblyPlan, ...]:
    """The steps in order; those at a chart's cell are numbered from 1 in the same order."""
    charts = {piece.id: piece for piece in pattern.charts}
    return tuple(_numbered(pattern.assembly, charts))


def _numbered(
    steps: Sequence[AssemblyStep], charts: Mapping[str, ChartPiece]
) -> Iterator[AssemblyPlan]:
    mark = 0
    for number, step in enumerate(steps, 1):
        placement = None
        if step.at is not None:
            mark += step.at.cord is not None
            placement = _placement(step, step.at, mark, charts.get(step.at.piece))
        yield AssemblyPlan(number, step.deed, step.piece, step.count, placement, step.note)


def _placement(step: AssemblyStep, at: PartPlace, mark: int, chart: ChartPiece | None) -> Placement:
    """The tails of what is sewn on go to the back on both sides of the cord, opposite each
    other."""
    sewn = step.deed == "sew" and chart is not None
    return Placement(
        mark=mark if at.cord is not None else None,
        piece=at.piece,
        row=at.row,
        cord=at.cord,
        turn_degrees=step.turn_degrees,
        hold=step.hold,
        between=((at.cord - 1, at.cord), (at.cord, at.cord + 1)) if sewn and at.cord else None,
    )
