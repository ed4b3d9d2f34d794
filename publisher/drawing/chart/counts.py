"""Print how many knots a long run has, in a pill in place of a symbol or two."""

from __future__ import annotations

from publisher.drawing.base.canvas import FigureCanvas, type_attributes
from publisher.drawing.base.numbers import number, point
from publisher.drawing.chart.view import View
from publisher.drawing.chart.yarn_marks import marked_edges
from publisher.fonts import text_width_mm
from publisher.fonts.shaping import MM_PER_PT
from publisher.frozen import frozen
from publisher.model.plan import Run

_FEWEST_SEEN = 6
_PILL_ROUND = 1.0
FRAME_MM = 0.13
"""The line round a pill, without which it would not show on a white cell."""


@frozen
class Count:
    """A run's count in its pill, over one cell or two."""

    text: str
    row: int
    middle: float
    """The x of its middle, in cords."""
    width_mm: float
    cords: tuple[int, ...]


def long_runs(view: View) -> tuple[Count, ...]:
    """The counts to print on this tile: whole rows' long runs, where enough of them shows."""
    shortest = view.look.chart.run_length_from
    if not shortest:
        return ()
    counts = (
        _count(view, row.row, run, marked_edges(row, view))
        for row in view.rows
        for run in row.runs
        if run.knots >= shortest
    )
    return tuple(count for count in counts if count)


def paint_counts(canvas: FigureCanvas, view: View, counts: tuple[Count, ...]) -> None:
    if not counts:
        return
    style = view.look.type[view.look.chart.run_length]
    size = style.size_pt * MM_PER_PT
    height = min(1.25 * size, view.cell_height - 0.35)
    _paint_pills(canvas, view, counts, height)
    group = canvas.group(
        **type_attributes(style.face, style.size_pt), fill=str(view.look.colours[style.colour])
    )
    for count in counts:
        wide = text_width_mm(count.text, style.face, style.size_pt)
        base = view.y(count.row + 0.5) + 0.355 * size
        group.label(view.x(count.middle) - wide / 2, base, count.text)


def _paint_pills(
    canvas: FigureCanvas, view: View, counts: tuple[Count, ...], height: float
) -> None:
    """The pills as boxes with a broad round rim, which take a third of an outline's bytes; on
    another rim that is their frame."""
    radius = min(_PILL_ROUND, height / 2)
    down = number(height - 2 * radius)
    boxes = []
    for count in counts:
        left, top = view.x(count.middle) - count.width_mm / 2, view.y(count.row + 0.5) - height / 2
        across = number(count.width_mm - 2 * radius)
        corner = point(left + radius, top + radius)
        boxes.append(f"M{corner}h{across}v{down}h-{across}Z")
    path, paper = "".join(boxes), view.look.colours["paper"]
    rim = {"stroke_linejoin": "round"}
    canvas.stroke(path, view.look.colours["soft"], 2 * (radius + FRAME_MM), **rim)
    wide = {"stroke": str(paper), "stroke_width": number(2 * radius), **rim}
    canvas.fill(path, paper, **wide)


def pill(x: float, y: float, width: float, height: float) -> str:
    """The outline of a run length's pill about a middle point."""
    radius = min(_PILL_ROUND, height / 2)
    bend = 0.5523 * radius
    across, down = width - 2 * radius, height - 2 * radius
    r, b, c = number(radius), number(bend), number(radius - bend)
    return (
        f"M{number(x - width / 2 + radius)} {number(y - height / 2)}"
        f"h{number(across)}c{b} 0 {r} {c} {r} {r}v{number(down)}c0 {b} -{c} {r} -{r} {r}"
        f"h-{number(across)}c-{b} 0 -{r} -{c} -{r} -{r}v-{number(down)}c0 -{b} {c} -{r} {r} -{r}Z"
    )


def _count(view: View, row: int, run: Run, marked: frozenset[int]) -> Count | None:
    """A run's count over its second cell or the two from there on; farther on where a yarn's mark
    would lie over it."""
    left, right = sorted((run.first_cord, run.last_cord))
    left, right = max(left, view.tile.first_cord), min(right, view.tile.last_cord)
    if right - left + 1 < _FEWEST_SEEN:
        return None
    seen = range(left, right + 1)
    if run.last_cord < run.first_cord:
        seen = seen[::-1]
    style = view.look.type[view.look.chart.run_length]
    text = str(run.knots)
    wide = text_width_mm(text, style.face, style.size_pt)
    room = view.cell_width - 0.3
    one = wide + 0.45 <= room
    places = [tuple(sorted(seen[at : at + (1 if one else 2)])) for at in range(1, len(seen) - 1)]
    free = (cords for cords in places if marked.isdisjoint(range(cords[0], cords[-1] + 2)))
    cords = next(free, places[0])
    pill_mm = min(wide + 1.45, room) if one else wide + 1.45
    return Count(text, row, (cords[0] + cords[-1] + 1) / 2, pill_mm, cords)
