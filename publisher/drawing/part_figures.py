"""Draw a part's steps: numbered cords with the knots in place; small steps share a figure."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from publisher.drawing.canvas import Canvas
from publisher.drawing.figure import Figure
from publisher.drawing.look import Look
from publisher.drawing.numbers import number, point
from publisher.drawing.part_events import Layer
from publisher.drawing.part_lay import TAIL, Cut, Lay, Spot, State
from publisher.drawing.part_mount import lay_mount
from publisher.drawing.part_paint import Palette, paint_legs, part_palette
from publisher.drawing.shapes import circle, svg_path
from publisher.fonts import text_width_mm
from publisher.fonts.shaping import MM_PER_PT
from publisher.knots import Knot
from publisher.plan.part_values import Leg, PartStep, StepsPlan
from publisher.source.pattern import YarnColour

Knots = Callable[[str], Knot]

MOST_IN_ONE = 3
"""Steps that one figure shows."""
LONGEST_BEFORE = 12.0
"""What was knotted before is shown as long as it is no longer than this, in diameters."""
LARGEST_MM = 4.0
"""The thickest that a cord is drawn."""
GOOD_MM = 3.0
"""How thick it is drawn at least, where a wider figure makes it so."""
_ALONE = ("add", "drop", "wrap")
_DRAWN = ("tie", "gap", "cross", "gather", "drop", "add", "wrap", "trim")
_SIDE_MM, _TOP_MM, _FOOT_MM = 2.0, 7.5, 6.5
_CAP = 0.66


@dataclass(frozen=True, slots=True)
class StepFigure:
    """A figure and the numbers of the steps that it shows; mounting is 0."""

    figure: Figure
    numbers: tuple[int, ...]


def group_steps(part: StepsPlan) -> tuple[tuple[PartStep, ...], ...]:
    """The steps of the instructions, those that share a figure together.

    A step joins the one before it where the cords that it names lie where they did when that
    figure began, so that one set of numbers holds for both. What is glued or sewn joins what is
    before it, as there is nothing to draw.
    """
    groups: list[list[PartStep]] = []
    for step in part.told:
        if groups and _joins(groups[-1], step):
            groups[-1].append(step)
        else:
            groups.append([step])
    return tuple(map(tuple, groups))


def _joins(group: Sequence[PartStep], step: PartStep) -> bool:
    if step.kind not in _DRAWN:
        return True
    drawn = [one for one in group if one.kind in _DRAWN]
    if len(drawn) >= MOST_IN_ONE or not drawn:
        return not drawn
    if step.kind == "trim":
        return True
    if any(one.kind in _ALONE for one in (*drawn, step)):
        return False
    ties = [one for one in (*drawn, step) if one.kind == "tie"]
    if len({one.knot for one in ties}) > 1 or sum(one.times for one in ties) > MOST_IN_ONE:
        return False
    before = group[0].before
    travels = [p for p in (step.leader, step.worker) if p is not None]
    named = (*travels, *step.on)
    return all(before[p - 1] == step.before[p - 1] for p in named if p <= len(before))


def draw_part_steps(
    part: StepsPlan,
    colours: Sequence[YarnColour],
    knots: Knots,
    look: Look,
    lines: Sequence[tuple[int, float]],
    most_height_mm: float,
    first_mm: float,
) -> tuple[StepFigure, ...]:
    """One figure for the mounting, then one for each group of steps, all at one scale. The first
    is as tall as it needs; the others are of one height in each line.

    `lines`: how many figures a line can hold, and how wide each is then, the most first;
    `first_mm`: how wide that of the mounting is at most.
    """
    lays = [_mounted(part, knots), *(_worked(part, group, knots) for group in group_steps(part))]
    boxes = [bounds(lay) for lay in lays]
    widest = max(right - left for left, _, right, _ in boxes)
    tallest = max(bottom - top for _, top, _, bottom in boxes)
    largest = min(LARGEST_MM, (most_height_mm - _TOP_MM - _FOOT_MM) / tallest)
    good = min(GOOD_MM, largest) * widest + 2 * _SIDE_MM
    filled = [line for line in lines if line[0] < len(lays)] or lines[-1:]
    a_line, width_mm = next((line for line in filled if line[1] >= good), filled[-1])
    scale = min(largest, (width_mm - 2 * _SIDE_MM) / widest)
    scale = min(scale, (first_mm - 2 * _SIDE_MM) / (boxes[0][2] - boxes[0][0]))
    palette = part_palette(part, colours, look)
    numbers = [(0,), *(tuple(step.number for step in group) for group in group_steps(part))]
    figures = []
    lines_of = [slice(0, 1), *(slice(k, k + a_line) for k in range(1, len(lays), a_line))]
    for line in lines_of:
        tall = max(bottom - top for _, top, _, bottom in boxes[line])
        height = tall * scale + (_TOP_MM if line.start else _FOOT_MM / 2) + _FOOT_MM
        wide = width_mm if line.start else min(width_mm, first_mm)
        panel = _Panel(look, palette, wide, height, scale)
        for lay, box, shown in zip(lays[line], boxes[line], numbers[line], strict=True):
            figures.append(StepFigure(panel.draw(lay, box, shown), shown))
    return tuple(figures)


def new_lay(part: StepsPlan) -> Lay:
    """An empty layout, in the unit of the part's thickest cord."""
    diameters = {cord.number: cord.diameter_mm for cord in part.cords}
    unit = max(diameters.values())
    thick: dict[Leg, float] = {}
    for cord in part.cords:
        for side in ("left", "right", "only"):
            thick[Leg(cord.number, side)] = diameters[cord.number] / unit
    return Lay(thick, unit)


