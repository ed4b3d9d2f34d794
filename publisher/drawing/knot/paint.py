"""Paint cords on a pen from the lowest layer to the highest, with a gap at every crossing."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from typing import NamedTuple

from publisher.drawing.knot.layers import CordStretch, stack
from publisher.drawing.knot.pen import Pen
from publisher.drawing.knot.scene import PicturedCord
from publisher.frozen import frozen
from publisher.knots.crossings import Crossing, find_crossings


@frozen
class Layers:
    """The cords of a picture, cut into runs that lie on one another."""

    cords: Sequence[PicturedCord]
    guides: Sequence[PicturedCord]
    crossings: Sequence[Crossing]
    runs: Sequence[CordStretch]


class ClearedStrip(NamedTuple):
    """A strip that is cleared along a cord: from where to where, and how wide."""

    drawn: PicturedCord
    start: float
    end: float
    width: float


class CordLayer(NamedTuple):
    """A layer: strips that are cleared of what lies below, then stretches of cords."""

    strips: list[ClearedStrip]
    runs: list[CordStretch]


def layered(drawn: Sequence[PicturedCord]) -> Layers:
    """Find what lies over what. Guides lie over everything and cross nothing."""
    cords = [cord for cord in drawn if cord.role != "guide"]
    guides = [cord for cord in drawn if cord.role == "guide"]
    crossings = find_crossings({cord.name: cord.curve for cord in cords})
    return Layers(cords, guides, crossings, stack(cords, crossings))


def paint(layers: Layers, pen: Pen, gap: float) -> None:
    """Draw the cords; `gap` is the strip left open on each side of a cord that crosses over."""
    paint_sheets(layers, sheets(layers, gap), pen)


def sheets(layers: Layers, gap: float) -> tuple[CordLayer, ...]:
    """Return what is drawn layer by layer, wherever and how large it is drawn."""
    by_name = {cord.name: cord for cord in layers.cords}
    found = {layer: CordLayer([], []) for layer in sorted({run.layer for run in layers.runs})}
    of_cord: dict[str, list[CordStretch]] = {name: [] for name in by_name}
    for run in layers.runs:
        found[run.layer].runs.append(run)
        of_cord[run.drawn.name].append(run)
    for crossing in layers.crossings:
        under, at = by_name[crossing.under.strand], crossing.over.u
        runs = of_cord[crossing.over.strand]
        first = bisect_left(runs, at, key=lambda run: run.end)
        last = bisect_right(runs, at, first, key=lambda run: run.start)
        for run in runs[first:last]:
            found[run.layer].strips.append(_strip(run, crossing, under, gap))
    return tuple(found.values())


def paint_sheets(layers: Layers, sheets: Sequence[CordLayer], pen: Pen) -> None:
    """Draw the layers, and what lies over them all."""
    for sheet in sheets:
        for strip in sheet.strips:
            pen.gap(*strip)
        for run in sheet.runs:
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


def _strip(run: CordStretch, crossing: Crossing, under: PicturedCord, gap: float) -> ClearedStrip:
    """The strip along the upper cord, open just as far as the lower one reaches under it."""
    sine = max(crossing.sine, 0.3)
    cosine = math.sqrt(max(0.0, 1 - sine * sine))  # a sine can be a hair more than 1
    upper = run.drawn.diameter
    reach = (under.diameter / 2 + gap + (upper / 2 + gap) * cosine) / sine
    way = run.drawn.way_at(crossing.over.u)
    start = max(run.start, run.drawn.at_way(way - reach))
    end = min(run.end, run.drawn.at_way(way + reach))
    return ClearedStrip(run.drawn, start, end, upper + 2 * gap)
