"""Draw a part's steps: numbered cords with the knots in place; small steps share a figure."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.numbers import number, point
from publisher.drawing.base.shapes import circle, svg_path
from publisher.drawing.part.lay import Cut, Lay, NumberedSpot
from publisher.drawing.part.paint import Painted, Palette, cords_of, paint_cords, part_palette
from publisher.drawing.part.picture import knots_of, paint_told, part_told
from publisher.drawing.part.states import Room, bounds, group_steps, states_before, work_on
from publisher.fonts import text_width_mm
from publisher.fonts.shaping import MM_PER_PT
from publisher.frozen import frozen
from publisher.knots import Knot
from publisher.model.figure import Figure, weight_of
from publisher.model.look import Look
from publisher.model.part_plan import PartStep, StepsPlan
from publisher.model.pattern import YarnColour
from publisher.store import NO_STORE, Store, digest_of_values

Knots = Callable[[str], Knot]
Box = tuple[float, float, float, float]

LARGEST_MM = 4.0
"""The thickest that a cord is drawn."""
GOOD_MM = 3.0
"""How thick it is drawn at least, where a wider figure makes it so."""
_SIDE_MM, _TOP_MM, _FOOT_MM = 2.0, 7.5, 6.5
_CAP = 0.66
_LABEL = 0.94
"""A cord's number, in the size of labels."""
_BETWEEN_MM = 0.6
"""Between two numbers side by side."""
_TRIES = 5
"""How often cords are spread anew: the farther apart, the smaller they are drawn."""
LEAST_MM = 1.0
"""The thinnest that a cord is drawn to spread it: rather, numbers lie over one another."""


@frozen
class StepFigure:
    """A figure and the numbers of the steps that it shows; mounting is 0."""

    figure: Figure
    numbers: tuple[int, ...]


@frozen
class _Set:
    """The figures of a part laid out, and their size: `a_line` of them in a line, `width_mm`
    wide, `scale` mm to a diameter."""

    lays: Sequence[Lay]
    boxes: Sequence[Box]
    a_line: int
    width_mm: float
    scale: float


def draw_part_steps(
    part: StepsPlan,
    colours: Sequence[YarnColour],
    knots: Knots,
    look: Look,
    lines: Sequence[tuple[int, float]],
    most_height_mm: float,
    first_mm: float,
    store: Store = NO_STORE,
) -> tuple[StepFigure, ...]:
    """One figure for the mounting, then one for each group of steps, all at one scale. The first
    is as tall as it needs; the others are of one height in each line.

    `lines`: how many figures a line can hold, and how wide each is then, the most first;
    `first_mm`: how wide that of the mounting is at most.
    """
    whose = "steps", part_told(part, knots_of(part, knots)), paint_told(part, colours, look)
    told = *whose, tuple(lines), most_height_mm, first_mm
    groups = group_steps(part)

    def draw() -> tuple[Figure, ...]:
        shown = _lay_out(part, groups, knots, look, lines, most_height_mm, first_mm)
        palette, painted = part_palette(part, colours, look), Painted(digest_of_values(told))
        return tuple(_draw(shown, numbers, look, palette, painted, first_mm))

    numbers = [(0,), *(tuple(step.number for step in group) for group in groups)]
    figures = store.get(told, draw, weight_of)
    return tuple(map(StepFigure, figures, numbers))


def _draw(
    shown: _Set,
    numbers: Sequence[tuple[int, ...]],
    look: Look,
    palette: Palette,
    painted: Painted,
    first_mm: float,
) -> Iterator[Figure]:
    steps = range(1, len(shown.lays), shown.a_line)
    for line in [slice(0, 1), *(slice(k, k + shown.a_line) for k in steps)]:
        tall = max(bottom - top for _, top, _, bottom in shown.boxes[line])
        height = tall * shown.scale + (_TOP_MM if line.start else _FOOT_MM / 2) + _FOOT_MM
        wide = shown.width_mm if line.start else min(shown.width_mm, first_mm)
        panel = _Panel(look, palette, wide, height, shown.scale, painted)
        for lay, box, told in zip(shown.lays[line], shown.boxes[line], numbers[line], strict=True):
            yield panel.draw(lay, box, told)


