"""Show which knots of a chart changed: outlined on a part of it, and on the whole picture."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.numbers import number
from publisher.drawing.chart.surround import surround
from publisher.drawing.chart.tile import draw_chart_tile
from publisher.drawing.chart.tiles import Tile, TilePlan
from publisher.drawing.chart.view import View
from publisher.drawing.piece.picture import greys, paint_picture
from publisher.frozen import frozen
from publisher.model.figure import Figure
from publisher.model.look import Look
from publisher.model.pattern import YarnColour
from publisher.model.plan import ChartPlan

Knots = Collection[tuple[int, int]]
"""Rows and cords."""

_AROUND = 2
"""Cells shown on each side of what changed."""
_WIDEST, _TALLEST, _MOST_WINDOWS = 24, 16, 4
_LEAST_COLUMNS, _LEAST_ROWS = 9, 5
_LINE_MM, _CASING_MM = 0.8, 1.7
_MAP_LINE_MM, _MAP_CASING_MM = 0.55, 1.25
_PIXELS_PER_MM, _MOST_RUNS = 12.0, 3000


@frozen
class Window:
    """A part of a chart; both ends in."""

    first_row: int
    last_row: int
    first_cord: int
    last_cord: int

    def has(self, row: int, cord: int) -> bool:
        return self.first_row <= row <= self.last_row and self.first_cord <= cord <= self.last_cord


def change_windows(chart: ChartPlan, knots: Knots) -> tuple[Window, ...]:
    """Few parts of a chart in which all these knots stand, with some around them; from the top.

    None where they are scattered too far for that.
    """
    boxes = [Window(row, row, cord, cord) for row, cord in sorted(knots)]
    merged: list[Window] = []
    for box in boxes:
        for index, other in enumerate(merged):
            both = _union(box, other)
            if _fits(both):
                merged[index] = both
                break
        else:
            merged.append(box)
            if len(merged) > 4 * _MOST_WINDOWS:
                return ()
    windows = _joined([_widened(box, chart) for box in merged])
    return tuple(windows) if len(windows) <= _MOST_WINDOWS else ()


def _union(one: Window, other: Window) -> Window:
    return Window(
        min(one.first_row, other.first_row),
        max(one.last_row, other.last_row),
        min(one.first_cord, other.first_cord),
        max(one.last_cord, other.last_cord),
    )


def _fits(box: Window, room: int = 2 * _AROUND) -> bool:
    wide, tall = box.last_cord - box.first_cord + 1, box.last_row - box.first_row + 1
    return wide + room <= _WIDEST and tall + room <= _TALLEST


def _widened(box: Window, chart: ChartPlan) -> Window:
    """With cells around it, and no smaller than can be looked at."""
    rows = _span(box.first_row, box.last_row, chart.rows, _LEAST_ROWS)
    cords = _span(box.first_cord, box.last_cord, chart.columns, _LEAST_COLUMNS)
    return Window(*rows, *cords)


def _span(first: int, last: int, most: int, least: int) -> tuple[int, int]:
    more = max(2 * _AROUND, least - (last - first + 1))
    first = max(1, first - more // 2)
    last = min(most, max(last + more - more // 2, first + least - 1))
    return max(1, min(first, last - least + 1)), last


def _joined(windows: list[Window]) -> list[Window]:
    """Windows that overlap and fit in one become one."""
    found: list[Window] = []
    for window in windows:
        for index, other in enumerate(found):
            both = _union(window, other)
            if _overlap(window, other) and _fits(both, room=0):
                found[index] = both
                break
        else:
            found.append(window)
    return found if len(found) == len(windows) else _joined(found)


def _overlap(one: Window, other: Window) -> bool:
    return (
        one.first_row <= other.last_row
        and other.first_row <= one.last_row
        and one.first_cord <= other.last_cord
        and other.first_cord <= one.last_cord
    )


def draw_changed_part(
    chart: ChartPlan,
    colours: Sequence[YarnColour],
    window: Window,
    knots: Knots,
    look: Look,
    words: Mapping[str, str],
    alt: str,
) -> Figure:
    """A part of the new chart, as on its own pages, the changed knots outlined.

    `words`: those under [chart].
    """
    tiles = _tiles(chart, window, look)
    figure = draw_chart_tile(chart, colours, tiles, 1, look, words)
    view = View.of(chart, tiles, 1, look)
    canvas = FigureCanvas()
    canvas.add(figure)
    inside = {(row, cord) for row, cord in knots if window.has(row, cord)}
    places = [(view.x(x1), view.y(y1), view.x(x2), view.y(y2)) for x1, y1, x2, y2 in _edges(inside)]
    _paint_lines(canvas, places, look, _LINE_MM, _CASING_MM)
    return canvas.figure(figure.width_mm, figure.height_mm, alt)


def _tiles(chart: ChartPlan, window: Window, look: Look) -> TilePlan:
    """The window as the only tile of a chart, in cells as large as the page has room for."""
    columns = window.last_cord - window.first_cord + 1
    ratio = chart.cell.width_mm / chart.cell.height_mm
    room, _ = surround(look).grid(look.paper.text_width_mm, 0.0)
    longest = look.chart.cell_max_mm
    width = min(room / columns, longest if ratio >= 1 else longest * ratio)
    tile = Tile(
        number=1,
        first_cord=window.first_cord,
        last_cord=window.last_cord,
        first_row=window.first_row,
        last_row=window.last_row,
        left=0 if window.first_cord > 1 else None,
        right=0 if window.last_cord < chart.columns else None,
        above=0 if window.first_row > 1 else None,
        below=0 if window.last_row < chart.rows else None,
    )
    return TilePlan(chart.columns, chart.rows, width, width / ratio, 0, 1, 1, (tile,))


def draw_change_map(
    chart: ChartPlan,
    colours: Sequence[YarnColour],
    windows: Sequence[Window],
    knots: Knots,
    look: Look,
    size_mm: tuple[float, float],
    alt: str,
) -> Figure:
    """The whole picture, no larger than a size, with an outline round the windows and these
    knots."""
    scale = min(size_mm[0] / chart.width_mm, size_mm[1] / chart.height_mm)
    width, height = chart.width_mm * scale, chart.height_mm * scale
    paints = {colour.letter: colour.srgb for colour in colours}
    canvas = FigureCanvas()
    box = (0.0, 0.0, width, height)
    shown = greys(paints) if look.mono else paints
    paint_picture(canvas, chart.cells, shown, box, _PIXELS_PER_MM, _MOST_RUNS)
    frame = f"M0 0H{number(width)}V{number(height)}H0Z"
    canvas.stroke(frame, look.colours["ink"], look.lines["frame"])
    across, down = width / chart.columns, height / chart.rows
    marked = set(knots) | {
        (row, cord)
        for window in windows
        for row in range(window.first_row, window.last_row + 1)
        for cord in range(window.first_cord, window.last_cord + 1)
    }
    lines = [
        ((x1 - 1) * across, (y1 - 1) * down, (x2 - 1) * across, (y2 - 1) * down)
        for x1, y1, x2, y2 in _edges(marked)
    ]
    _paint_lines(canvas, lines, look, _MAP_LINE_MM, _MAP_CASING_MM)
    return canvas.figure(width, height, alt)


_Line = tuple[float, float, float, float]


def _edges(knots: Knots) -> Iterator[tuple[int, int, int, int]]:
    """The outline of cells, as lines from corner to corner (x, y, x, y), those that go on in one
    another drawn in one."""
    cells = set(knots)
    level = [
        (row + side, cord)
        for row, cord in cells
        for side in (0, 1)
        if (row + 2 * side - 1, cord) not in cells
    ]
    upright = [
        (cord + side, row)
        for row, cord in cells
        for side in (0, 1)
        if (row, cord + 2 * side - 1) not in cells
    ]
    for y, first, last in _stretches(level):
        yield first, y, last, y
    for x, first, last in _stretches(upright):
        yield x, first, x, last


def _stretches(steps: Iterable[tuple[int, int]]) -> Iterator[tuple[int, int, int]]:
    """(line, from, to) of steps of one cell that follow each other."""
    start: tuple[int, int] | None = None
    end = 0
    for line, at in sorted(steps):
        if start and start[0] == line and at == end:
            end += 1
            continue
        if start:
            yield start[0], start[1], end
        start, end = (line, at), at + 1
    if start:
        yield start[0], start[1], end


def _paint_lines(
    canvas: FigureCanvas, lines: Iterable[_Line], look: Look, line_mm: float, casing_mm: float
) -> None:
    """An accent line on a white one, which shows on every yarn and to every eye."""
    path = "".join(
        f"M{number(x1)} {number(y1)}L{number(x2)} {number(y2)}" for x1, y1, x2, y2 in lines
    )
    canvas.stroke(path, look.colours["paper"], casing_mm, stroke_linecap="square")
    canvas.stroke(path, look.accent, line_mm, stroke_linecap="square")
