"""Draw the back of a piece: its picture mirrored and faint, its yarn ends, and which to tie."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from publisher.colour import WHITE, Colour
from publisher.drawing.backparts import Part, Task, back_tasks, cut_back
from publisher.drawing.canvas import Canvas, type_attributes
from publisher.drawing.edges import face_of
from publisher.drawing.figure import Figure
from publisher.drawing.labels import Box, Wanted, place_labels
from publisher.drawing.look import Look
from publisher.drawing.numbers import number, point
from publisher.drawing.picture import greys, paint_picture
from publisher.drawing.shapes import box, svg_path
from publisher.fonts import proportions, text_width_mm
from publisher.fonts.shaping import MM_PER_PT
from publisher.plan.values import ChartPlan, End
from publisher.source.pattern import YarnColour

FADED = 0.8
_NUMBER_GAP_MM = 1.3
_LINE_MM, _DOT_MM, _SQUARE_MM = 0.7, 0.62, 0.85
_TENS_MM = 0.15
_TENS = Colour.from_hex("#98a1a2")
_MOST_RUNS = 400
_THINNER = 0.55
_LEADER_MM, _LEADER_FROM_MM = 0.15, 2.6
_SIDE_BY_SIDE = 0.27
_LABEL_PAD_MM = 0.2
_BOOKLET_PT = 8.0
_ROOM_FOR_EACH_MM2 = 45.0
_OBSTACLE_STEP_MM = 1.0

Point = tuple[float, float]


def draw_back_maps(
    plan: ChartPlan,
    colours: Sequence[YarnColour],
    look: Look,
    width_mm: float,
    height_mm: float,
    words: Mapping[str, str],
) -> tuple[Figure, ...]:
    """The map, or the parts it takes for all numbers to be read, each within the box."""
    tasks = back_tasks(plan)
    side, above = _side_mm(plan, look), _above_mm(look)
    room_mm2 = _ROOM_FOR_EACH_MM2 * _boldness(look) ** 4
    box_mm = width_mm - side - 0.3, height_mm - above - 0.3
    parts, scale = cut_back(plan, tasks, box_mm, room_mm2)
    paints = {colour.letter: colour.srgb for colour in colours}
    shown = greys(paints) if look.mono else paints
    faint = {letter: paint.mix(WHITE, FADED) for letter, paint in shown.items()}
    views = (_View(plan, part, scale, side, above, look) for part in parts)
    return tuple(_draw(view, faint, words) for view in views)


def draw_back_legend(plan: ChartPlan, look: Look, words: Mapping[str, str]) -> Figure:
    """What the signs of the map mean, and how many there are of each, a line each."""
    style = look.type["legend"]
    canvas, width, base = Canvas(), 0.0, 0.0
    accent = look.colours["ink" if look.mono else "accent"]
    kinds = (("pairs", plan.end_pairs), ("singles", plan.single_ends))
    for key, found in kinds:
        if not found:
            continue
        base += style.lead_mm
        middle = base - 0.33 * style.size_pt * MM_PER_PT
        if key == "pairs":
            bold = _boldness(look)
            canvas.stroke(f"M{point(1.0, middle)}h5", accent, _LINE_MM * bold)
            _paint_dots(canvas, [(1.0, middle), (6.0, middle)], _DOT_MM * bold, look)
        else:
            _paint_squares(canvas, [(3.5, middle)], look)
        paint = look.colours[style.colour]
        width = max(width, canvas.text(9.0, base, words[key], style.face, style.size_pt, paint))
    said = "; ".join(words[key] for key, found in kinds if found)
    return canvas.figure(width, base + 0.25 * style.lead_mm, said)


@dataclass(frozen=True, slots=True)
class _View:
    """One part on paper, mirrored: the highest cord is on the left."""

    plan: ChartPlan
    part: Part
    scale: float
    left: float
    top: float
    look: Look

    @property
    def cell(self) -> tuple[float, float]:
        return self.plan.cell.width_mm * self.scale, self.plan.cell.height_mm * self.scale

    @property
    def dot(self) -> float:
        """The radius of an end's dot: small enough to tell two in one cell apart."""
        largest = _DOT_MM * _boldness(self.look)
        return min(largest, 0.21 * self.cell[0], 0.3 * self.cell[1])

    @property
    def right(self) -> float:
        return self.left + self.part.columns * self.cell[0]

    @property
    def bottom(self) -> float:
        return self.top + self.part.rows * self.cell[1]

    def x(self, cord: float) -> float:
        """The edge of a cord's column that lies to the left on paper."""
        return self.left + (self.part.last_cord - cord) * self.cell[0]

    def y(self, row: float) -> float:
        return self.top + (row - self.part.first_row) * self.cell[1]