def _lay_out(
    part: StepsPlan,
    groups: Sequence[Sequence[PartStep]],
    knots: Knots,
    look: Look,
    lines: Sequence[tuple[int, float]],
    most_height_mm: float,
    first_mm: float,
) -> _Set:
    """Lay the figures out as large as can be; where numbers would touch, anew with the cords
    farther apart, until they don't."""
    states = list(states_before(part, groups, knots))
    most = max(len(part.order), *(len(step.before) for step in part.steps))
    on_cords = 2 * _disc_mm(look)
    below = min(_number_mm(look, most) + 2 * _BETWEEN_MM, (first_mm - 2 * _SIDE_MM) / most)
    row_mm = most * (on_cords + _BETWEEN_MM) + 2 * _SIDE_MM

    def fit(room: Room) -> _Set:
        lays = [
            work_on(state, group, knots, room)
            for state, group in zip(states, [(), *groups], strict=True)
        ]
        return _fitted(lays, lines, row_mm, most_height_mm, first_mm)

    room = Room()
    shown = fit(room)
    for _ in range(_TRIES):
        slot, end = (on_cords + _BETWEEN_MM) / shown.scale, (below + _BETWEEN_MM) / shown.scale
        if on_cords < room.slot * shown.scale and below < room.end * shown.scale:
            break
        room = Room(max(room.slot, slot), max(room.end, end))
        anew = fit(room)
        if anew.scale < min(LEAST_MM, shown.scale):
            break
        shown = anew
    return shown


def _fitted(
    lays: Sequence[Lay],
    lines: Sequence[tuple[int, float]],
    row_mm: float,
    most_height_mm: float,
    first_mm: float,
) -> _Set:
    """Choose how many figures a line has: the most that leaves cords thick enough, and the widest
    row of numbers, `row_mm` wide, room."""
    boxes = [bounds(lay) for lay in lays]
    widest = max(right - left for left, _, right, _ in boxes)
    tallest = max(bottom - top for _, top, _, bottom in boxes)
    largest = min(LARGEST_MM, (most_height_mm - _TOP_MM - _FOOT_MM) / tallest)
    good = max(row_mm, min(GOOD_MM, largest) * widest + 2 * _SIDE_MM)
    filled = [line for line in lines if line[0] < len(lays)] or lines[-1:]
    a_line, width_mm = next((line for line in filled if line[1] >= good), filled[-1])
    scale = min(largest, (width_mm - 2 * _SIDE_MM) / widest)
    scale = min(scale, (first_mm - 2 * _SIDE_MM) / (boxes[0][2] - boxes[0][0]))
    return _Set(lays, boxes, a_line, width_mm, scale)


def _disc_mm(look: Look) -> float:
    """The radius of a number's disc."""
    return 0.56 * look.type["figure-label"].size_pt * MM_PER_PT + 0.3


def _number_mm(look: Look, number_: int) -> float:
    style = look.type["figure-label"]
    return text_width_mm(str(number_), style.face, style.size_pt * _LABEL)


