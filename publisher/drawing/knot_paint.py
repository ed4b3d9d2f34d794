"""Paint cords on a pen from the lowest layer to the highest, with a gap at every crossing."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.drawing.knot_layers import Run, stack
from publisher.drawing.knot_scene import Drawn
from publisher.drawing.pen import Pen
from publisher.frozen import frozen
from publisher.knots.crossings import Crossing, find_crossings


@frozen
class Layers:
    """The cords of a picture, cut into runs that lie on one another."""

    cords: Sequence[Drawn]
    guides: Sequence[Drawn]
    crossings: Sequence[Crossing]
    runs: Sequence[Run]


def layered(drawn: Sequence[Drawn]) -> Layers:
    """Find what lies over what. Guides lie over everything and cross nothing."""
    cords = [cord for cord in drawn if cord.role != "guide"]
    guides = [cord for cord in drawn if cord.role == "guide"]
    crossings = find_crossings({cord.name: cord.curve for cord in cords})
    return Layers(cords, guides, crossings, stack(cords, crossings))


def paint(layers: Layers, pen: Pen, gap: float) -> None:
    """Draw the cords; `gap` is the strip left open on each side of a cord that crosses over."""
    by_name = {cord.name: cord for cord in layers.cords}
    for layer in sorted({run.layer for run in layers.runs}):
        inside = [run for run in layers.runs if run.layer == layer]
        for crossing in layers.crossings:
            for run in inside:
                if _holds(run, crossing):
                    _paint_gap(run, crossing, by_name[crossing.under.strand], pen, gap)
        for run in inside:
            pen.cord(run.drawn, run.start, run.end)
        pen.end_layer()
    for guide in layers.guides:
        pen.guide(guide)
    for drawn in [*layers.cords, *layers.guides]:
        if "start" in drawn.arrows:
            pen.arrow(drawn, drawn.curve.at(0)[0], -drawn.curve.heading(0))
        if "end" in drawn.arrows:
            end = drawn.curve.segments
            pen.arrow(drawn, drawn.curve.at(end)[0], drawn.curve.heading(end))


def _holds(run: Run, crossing: Crossing) -> bool:
    over = crossing.over
    return over.strand == run.drawn.name and run.start <= over.u <= run.end


def _paint_gap(run: Run, crossing: Crossing, under: Drawn, pen: Pen, gap: float) -> None:
    """Open the strip along the upper cord just as far as the lower one reaches under it."""
    sine = max(crossing.sine, 0.3)
    cosine = (1 - sine * sine) ** 0.5
    upper = run.drawn.diameter
    reach = (under.diameter / 2 + gap + (upper / 2 + gap) * cosine) / sine
    way = run.drawn.way_at(crossing.over.u)
    start = max(run.start, run.drawn.at_way(way - reach))
    end = min(run.end, run.drawn.at_way(way + reach))
    pen.gap(run.drawn, start, end, upper + 2 * gap)