def _draw(view: _View, faint: Mapping[str, Colour], words: Mapping[str, str]) -> Figure:
    canvas, part = Canvas(), view.part
    cells = view.plan.cells[part.first_row - 1 : part.last_row]
    cells = tuple(row[part.first_cord - 1 : part.last_cord] for row in cells)
    size = (view.right - view.left, view.bottom - view.top)
    paint_picture(
        canvas, cells, faint, (view.left, view.top, *size), most_runs=_MOST_RUNS, mirrored=True
    )
    _paint_frame(canvas, view)
    _paint_cord_numbers(canvas, view)
    _paint_row_numbers(canvas, view)
    _paint_tasks(canvas, view)
    alt = words["alt"].format(
        first_row=part.first_row,
        last_row=part.last_row,
        first_cord=part.first_cord,
        last_cord=part.last_cord,
        tasks=len(part.tasks),
    )
    return canvas.figure(view.right + 0.3, view.bottom + 0.3, alt)


def _paint_frame(canvas: Canvas, view: _View) -> None:
    """A line after every tenth cord and row, and the frame."""
    part = view.part
    top, bottom = number(view.top), number(view.bottom)
    left, right = number(view.left), number(view.right)
    upright = (
        f"M{number(view.x(cord))} {top}V{bottom}"
        for cord in range(part.first_cord, part.last_cord)
        if cord % 10 == 0
    )
    level = (
        f"M{left} {number(view.y(row + 1))}H{right}"
        for row in range(part.first_row, part.last_row)
        if row % 10 == 0
    )
    canvas.stroke("".join((*upright, *level)), _TENS, _TENS_MM)
    frame = f"M{left} {top}H{right}V{bottom}H{left}Z"
    canvas.stroke(frame, view.look.colours["ink"], view.look.lines["frame"])


def _paint_cord_numbers(canvas: Canvas, view: _View) -> None:
    style, ink = view.look.type["map-number"], view.look.colours["ink"]
    part = view.part
    widest = text_width_mm(str(part.last_cord), "bold", style.size_pt)
    for cord in _fives(part.first_cord, part.last_cord, view.cell[0], widest + 1.0):
        middle, base = view.x(cord - 0.5), view.top - _NUMBER_GAP_MM
        canvas.text(middle, base, str(cord), face_of(cord, "sans"), style.size_pt, ink, "middle")


def _paint_row_numbers(canvas: Canvas, view: _View) -> None:
    style, ink = view.look.type["map-number"], view.look.colours["ink"]
    part, cap = view.part, _cap_mm(view.look)
    for row in _fives(part.first_row, part.last_row, view.cell[1], cap + 1.2):
        right, base = view.left - _NUMBER_GAP_MM, view.y(row + 0.5) + cap / 2
        base = max(min(base, view.bottom), view.top + cap)
        canvas.text(right, base, str(row), face_of(row, "sans"), style.size_pt, ink, "right")


def _fives(first: int, last: int, cell_mm: float, least_mm: float) -> list[int]:
    """Multiples of five (or ten, …) with room between them, and the ends where they have room."""
    step = next(step for step in (5, 10, 50, 100, 500, 1000) if step * cell_mm >= least_mm)
    shown = [count for count in range(first, last + 1) if count % step == 0]
    for end in (first, last):
        if all(abs(end - count) * cell_mm >= least_mm for count in shown):
            shown.append(end)
    return sorted(shown)


def _paint_tasks(canvas: Canvas, view: _View) -> None:
    """Lines between ends that are tied, dots and squares for the ends, and their numbers."""
    look, tasks = view.look, view.part.tasks
    places = _end_places(view)
    accent, ink = look.colours["ink" if look.mono else "accent"], look.colours["ink"]
    pairs = [[places[end.id] for end in task.ends] for task in tasks if len(task.ends) == 2]
    labels = _place_numbers(view, tasks, places)
    _paint_leaders(canvas, view, tasks, places, labels)
    lines = (f"M{point(*start)}L{point(*end)}" for start, end in pairs)
    thin = _THINNER if look.mono else 1.0  # where the dots are no darker than the lines
    width = thin * min(_LINE_MM * _boldness(look), 1.3 * view.dot)
    canvas.stroke("".join(lines), accent, width)
    _paint_dots(canvas, [place for pair in pairs for place in pair], view.dot, look)
    _paint_squares(canvas, [places[task.ends[0].id] for task in tasks if len(task.ends) == 1], look)
    style = look.type["map-number"]
    group = canvas.group(**type_attributes(style.face, style.size_pt), fill=str(ink))
    for task, (left, _, _, bottom) in zip(tasks, labels, strict=True):
        group.label(left + _LABEL_PAD_MM, bottom - _LABEL_PAD_MM, str(task.number))


