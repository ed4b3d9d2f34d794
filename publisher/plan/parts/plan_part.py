"""Turn a small knotted part into its plan: the way, the length and the legs of every cord."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from publisher.errors import Place
from publisher.knots import KnotLibrary, load_knots
from publisher.knots.lengths import NO_SWATCH
from publisher.knots.words import NO_WORDS
from publisher.model.part_plan import Leg, LegPlan, PartCordPlan, StepsPlan
from publisher.model.parts import StepsPiece
from publisher.model.pattern import Pattern
from publisher.plan.parts.mounting import PITCH, KnotExtent, NewCord, PartInWork, mount
from publisher.plan.parts.steps import work_steps
from publisher.plan.routing.yarns import round_up
from publisher.source.own_knots import FOLDER

CUT_STEP_MM = 10.0
"""Part cords are cut in whole steps of this, rounded up."""
EVEN_SHARE = 0.15
"""Legs that differ by less than this share of the longer are folded in the middle."""
_HAIR_MM = 1e-6
"""More than rounding makes of a knot's height."""


def plan_part(piece: StepsPiece, pattern: Pattern) -> StepsPlan:
    """The plan of one part. SourceError if a knot of the writer's own is drawn wrong."""
    diameters = {colour.letter: colour.yarn.diameter_mm for colour in pattern.colours}
    work = PartInWork(diameters, piece.tail_mm, _knots(pattern))
    mount(work, piece.cords, piece.bar)
    order = tuple(work.order)
    work_steps(work, piece.steps)
    cords = tuple(_cord(work, number, piece) for number in range(1, len(work.cords) + 1))
    width, height, depth = _size(work)
    seconds = piece.seconds_per_knot
    return StepsPlan(
        piece=replace(piece, place=Place("")),
        cords=cords,
        order=order,
        steps=tuple(work.steps),
        repeats=tuple(work.repeats),
        width_mm=width,
        height_mm=height,
        depth_mm=depth,
        knots=dict(work.knots),
        seconds=None if seconds is None else seconds * work.knots.total() * piece.make,
    )


def _knots(pattern: Pattern) -> KnotLibrary:
    """The package's knots, and those of the writer's own that the steps tie."""
    folder = Path(pattern.path).parent / FOLDER
    texts = {str(folder / f"{own.name}.toml"): own.text for own in pattern.own_knots}
    return load_knots(texts, NO_WORDS)


def _cord(work: PartInWork, number: int, piece: StepsPiece) -> PartCordPlan:
    """A cord's lengths: its legs' ways with a tail that can be held, and what its fold takes."""
    cord = work.cords[number - 1]
    legs = [leg for leg in work.used if leg.cord == number]
    kept = [work.tails.get(leg, piece.tail_mm) for leg in legs]
    need = [work.used[leg] + max(tail, piece.tail_mm) for leg, tail in zip(legs, kept, strict=True)]
    if len(need) == 2 and abs(need[0] - need[1]) < EVEN_SHARE * max(need):
        need = [max(need)] * 2
    ways = sum(need)
    cut = round_up((ways + cord.fixed_mm) * (1 + piece.allowance_percent / 100), CUT_STEP_MM)
    # A cord that nothing is done with, without a tail, has no length to share out.
    shares = [cut * length / ways if ways else 0.0 for length in need]
    return PartCordPlan(
        number=number,
        colour=cord.colour,
        diameter_mm=work.diameters[cord.colour],
        lay=cord.lay,
        on=cord.on,
        knot=cord.knot,
        step=cord.step,
        wraps=cord.wraps,
        legs=_legs(work, legs, kept, shares),
        used_mm=_used(work, cord, legs, piece.tail_mm),
        cut_mm=cut,
    )


def _legs(
    work: PartInWork, legs: Sequence[Leg], kept: Sequence[float], cut: Sequence[float]
) -> tuple[LegPlan, ...]:
    return tuple(
        LegPlan(leg, work.used[leg], tail, share)
        for leg, tail, share in zip(legs, kept, cut, strict=True)
    )


def _used(work: PartInWork, cord: NewCord, legs: Sequence[Leg], tail_mm: float) -> float:
    """Return what is in the part from its first knot to its last, without tails."""
    tails = (2 if cord.wraps else 1) * tail_mm if cord.fixed_mm else 0.0
    return sum(work.used[leg] for leg in legs) + cord.fixed_mm - tails


def _size(work: PartInWork) -> tuple[float, float, float]:
    """Width, height and depth of what is knotted, as soft cord is squeezed."""
    spans = work.spans
    thickest = max(work.diameters[cord.colour] for cord in work.cords)
    hanging = PITCH * sum(work.thick(leg) for leg in work.order)
    width = max([work.mounted_mm, hanging, *_widths(spans, thickest)])
    bottom = max([*work.low.values(), *(span.bottom_mm for span in spans)], default=0.0)
    depth = max([2 * thickest, *(span.depth_mm for span in spans)])
    return (
        NO_SWATCH.size(width),
        NO_SWATCH.size(max(bottom + work.top_mm, thickest)),
        NO_SWATCH.size(depth),
    )


def _widths(spans: Sequence[KnotExtent], thick_mm: float) -> Iterator[float]:
    """The width of the part at each knot. Only those that can be as low and as high are held
    against it: of thousands, a few."""
    by_top = sorted(enumerate(spans), key=lambda numbered: numbered[1].top_mm)
    tops = [span.top_mm for _, span in by_top]
    tallest = max((span.bottom_mm - span.top_mm for span in spans), default=0.0) + _HAIR_MM
    for span in spans:
        first = bisect_left(tops, span.top_mm - tallest)
        near = by_top[first : bisect_left(tops, span.bottom_mm)]
        yield _width_at(span, [other for _, other in sorted(near)], thick_mm)


def _width_at(span: KnotExtent, near: Iterable[KnotExtent], thick_mm: float) -> float:
    """A knot, those beside it in the order they were tied, and the cords that pass them."""
    beside = [span]
    for other in near:
        level = other.top_mm < span.bottom_mm and span.top_mm < other.bottom_mm
        if level and all(other.legs.isdisjoint(one.legs) for one in beside):
            beside.append(other)
    held = sum(len(one.legs) for one in beside)
    loose = max(0, span.hanging - held)
    return math.fsum(one.width_mm for one in beside) + loose * PITCH * thick_mm
