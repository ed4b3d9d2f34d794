"""Draw a part's steps for a book, as large and as many in a line as its edition has room for."""

from __future__ import annotations

from publisher.drawing import draw_part_steps
from publisher.manuscript.context import BookContext
from publisher.model.figure import Figure
from publisher.model.part_plan import StepsPlan

_TALLEST_MM = 80.0
_TALLEST_LARGE_MM = 118.0
_LARGE_PT = 14.0


def part_figures(
    context: BookContext, part: StepsPlan, share: float
) -> tuple[tuple[tuple[int, ...], Figure], ...]:
    """Step numbers and figure, in order; `share`: of the height that figures can have."""
    look = context.edition.look
    wide, gap = look.paper.text_width_mm, look.frame.column_gap_mm
    narrowest = context.edition.option("knot_figure_mm")
    most = max(1, int((wide + gap + 0.1) / (narrowest + gap)))
    lines = [(count, (wide + gap) / count - gap) for count in range(most, 0, -1)]
    large = look.type["figure-words"].size_pt > _LARGE_PT
    tallest = _TALLEST_LARGE_MM if large else _TALLEST_MM
    figures = draw_part_steps(
        part,
        context.plan.colours,
        context.knots.__getitem__,
        look,
        lines,
        tallest * share,
        (wide - gap) / 3,
    )
    return tuple((figure.numbers, figure.figure) for figure in figures)
