"""Paint the cords of a hanging piece: mounted on the dowel, hanging as a fringe, tied as a loop."""

from __future__ import annotations

from collections.abc import Iterator

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.numbers import number, point
from publisher.drawing.piece.knotwork import SHADE, Cloth
from publisher.frozen import frozen
from publisher.model.colour import WHITE, Colour
from publisher.model.plan import HangingCord

_FINE_MM = 0.35
_SWAY = 0.9
_WIDEST = 0.44


@frozen
class Stroke:
    """The look of a cord: its colour and thickness, in mm; in `line` alone, or in relief."""

    paint: Colour
    width: float
    line: Colour | None = None

    def draw(self, canvas: FigureCanvas, path: str, cap: str = "butt") -> None:
        ends = {"stroke_linecap": cap, "stroke_linejoin": "round"}
        if self.line:
            canvas.stroke(path, self.line, self.width, **ends)
            canvas.stroke(path, self.paint, max(0.3 * self.width, self.width - 0.24), **ends)
            return
        if self.width < _FINE_MM:
            canvas.stroke(path, self.paint.mix(SHADE, 0.12), self.width, **ends)
            return
        canvas.stroke(path, self.paint.mix(SHADE, 0.5), self.width, **ends)
        canvas.stroke(path, self.paint.mix(SHADE, 0.06), 0.78 * self.width, **ends)
        canvas.stroke(path, WHITE, 0.22 * self.width, stroke_opacity="0.4", **ends)


def paint_fringe(canvas: FigureCanvas, cloth: Cloth, stroke: Stroke, scale: float) -> None:
    """Every tail below the last row, each swaying a little in its own way."""
    plan = cloth.plan
    tails = (0.5,) if plan.piece.cords.strands == 1 else (0.27, 0.73)
    if stroke.width < _FINE_MM / 2:
        tails = (0.5,)
    paths = []
    for column, length in enumerate(plan.fringe_mm):
        for index, place in enumerate(tails):
            sway = _sway(2 * column + index)
            x = cloth.left + (column + place) * cloth.cell_width
            top, down = cloth.bottom - 0.2 * cloth.cell_height, length * scale
            if down > 0:
                paths.append(_tail(x, top, down + next(sway) * scale, stroke.width, sway))
    stroke.draw(canvas, "".join(paths))


def paint_mount(
    canvas: FigureCanvas, cloth: Cloth, stroke: Stroke, dowel_y: float, dowel_mm: float
) -> None:
    """Lark's heads: the legs come over the dowel and pass behind the bar across them."""
    legs, bars = [], []
    for cord in cloth.plan.hanging_cords:
        left, right = _leg_places(cord, cloth)
        top, bar_y = dowel_y - 0.47 * dowel_mm, dowel_y + 0.42 * dowel_mm
        for x in {left, right}:
            legs.append(f"M{point(x, top)}V{number(cloth.top + 0.3 * cloth.cell_height)}")
        bars.append(f"M{point(left, bar_y)}H{number(max(right, left + 0.1))}")
    stroke.draw(canvas, "".join(sorted(legs)), "round")
    stroke.draw(canvas, "".join(bars), "round")


def _leg_places(cord: HangingCord, cloth: Cloth) -> tuple[float, float]:
    """Return where the two legs of a folded cord hang."""
    first, last = cord.columns[0] - 1, cord.columns[-1] - 1
    places = (0.28, 0.72) if first == last and cloth.plan.piece.cords.strands == 2 else (0.5, 0.5)
    left, right = first + places[0], last + places[1]
    return cloth.left + left * cloth.cell_width, cloth.left + right * cloth.cell_width


def _tail(x: float, top: float, length: float, width: float, sway: Iterator[float]) -> str:
    bend, end = _SWAY * width * next(sway), _SWAY * width * next(sway)
    return (
        f"M{point(x, top)}C{point(x + bend, top + 0.35 * length)} "
        f"{point(x - bend, top + 0.7 * length)} {point(x + end, top + length)}"
    )


def _sway(seed: int) -> Iterator[float]:
    """Numbers between -1 and 1, always the same ones for a tail."""
    state = seed * 7919 + 104729
    while True:
        state = (state * 1103515245 + 12345) % 2**31
        yield state / 2**30 - 1
