"""Draw the back of a piece: its picture mirrored and faint, its yarn ends, and which to tie."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence

from publisher.drawing.back.parts import BackTask, back_tasks, cut_back, uncut_back
from publisher.drawing.back.view import BackView, above_mm, boldness, cap_mm, paint_frame, side_mm
from publisher.drawing.base.canvas import FigureCanvas, type_attributes
from publisher.drawing.base.numbers import point
from publisher.drawing.base.shapes import box, svg_path
from publisher.drawing.chart.labels import Box, Wanted, place_labels
from publisher.drawing.piece.picture import greys, paint_picture
from publisher.fonts import text_width_mm
from publisher.fonts.shaping import MM_PER_PT
from publisher.model.colour import WHITE, Colour
from publisher.model.figure import Figure, weight_of
from publisher.model.look import Look
from publisher.model.pattern import YarnColour
from publisher.model.plan import ChartPlan, End
from publisher.store import NO_STORE, Store

FADED = 0.8
_EDGE_MM = 0.3
"""Below the map and at its right, for its frame."""
_LINE_MM, _SQUARE = 0.7, 0.53
"""The line between two ends; half of the square of a single end, in marks."""
_MOST_RUNS = 400
_THINNER = 0.55
_LEADER_MM, _LEADER_FROM_MM = 0.15, 2.6
_SIDE_BY_SIDE = 0.27
_LABEL_PAD_MM = 0.2
_OBSTACLE_STEP_MM = 1.0

Point = tuple[float, float]


def draw_back_maps(
    plan: ChartPlan,
    colours: Sequence[YarnColour],
    look: Look,
    width_mm: float,
    height_mm: float,
    words: Mapping[str, str],
    whole: Callable[[float], bool] | None = None,
    store: Store = NO_STORE,
) -> tuple[Figure, ...]:
    """The map, or the parts it takes for all numbers to be read, each within the box.

    `whole`: the map is wanted in one part alone, and only if this is true of its width in mm;
    else there is none, and nothing is drawn.
    """
    tasks = back_tasks(plan)
    side, above = side_mm(plan, look), above_mm(look)
    box_mm = width_mm - side - _EDGE_MM, height_mm - above - _EDGE_MM
    parts, scale = cut_back(plan, tasks, box_mm, _room_mm2(look), boldness(look) ** 2)
    views = [BackView(plan, part, scale, side, above, look) for part in parts]
    if whole is not None and not (len(views) == 1 and whole(views[0].right + _EDGE_MM)):
        return ()
    faint = _faint(colours, look)

    def draw() -> tuple[Figure, ...]:
        return tuple(_draw(view, faint, words, _MOST_RUNS) for view in views)

    told = "back", plan.digest, colours, look.key, width_mm, height_mm, sorted(words.items())
    return store.get(told, draw, weight_of)


def draw_whole_back(
    plan: ChartPlan, colours: Sequence[YarnColour], look: Look, words: Mapping[str, str]
) -> Figure:
    """The map in one part, as large as it has to be for all numbers to be read, all of it in
    strokes."""
    part, scale = uncut_back(plan, back_tasks(plan), _room_mm2(look), boldness(look) ** 2)
    view = BackView(plan, part, scale, side_mm(plan, look), above_mm(look), look)
    return _draw(view, _faint(colours, look), words, most_runs=plan.columns * plan.rows)


def _room_mm2(look: Look) -> float:
    """Return how much room a task needs on paper."""
    return look.chart.map_room_mm2 * boldness(look) ** 4


def _faint(colours: Sequence[YarnColour], look: Look) -> dict[str, Colour]:
    paints = {colour.letter: colour.srgb for colour in colours}
    shown = greys(paints) if look.mono else paints
    return {letter: paint.mix(WHITE, FADED) for letter, paint in shown.items()}


def draw_back_legend(plan: ChartPlan, look: Look, words: Mapping[str, str]) -> Figure:
    """Draw the signs of the map with what they mean and how many there are of each, a line each:
    `words` for pairs and singles."""
    style = look.type["legend"]
    canvas, width, base = FigureCanvas(), 0.0, 0.0
    kinds = (("pairs", plan.end_pairs), ("singles", plan.single_ends))
    for key, found in kinds:
        if not found:
            continue
        base += style.lead_mm
        middle = base - 0.33 * style.size_pt * MM_PER_PT
        if key == "pairs":
            canvas.stroke(f"M{point(1.0, middle)}h5", look.accent, _LINE_MM * boldness(look))
            radius = look.chart.mark_mm / 2
            _paint_dots(canvas, [(1.0, middle), (6.0, middle)], radius, look)
        else:
            _paint_squares(canvas, [(3.5, middle)], look)
        paint = look.colours[style.colour]
        width = max(width, canvas.text(9.0, base, words[key], style.face, style.size_pt, paint))
    said = "; ".join(words[key] for key, found in kinds if found)
    return canvas.figure(width, base + 0.25 * style.lead_mm, said)


def _draw(
    view: BackView, faint: Mapping[str, Colour], words: Mapping[str, str], most_runs: int
) -> Figure:
    canvas, part = FigureCanvas(), view.part
    cells = view.plan.cells[part.first_row - 1 : part.last_row]
    cells = tuple(row[part.first_cord - 1 : part.last_cord] for row in cells)
    size = (view.right - view.left, view.bottom - view.top)
    paint_picture(
        canvas, cells, faint, (view.left, view.top, *size), most_runs=most_runs, mirrored=True
    )
    paint_frame(canvas, view)
    _paint_tasks(canvas, view)
    alt = words["alt"].format(
        first_row=part.first_row,
        last_row=part.last_row,
        first_cord=part.first_cord,
        last_cord=part.last_cord,
        tasks=len(part.tasks),
    )
    return canvas.figure(view.right + _EDGE_MM, view.bottom + _EDGE_MM, alt)


def _paint_tasks(canvas: FigureCanvas, view: BackView) -> None:
    """Lines between ends that are tied, dots and squares for the ends, and their numbers."""
    look, tasks = view.look, view.part.tasks
    places = _end_places(view)
    ink = look.colours["ink"]
    pairs = [[places[end.id] for end in task.ends] for task in tasks if len(task.ends) == 2]
    labels = _place_numbers(view, tasks, places)
    _paint_leaders(canvas, view, tasks, places, labels)
    lines = (f"M{point(*start)}L{point(*end)}" for start, end in pairs)
    thin = _THINNER if look.mono else 1.0  # where the dots are no darker than the lines
    width = thin * min(_LINE_MM * boldness(look), 1.3 * view.dot)
    canvas.stroke("".join(lines), look.accent, width)
    _paint_dots(canvas, [place for pair in pairs for place in pair], view.dot, look)
    _paint_squares(canvas, [places[task.ends[0].id] for task in tasks if len(task.ends) == 1], look)
    style = look.type["map-number"]
    group = canvas.group(**type_attributes(style.face, style.size_pt), fill=str(ink))
    for task, (left, _, _, bottom) in zip(tasks, labels, strict=True):
        group.label(left + _LABEL_PAD_MM, bottom - _LABEL_PAD_MM, str(task.number))


def _paint_dots(canvas: FigureCanvas, places: Sequence[Point], radius: float, look: Look) -> None:
    """Dots as strokes of no length with round ends: they take few bytes."""
    dots = "".join(f"M{point(x, y)}h.01" for x, y in places)
    canvas.stroke(dots, look.colours["ink"], 2 * radius, stroke_linecap="round")


def _paint_squares(canvas: FigureCanvas, places: Sequence[Point], look: Look) -> None:
    half = _SQUARE * look.chart.mark_mm
    squares = (svg_path([box(-half, -half, half, half)], 1.0, *place) for place in places)
    line = {"stroke": str(look.colours["ink"]), "stroke_width": "0.4"}
    canvas.fill("".join(squares), look.colours["paper"], **line)


def _end_places(view: BackView) -> dict[str, Point]:
    """Return where each end is drawn: in the middle of its cell, or side by side with others
    there."""
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


def _place_numbers(
    view: BackView, tasks: Sequence[BackTask], places: Mapping[str, Point]
) -> list[Box]:
    style = view.look.type["map-number"]
    height = cap_mm(view.look) + 2 * _LABEL_PAD_MM
    wanted, obstacles = [], []
    for owner, task in enumerate(tasks):
        start, end = places[task.ends[0].id], places[task.ends[-1].id]
        width = text_width_mm(str(task.number), style.face, style.size_pt) + 2 * _LABEL_PAD_MM
        wanted.append(Wanted(start, end, width, height))
        half = _SQUARE * view.look.chart.mark_mm + 0.3 if start == end else view.dot + 0.1
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
    canvas: FigureCanvas,
    view: BackView,
    tasks: Sequence[BackTask],
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
