"""Draw the line under a key that says what the marks on a chart mean."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.numbers import number
from publisher.drawing.chart.counts import FRAME_MM, pill
from publisher.drawing.chart.edges import arrow_path, tick_path
from publisher.drawing.chart.part_places import place_size
from publisher.drawing.chart.yarn_marks import MarkLine, draw_marks, mark_size, marked_notes
from publisher.drawing.piece.placed import paint_mark
from publisher.fonts import text_width_mm
from publisher.fonts.shaping import MM_PER_PT
from publisher.model.figure import Figure
from publisher.model.look import Look
from publisher.model.plan import ChartPlan, NoteKind

_BETWEEN_MM = 6.0
_EXAMPLE = "14"
_MARKS: tuple[tuple[NoteKind, str], ...] = (
    ("start", "legend_start"),
    ("join", "legend_join"),
    ("pick-up", "legend_pick_up"),
    ("leave", "legend_leave"),
)

_Paint = Callable[[FigureCanvas, float, float], float]
"""Draw a sign from x on, about a middle height, and say how wide it is."""


def draw_legend(
    plan: ChartPlan,
    look: Look,
    width_mm: float,
    words: Mapping[str, str],
    shared: bool = True,
    places: bool = False,
) -> Figure:
    """Signs and their meanings, in lines. `shared`: does the chart have more than one tile?
    `places`: are parts fastened to it?"""
    style = look.type["legend"]
    canvas, said = FigureCanvas(), []
    x, line = 0.0, 0
    for paint, key in _signs(plan, look, shared, places):
        wide = paint(FigureCanvas(), 0.0, 0.0) + _gap(look)
        full = wide + text_width_mm(words[key], style.face, style.size_pt)
        if x and x + full > width_mm:
            x, line = 0.0, line + 1
        base = (line + 0.8) * style.lead_mm
        paint(canvas, x, base - 0.33 * style.size_pt * MM_PER_PT)
        ink = look.colours[style.colour]
        canvas.text(x + wide, base, words[key], style.face, style.size_pt, ink)
        x += full + _BETWEEN_MM
        said.append(words[key])
    return canvas.figure(width_mm, (line + 1) * style.lead_mm, "; ".join(said))


def _signs(plan: ChartPlan, look: Look, shared: bool, places: bool) -> Iterator[tuple[_Paint, str]]:
    yield _arrow(look), "legend_row_starts"
    yield _tick(look), "legend_row_ends"
    shortest = look.chart.run_length_from
    if shortest and any(run.knots >= shortest for row in plan.row_list for run in row.runs):
        yield _pill(look), "legend_run"
    if shared:
        yield _shared(look), "legend_shared_mono" if look.mono else "legend_shared"
    if look.chart.yarn_marks:
        used = {note.kind for row in plan.row_list for note in marked_notes(row)}
        for kind, key in _MARKS:
            if kind in used:
                yield _mark(kind, look), key
    if places:
        yield _place(look), "legend_place"


def _gap(look: Look) -> float:
    return 0.5 * look.type["legend"].size_pt * MM_PER_PT


def _arrow(look: Look) -> _Paint:
    def paint(canvas: FigureCanvas, x: float, y: float) -> float:
        wide = 3.5 * look.chart.arrow
        canvas.fill(arrow_path(x + wide, y, True, look.chart.arrow), look.colours["ink"])
        return wide

    return paint


def _tick(look: Look) -> _Paint:
    def paint(canvas: FigureCanvas, x: float, y: float) -> float:
        side, line = look.chart.tick_mm, look.lines["tick"]
        box = tick_path(x + (side + line) / 2, y, side)
        canvas.stroke(box, look.colours["ink"], line)
        return side + line

    return paint


def _pill(look: Look) -> _Paint:
    def paint(canvas: FigureCanvas, x: float, y: float) -> float:
        style = look.type[look.chart.run_length]
        size = style.size_pt * MM_PER_PT
        wide = text_width_mm(_EXAMPLE, style.face, style.size_pt) + 1.45
        shape = pill(x + wide / 2, y, wide, 1.25 * size)
        canvas.stroke(shape, look.colours["soft"], 2 * FRAME_MM)
        canvas.fill(shape, look.colours["paper"])
        middle, base = x + wide / 2, y + 0.355 * size
        ink = look.colours[style.colour]
        canvas.text(middle, base, _EXAMPLE, style.face, style.size_pt, ink, "middle")
        return wide

    return paint


def _shared(look: Look) -> _Paint:
    def paint(canvas: FigureCanvas, x: float, y: float) -> float:
        wide, half = 4.0 * look.chart.arrow, 1.6 * look.chart.arrow
        box = f"M{number(x)} {number(y - half)}h{number(wide)}v{number(2 * half)}h{number(-wide)}Z"
        canvas.fill(box, look.colours["band"])
        dash = f"M{number(x)} {number(y - half - 0.6)}v{number(2 * half + 1.2)}"
        canvas.stroke(dash, look.colours["ink"], 0.3, stroke_dasharray="0.9 0.6")
        return wide

    return paint


def _place(look: Look) -> _Paint:
    def paint(canvas: FigureCanvas, x: float, y: float) -> float:
        size = place_size(look.chart.cell_min_mm)
        half = 0.75 * size * MM_PER_PT
        paint_mark(canvas, x + half, y, 1, look, size)
        return 2 * half

    return paint


def _mark(kind: NoteKind, look: Look) -> _Paint:
    def paint(canvas: FigureCanvas, x: float, y: float) -> float:
        size = mark_size(look)
        line = MarkLine(y, {0: kind}, rightward=True)
        draw_marks(canvas, [line], x + size / 2, size, size, look.accent, look.colours["paper"])
        return size

    return paint
