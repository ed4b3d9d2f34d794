"""Find what handling of yarns and fringe a plan asks for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from publisher.knots.defaults import defaults
from publisher.model.plan import ChartPlan


def needed_procedures(charts: Sequence[ChartPlan]) -> Iterator[str]:
    """Yield how yarns are handled, in the order that a maker comes to it; only what these charts
    ask.

    A new length starts as a yarn does: the two are told one after the other.
    """
    if not charts:
        return
    names = defaults().handling
    yield names["start"]
    if any(yarn.joins for chart in charts for yarn in chart.yarns):
        yield names["join"]
    if any(chart.piece.order == "zigzag" and chart.rows > 1 for chart in charts):
        yield names["turn"]
    notes = [note for chart in charts for row in chart.row_list for note in row.notes]
    carried = [note for note in notes if note.behind is not None]
    if any(not note.rows_down for note in carried):
        yield names["carry_along"]
    if any(note.rows_down for note in carried):
        yield names["carry_down"]
    if any(chart.end_pairs for chart in charts):
        yield names["tie_ends"]
    yield from dict.fromkeys(
        names[f"trim_{chart.piece.fringe.shape}"] for chart in charts if max(chart.fringe_mm) > 0
    )
