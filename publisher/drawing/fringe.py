"""Draw a template for trimming the fringe: its curve to scale, with the length at each cord."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from publisher.drawing.canvas import Canvas, type_attributes
from publisher.drawing.edges import face_of
from publisher.drawing.figure import Figure
from publisher.drawing.look import Look
from publisher.drawing.numbers import number, point
from publisher.fonts import proportions, text_width_mm
from publisher.fonts.shaping import MM_PER_PT
from publisher.plan.values import ChartPlan

SCALES = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20)
"""1 mm on paper is one of these in the fringe."""
_GAP_MM = 1.2
_STEPS = (1, 2, 5, 10)


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
    room = width_mm - 1, height_mm - above - under
    scale = next((n for n in SCALES if wide / n <= room[0] and longest / n <= room[1]), SCALES[-1])
    pitch = plan.cell.width_mm / scale
    step = next((one for one in _STEPS if one * pitch >= cap + 0.7), _STEPS[-1])
    canvas, ink = Canvas(), look.colours["ink"]
    left, top = 0.5, above
    ends = [length / scale for length in plan.fringe_mm]
    xs = [left + (column + 0.5) * pitch for column in range(plan.columns)]
    shown = [column for column in range(plan.columns) if (column + 1) % step == 0 or step == 1]
    hairs = "".join(f"M{point(xs[k], top)}v{number(ends[k])}" for k in shown)
    canvas.stroke(hairs, look.colours["grid"], look.lines["hair"])
    curve = "L".join(point(x, top + end) for x, end in zip(xs, ends, strict=True))
    accent = look.colours["ink" if look.mono else "accent"]
    canvas.stroke(f"M{curve}", accent, 0.7, stroke_linejoin="round")
    canvas.stroke(f"M{point(left, top)}H{number(left + wide / scale)}", ink, look.lines["frame"])
    _number_cords(canvas, plan, look, xs, top - _GAP_MM)
    group = canvas.group(**type_attributes(style.face, style.size_pt), fill=str(ink))
    for k in shown:
        x, y = xs[k] + cap / 2, top + ends[k] + _GAP_MM
        y += text_width_mm(lengths[k], style.face, style.size_pt)
        turned = group.group(transform=f"rotate(-90 {number(x)} {number(y)})")
        turned.label(x, y, lengths[k])
    shortest_at, longest_at = (plan.fringe_mm.index(f(plan.fringe_mm)) for f in (min, max))
    alt = words["alt"].format(
        cords=plan.columns, shortest=lengths[shortest_at], longest=lengths[longest_at]
    )
    return canvas.figure(wide / scale + 1, top + longest / scale + under, alt), scale


def _number_cords(
    canvas: Canvas, plan: ChartPlan, look: Look, xs: Sequence[float], base: float
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
        face = face_of(cord, "sans")
        ink = look.colours["ink"]
        canvas.text(xs[cord - 1], base, str(cord), face, style.size_pt, ink, "middle")