def _paint_dots(canvas: Canvas, places: Sequence[Point], radius: float, look: Look) -> None:
    """Dots as strokes of no length with round ends: they take few bytes."""
    dots = "".join(f"M{point(x, y)}h.01" for x, y in places)
    canvas.stroke(dots, look.colours["ink"], 2 * radius, stroke_linecap="round")


def _paint_squares(canvas: Canvas, places: Sequence[Point], look: Look) -> None:
    half = _SQUARE_MM * _boldness(look)
    squares = (svg_path([box(-half, -half, half, half)], 1.0, *place) for place in places)
    line = {"stroke": str(look.colours["ink"]), "stroke_width": "0.4"}
    canvas.fill("".join(squares), look.colours["paper"], **line)


def _end_places(view: _View) -> dict[str, Point]:
    """Where each end is drawn: in the middle of its cell, or side by side with others there."""
    cells: dict[tuple[int, int], list[End]] = {}
    for task in view.part.tasks:
        for end in task.ends:
            cells.setdefault((end.row, end.cord), []).append(end)
    places = {}
    for (row, cord), ends in cells.items():
        x, y = view.x(cord - 0.5), view.y(row + 0.5)
        reach = _SIDE_BY_SIDE if len(ends) > 1 else 0.0
        for index, end in enumerate(ends):
            angle = 2 * math.pi * index / len(ends)
            dx, dy = math.cos(angle) * view.cell[0], math.sin(angle) * view.cell[1]
            places[end.id] = (x + reach * dx, y + reach * dy)
    return places


def _place_numbers(view: _View, tasks: Sequence[Task], places: Mapping[str, Point]) -> list[Box]:
    style = view.look.type["map-number"]
    height = _cap_mm(view.look) + 2 * _LABEL_PAD_MM
    wanted, obstacles = [], []
    for owner, task in enumerate(tasks):
        start, end = places[task.ends[0].id], places[task.ends[-1].id]
        width = text_width_mm(str(task.number), style.face, style.size_pt) + 2 * _LABEL_PAD_MM
        wanted.append(Wanted(start, end, width, height))
        half = _SQUARE_MM * _boldness(view.look) + 0.3 if start == end else view.dot + 0.1
        obstacles += [(around, owner) for around in _along(start, end, half)]
    room = (view.left + 0.3, view.top + 0.3, view.right - 0.3, view.bottom - 0.3)
    return place_labels(wanted, obstacles, room)


def _along(start: Point, end: Point, end_half: float) -> Iterator[Box]:
    """Small boxes that cover a line and what is drawn at its ends."""
    steps = max(1, math.ceil(math.dist(start, end) / _OBSTACLE_STEP_MM))
    for step in range(steps + 1):
        share = step / steps
        half = end_half if step in (0, steps) else _LINE_MM / 2 + 0.1
        x = start[0] + (end[0] - start[0]) * share
        y = start[1] + (end[1] - start[1]) * share
        yield x - half, y - half, x + half, y + half


def _paint_leaders(
    canvas: Canvas,
    view: _View,
    tasks: Sequence[Task],
    places: Mapping[str, Point],
    labels: Sequence[Box],
) -> None:
    """A hairline to the numbers that had to stand farther off."""
    lines = []
    for task, label in zip(tasks, labels, strict=True):
        start, end = (places[task.ends[at].id] for at in (0, -1))
        middle = (label[0] + label[2]) / 2, (label[1] + label[3]) / 2
        target = _nearest(start, end, middle)
        edge = (
            min(max(target[0], label[0]), label[2]),
            min(max(target[1], label[1]), label[3]),
        )
        if math.dist(target, edge) > _LEADER_FROM_MM:
            lines.append(f"M{point(*edge)}L{point(*target)}")
    canvas.stroke("".join(lines), view.look.colours["soft"], _LEADER_MM)


def _nearest(start: Point, end: Point, place: Point) -> Point:
    """The point of a line that is nearest to a place."""
    across, down = end[0] - start[0], end[1] - start[1]
    square = across * across + down * down
    share = ((place[0] - start[0]) * across + (place[1] - start[1]) * down) / (square or 1.0)
    share = min(1.0, max(0.0, share))
    return start[0] + share * across, start[1] + share * down


def _boldness(look: Look) -> float:
    """Signs grow with the type, but less."""
    return math.sqrt(look.type["map-number"].size_pt / _BOOKLET_PT)


def _cap_mm(look: Look) -> float:
    style = look.type["map-number"]
    return proportions(style.face).cap_height_em * style.size_pt * MM_PER_PT


def _side_mm(plan: ChartPlan, look: Look) -> float:
    style = look.type["map-number"]
    return text_width_mm(str(plan.rows), "bold", style.size_pt) + _NUMBER_GAP_MM


def _above_mm(look: Look) -> float:
    return _cap_mm(look) + _NUMBER_GAP_MM + 0.2
