"""Draw a template for trimming the fringe: its curve to scale, with the length at each cord."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise

from publisher.drawing.base.canvas import FigureCanvas, type_attributes
from publisher.drawing.base.numbers import face_of, number, point
from publisher.fonts import proportions, text_width_mm
from publisher.fonts.shaping import MM_PER_PT
from publisher.model.figure import Figure
from publisher.model.look import Look
from publisher.model.plan import ChartPlan
from publisher.model.reach import Box

_Point = tuple[float, float]

SCALES = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20)
"""1 mm on paper is one of these in the fringe."""
_GAP_MM = 1.2
_MARGIN_MM = 0.5
_APART_MM = 0.7
"""Between two lengths beside each other."""
_STEPS = (1, 2, 5, 10)
_EVERY = 5
"""Cords are numbered at every fifth."""
MOST_COPIED = 4
"""Copiers make drawings larger to 400 % (common practice: 25 to 400 %)."""


def draw_fringe_template(
    plan: ChartPlan,
    lengths: Sequence[str],
    look: Look,
    width_mm: float,
    height_mm: float,
    words: Mapping[str, str],
) -> tuple[Figure, int]:
    """The template and its scale: the largest at which it fits a box.

    `lengths`: what hangs below each column, in words.
    """
    style = look.type["map-number"]
    size = style.size_pt * MM_PER_PT
    cap = proportions(style.face).cap_height_em * size
    under = max(text_width_mm(text, style.face, style.size_pt) for text in lengths) + 2 * _GAP_MM
    above = cap + 2 * _GAP_MM
    longest, wide = max(plan.fringe_mm), plan.width_mm
    room = width_mm, height_mm - above - under
    sizes = ((n, wide / n + 2 * _margin(plan, cap, n), longest / n) for n in SCALES)
    fits = (n for n, across, down in sizes if across <= room[0] and down <= room[1])
    scale = next(fits, SCALES[-1])
    pitch, left, top = plan.cell.width_mm / scale, _margin(plan, cap, scale), above
    shown = _shown(plan, pitch, cap + _APART_MM)
    canvas, ink = FigureCanvas(), look.colours["ink"]
    ends = [length / scale for length in plan.fringe_mm]
    xs = [left + (column + 0.5) * pitch for column in range(plan.columns)]
    hairs = "".join(f"M{point(xs[k], top)}v{number(ends[k])}" for k in shown)
    canvas.stroke(hairs, look.colours["grid"], look.lines["hair"])
    curve = "L".join(point(x, top + end) for x, end in zip(xs, ends, strict=True))
    canvas.stroke(f"M{curve}", look.accent, 0.7, stroke_linejoin="round")
    canvas.stroke(f"M{point(left, top)}H{number(left + wide / scale)}", ink, look.lines["frame"])
    _number_cords(canvas, plan, look, xs, top - _GAP_MM, wide / scale + 2 * left)
    group = canvas.group(**type_attributes(style.face, style.size_pt), fill=str(ink))
    for k in shown:
        x, y = xs[k] + cap / 2, top + _lowest(ends, pitch, k, cap / 2) + _GAP_MM
        y += text_width_mm(lengths[k], style.face, style.size_pt)
        turned = group.group(transform=f"rotate(-90 {number(x)} {number(y)})")
        turned.label(x, y, lengths[k])
    shortest_at, longest_at = (plan.fringe_mm.index(f(plan.fringe_mm)) for f in (min, max))
    alt = words["alt"].format(
        cords=plan.columns, shortest=lengths[shortest_at], longest=lengths[longest_at]
    )
    return canvas.figure(wide / scale + 2 * left, top + longest / scale + under, alt), scale


def _margin(plan: ChartPlan, cap: float, scale: int) -> float:
    """The room beside the drawing that the outermost lengths ask for."""
    return max(_MARGIN_MM, (cap - plan.cell.width_mm / scale) / 2)


def _shown(plan: ChartPlan, pitch: float, least_mm: float) -> list[int]:
    """The columns whose lengths have room: the outermost, the longest and the shortest, and others
    at even steps between them."""
    step = next((one for one in _STEPS if one * pitch >= least_mm), _STEPS[-1])
    found = [0]
    extremes = (plan.fringe_mm.index(longest(plan.fringe_mm)) for longest in (max, min))
    even = range(step - 1, plan.columns, step)
    for column in (plan.columns - 1, *extremes, *even):
        if all(abs(column - other) * pitch >= least_mm for other in found):
            found.append(column)
    return sorted(found)


def _lowest(ends: Sequence[float], pitch: float, column: int, reach_mm: float) -> float:
    """Return how far down the curve comes within a reach to both sides of a column."""
    reach = reach_mm / pitch
    lowest = ends[column]
    for way in (-1, 1):
        whole = min(int(reach), column if way < 0 else len(ends) - 1 - column)
        last = column + way * whole
        lowest = max(lowest, *(ends[column + way * n] for n in range(whole + 1)))
        if 0 <= last + way < len(ends):
            share = min(1.0, reach - whole)
            lowest = max(lowest, ends[last] + (ends[last + way] - ends[last]) * share)
    return lowest


def _number_cords(
    canvas: FigureCanvas,
    plan: ChartPlan,
    look: Look,
    xs: Sequence[float],
    base: float,
    width: float,
) -> None:
    """The numbers of every fifth cord, of the first and of the last, where they have room."""
    style = look.type["map-number"]
    room = text_width_mm(str(plan.columns), "bold", style.size_pt) + 0.8
    marks = [cord for cord in range(1, plan.columns + 1) if cord % 5 == 0]
    if len(xs) > 1 and (xs[1] - xs[0]) * 5 < room:
        marks = [cord for cord in marks if cord % 10 == 0]
    for end in (1, plan.columns):
        if all(abs(xs[end - 1] - xs[mark - 1]) >= room for mark in marks):
            marks.append(end)
    for cord in marks:
        face, ink = face_of(cord, "sans"), look.colours["ink"]
        half = text_width_mm(str(cord), face, style.size_pt) / 2
        middle = max(half, min(xs[cord - 1], width - half))
        canvas.text(middle, base, str(cord), face, style.size_pt, ink, "middle")


def draw_fringe_sheets(
    plan: ChartPlan,
    edge_mm: float,
    look: Look,
    width_mm: float,
    height_mm: float,
    words: Mapping[str, str],
) -> tuple[Figure, ...]:
    """Draw the left half of a large fringe true to size, on as many sheets as it takes, from the
    left and from above; the right half is its mirror image.

    `edge_mm`: how far below the last row the template's straight edge lies. `width_mm` and
    `height_mm`: what a sheet has room for.
    """
    style, pitch = look.type["map-number"], plan.cell.width_mm
    head = 2 * style.size_pt * MM_PER_PT
    ends = [length - edge_mm for length in plan.fringe_mm[: (plan.columns + 1) // 2]]
    points = [((column + 0.5) * pitch, end) for column, end in enumerate(ends)]
    last = (points[-1][0] + pitch / 2, ends[-1])
    points = [(0.0, ends[0]), *points, *([last] if plan.columns % 2 == 0 else [])]
    wide, tall = points[-1][0], max(ends)
    room = height_mm - head - _MARGIN_MM
    across, down = math.ceil(wide / width_mm), math.ceil(tall / room)
    sheets: list[Figure] = []
    for sheet in range(across * down):
        left, top = sheet % across * width_mm, sheet // across * room
        right = min(left + width_mm, wide)
        near = [end for x, end in points if left - pitch < x < right + pitch]
        bottom = min(top + room, max(near))
        if bottom <= top:  # the curve has not come down to here
            continue
        canvas, box = FigureCanvas(), (left, top, right, bottom)
        _draw_cords(canvas, box, ends, pitch, head, look)
        _draw_curve(canvas, box, points, head, look)
        if top == 0:
            edge = f"M{point(0, head)}H{number(right - left)}"
            canvas.stroke(edge, look.colours["ink"], look.lines["frame"])
        alt = words["sheet_alt"].format(n=len(sheets) + 1)
        sheets.append(canvas.figure(right - left, head + bottom - top + _MARGIN_MM, alt))
    return tuple(sheets)


def _draw_cords(
    canvas: FigureCanvas, box: Box, ends: Sequence[float], pitch: float, head: float, look: Look
) -> None:
    """The cords that hang into a sheet, the first and every fifth with its number."""
    left, top, right, bottom = box
    style = look.type["map-number"]
    for column, end in enumerate(ends):
        x = (column + 0.5) * pitch
        if not left <= x <= right or end <= top:
            continue
        line = f"M{point(x - left, head)}v{number(min(end, bottom) - top)}"
        canvas.stroke(line, look.colours["grid"], look.lines["hair"])
        if (column + 1) % _EVERY == 0 or column == 0:
            at = min(max(x - left, head / 2), right - left - head / 2)
            ink, text = look.colours["ink"], str(column + 1)
            canvas.text(at, head - _GAP_MM, text, "sans", style.size_pt, ink, "middle")


def _draw_curve(
    canvas: FigureCanvas, box: Box, points: Sequence[_Point], head: float, look: Look
) -> None:
    """Draw as much of the curve as lies on a sheet."""
    left, top = box[:2]
    for one, other in pairwise(points):
        inside = _clipped(one, other, box)
        if inside:
            (x0, y0), (x1, y1) = inside
            start, end = point(x0 - left, y0 - top + head), point(x1 - left, y1 - top + head)
            canvas.stroke(f"M{start}L{end}", look.accent, 0.7, stroke_linecap="round")


def _clipped(one: _Point, other: _Point, box: Box) -> tuple[_Point, _Point] | None:
    """Return what of a line, which goes to the right, lies in a box; None where nothing does."""
    (x0, y0), (x1, y1) = one, other
    left, top, right, bottom = box
    first, last = 0.0, 1.0
    for start, way, low, high in ((x0, x1 - x0, left, right), (y0, y1 - y0, top, bottom)):
        if way == 0:
            if not low <= start <= high:
                return None
            continue
        near, far = sorted(((low - start) / way, (high - start) / way))
        first, last = max(first, near), min(last, far)
    if first >= last:
        return None
    return (
        (x0 + first * (x1 - x0), y0 + first * (y1 - y0)),
        (x0 + last * (x1 - x0), y0 + last * (y1 - y0)),
    )