def _mounted(part: StepsPlan, knots: Knots) -> Lay:
    lay = new_lay(part)
    lay_mount(part, lay, knots)
    _hang_out(lay)
    return lay


def _worked(part: StepsPlan, group: Sequence[PartStep], knots: Knots) -> Lay:
    """The state before a group of steps, quiet; the legs spread and numbered; the steps."""
    lay = new_lay(part)
    layer = Layer(lay, knots)
    lay_mount(part, lay, knots)
    for step in part.steps[: part.steps.index(group[0])]:
        layer.step(step)
    begins = {one[0].number for one in group_steps(part)}
    _shorten(lay, [one.number in begins for one in part.steps])
    lay.cuts.clear()
    lay.spread()
    lay.refresh()
    for step in group:
        layer.step(step)
    _hang_out(lay)
    return lay


def _shorten(lay: Lay, begins: Sequence[bool]) -> None:
    """Leave out what was knotted so long ago that the picture would be too tall, up to where a
    figure begins."""
    bottom = lay.lowest(lay.order)
    top = min(point.y for ways in lay.ways.values() for way in ways for point in way)
    if not lay.breaks and bottom - top <= LONGEST_BEFORE:
        return
    states = [state for state, first in zip(lay.states, begins, strict=False) if first][1:]
    if lay.breaks:
        last = {leg: (len(ways) - 1, 0) for leg, ways in lay.ways.items()}
        after = [
            state for state in states if all(state.ends[leg] >= last[leg] for leg in state.ends)
        ]
        states = [State(tuple(lay.order), last, len(lay.extra)), *after]
    for state in states:
        if (
            bottom - min(lay.ways[leg][at][k].y for leg, (at, k) in state.ends.items())
            <= LONGEST_BEFORE
        ):
            lay.crop(state)
            return
    if states:
        lay.crop(states[-1])


def _hang_out(lay: Lay) -> None:
    """Lead every leg on down, spread so far that the numbers of their places can be read."""
    hanging = [leg for leg in lay.order if leg not in lay.ended]
    if not hanging:
        return
    xs = [lay.at(leg).x for leg in hanging]
    middle = (min(xs) + max(xs)) / 2
    pitch = max(1.9, (max(xs) - min(xs)) / max(1, len(xs) - 1))
    if not lay.ended:
        pitch = min(2.7, pitch)
    bottom = lay.lowest(hanging) + max(TAIL, 0.35 * pitch * len(hanging))
    for index, leg in enumerate(hanging):
        x = middle + (index - (len(hanging) - 1) / 2) * pitch
        lay.drop_to(leg, x, bottom - 1.0)
        lay.drop_to(leg, x, bottom)
        lay.exits.append(Spot(x, bottom, lay.order.index(leg) + 1))


def bounds(lay: Lay) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of what is drawn."""
    points = [point for ways in lay.ways.values() for way in ways for point in way]
    points += [*lay.bar, *(point for _, way in lay.extra for point in way)]
    xs, ys = [point.x for point in points], [point.y for point in points]
    return min(xs) - 0.9, min(ys) - 0.6, max(xs) + 0.9, max(ys)


@dataclass(frozen=True, slots=True)
class _Panel:
    look: Look
    palette: Palette
    width: float
    height: float
    scale: float

    def draw(
        self, lay: Lay, box: tuple[float, float, float, float], numbers: tuple[int, ...]
    ) -> Figure:
        canvas = Canvas()
        ground = self.look.colours["figure"]
        canvas.fill(f"M0 0H{number(self.width)}V{number(self.height)}H0Z", ground)
        left, top, right, bottom = box
        middle = complex(left + right, top + bottom) / 2
        above = _TOP_MM if numbers != (0,) else _FOOT_MM / 2
        room = self.height - above - _FOOT_MM
        origin = complex(self.width / 2, above + room / 2) - middle * self.scale
        paint_legs(canvas, lay, self.palette, ground, self.scale, origin)
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

    def _disc(self, canvas: Canvas, spot: Spot, origin: complex) -> None:
        """A cord's number on a disc of paper."""
        style = self.look.type["figure-label"]
        at = self._place(spot.x, spot.y, origin)
        radius = 0.56 * style.size_pt * MM_PER_PT + 0.3
        ink = self.look.colours["ink"]
        line = {"stroke": str(ink), "stroke_width": "0.25"}
        canvas.fill(
            svg_path([circle(radius, at.real, at.imag)]), self.look.colours["paper"], **line
        )
        self._word(canvas, str(spot.number), at, "bold", style.size_pt * 0.94, "ink")

    def _below(self, canvas: Canvas, spot: Spot, origin: complex) -> None:
        style = self.look.type["figure-label"]
        at = self._place(spot.x, spot.y, origin) + complex(0, 0.62 * style.size_pt * MM_PER_PT)
        self._word(canvas, str(spot.number), at, style.face, style.size_pt * 0.94, "soft")

    def _word(
        self, canvas: Canvas, words: str, at: complex, face: str, size_pt: float, colour: str
    ) -> None:
        base = at.imag + _CAP / 2 * size_pt * MM_PER_PT
        canvas.text(at.real, base, words, face, size_pt, self.look.colours[colour], "middle")

    def _title(self, canvas: Canvas, numbers: tuple[int, ...]) -> None:
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

    def _scissors(self, canvas: Canvas, cut: Cut, origin: complex) -> None:
        """A dashed line where ends are cut."""
        left, right = (self._place(x, cut.y, origin) for x in (cut.left, cut.right))
        path = f"M{point(left.real, left.imag)}H{number(right.real)}"
        canvas.stroke(path, self.look.colours["ink"], 0.3, stroke_dasharray="1.1 0.7")

    def _wave(self, canvas: Canvas, cut: Cut, origin: complex) -> None:
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