@frozen
class _Panel:
    look: Look
    palette: Palette
    width: float
    height: float
    scale: float
    painted: Painted

    def draw(self, lay: Lay, box: Box, numbers: tuple[int, ...]) -> Figure:
        canvas = FigureCanvas()
        ground = self.look.colours["figure"]
        canvas.fill(f"M0 0H{number(self.width)}V{number(self.height)}H0Z", ground)
        left, top, right, bottom = box
        middle = complex(left + right, top + bottom) / 2
        above = _TOP_MM if numbers != (0,) else _FOOT_MM / 2
        room = self.height - above - _FOOT_MM
        origin = complex(self.width / 2, above + room / 2) - middle * self.scale
        paint_cords(canvas, cords_of(lay), self.palette, ground, self.scale, origin, self.painted)
        for cut in lay.cuts:
            self._scissors(canvas, cut, origin)
        for part in (*lay.breaks, *([lay.above] if lay.above else [])):
            self._wave(canvas, part, origin)
        for spot in lay.entries:
            self._disc(canvas, spot, origin)
        for spot in lay.exits:
            self._below(canvas, spot, origin)
        if numbers != (0,):
            self._title(canvas, numbers)
        return canvas.figure(self.width, self.height)

    def _place(self, x: float, y: float, origin: complex) -> complex:
        return complex(x, y) * self.scale + origin

    def _disc(self, canvas: FigureCanvas, spot: NumberedSpot, origin: complex) -> None:
        """A cord's number on a disc of paper."""
        style = self.look.type["figure-label"]
        at = self._place(spot.x, spot.y, origin)
        radius = _disc_mm(self.look)
        ink = self.look.colours["ink"]
        line = {"stroke": str(ink), "stroke_width": "0.25"}
        canvas.fill(
            svg_path([circle(radius, at.real, at.imag)]), self.look.colours["paper"], **line
        )
        self._word(canvas, str(spot.number), at, "bold", style.size_pt * _LABEL, "ink")

    def _below(self, canvas: FigureCanvas, spot: NumberedSpot, origin: complex) -> None:
        style = self.look.type["figure-label"]
        at = self._place(spot.x, spot.y, origin) + complex(0, 0.62 * style.size_pt * MM_PER_PT)
        self._word(canvas, str(spot.number), at, style.face, style.size_pt * _LABEL, "soft")

    def _word(
        self, canvas: FigureCanvas, words: str, at: complex, face: str, size_pt: float, colour: str
    ) -> None:
        base = at.imag + _CAP / 2 * size_pt * MM_PER_PT
        canvas.text(at.real, base, words, face, size_pt, self.look.colours[colour], "middle")

    def _title(self, canvas: FigureCanvas, numbers: tuple[int, ...]) -> None:
        """The steps' numbers, in white on a disc of ink, or on a longer one for several."""
        words = str(numbers[0]) if len(numbers) == 1 else f"{numbers[0]}–{numbers[-1]}"
        size_pt = self.look.type["figure-label"].size_pt * 11 / 9
        radius = 2.6 * size_pt / 11
        width = max(0.0, text_width_mm(words, "bold", size_pt) - radius)
        x, y = radius + 1.8, radius + 1.8
        pill = (
            f"M{point(x, y - radius)}h{number(width)}a{number(radius)} {number(radius)} 0 0 1 0 "
            f"{number(2 * radius)}h{number(-width)}a{number(radius)} {number(radius)} 0 0 1 0 "
            f"{number(-2 * radius)}Z"
        )
        canvas.fill(pill, self.look.colours["ink"])
        self._word(canvas, words, complex(x + width / 2, y), "bold", size_pt, "paper")

    def _scissors(self, canvas: FigureCanvas, cut: Cut, origin: complex) -> None:
        """A dashed line where ends are cut."""
        left, right = (self._place(x, cut.y, origin) for x in (cut.left, cut.right))
        path = f"M{point(left.real, left.imag)}H{number(right.real)}"
        canvas.stroke(path, self.look.colours["ink"], 0.3, stroke_dasharray="1.1 0.7")

    def _wave(self, canvas: FigureCanvas, cut: Cut, origin: complex) -> None:
        """Two waved lines where knots are left out."""
        for offset in (-0.35, 0.35):
            left, right = (self._place(x, cut.y + offset, origin) for x in (cut.left, cut.right))
            count = max(2, round((right.real - left.real) / 3.0))
            step = (right.real - left.real) / count
            wave = "".join(
                f"q{point(step / 4, -0.8)} {point(step / 2, 0)}q{point(step / 4, 0.8)} "
                f"{point(step / 2, 0)}"
                for _ in range(count)
            )
            path = f"M{point(left.real, left.imag)}{wave}"
            canvas.stroke(path, self.look.colours["soft"], 0.25)
