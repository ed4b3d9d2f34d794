"""Find what handling of yarns and fringe a plan asks for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from publisher.model.pattern import FringeShape
from publisher.model.plan import ChartPlan

TRIMMING: Mapping[FringeShape, str] = {
    "straight": "trimming-a-straight-fringe",
    "point": "trimming-a-pointed-fringe",
    "arch": "trimming-an-arched-fringe",
}


def needed_procedures(charts: Sequence[ChartPlan]) -> Iterator[str]:
    """Yield how yarns are handled, in the order that a maker comes to it; only what these charts
    ask.

    A new length starts as a yarn does: the two are told one after the other.
    """
    if not charts:
        return
    yield "starting-a-yarn"
    if any(yarn.joins for chart in charts for yarn in chart.yarns):
        yield "joining-a-length"
    if any(chart.order == "zigzag" and chart.rows > 1 for chart in charts):
        yield "turning-at-the-end"
    notes = [note for chart in charts for row in chart.row_list for note in row.notes]
    carried = [note for note in notes if note.behind is not None]
    if any(not note.rows_down for note in carried):
        yield "carrying-behind"
    if any(note.rows_down for note in carried):
        yield "carrying-from-above"
    if any(chart.end_pairs for chart in charts):
        yield "tying-ends-on-the-back"
    yield from dict.fromkeys(
        TRIMMING[chart.fringe_shape] for chart in charts if max(chart.fringe_mm) > 0
    )
